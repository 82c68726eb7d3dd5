"""The editor's cut lists brought into the book as the current cut: read, matched to recordings, compared, kept."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from trackread.book.book import Book
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.cut import Cut, Placement, Remark, pieces_by_shot, position_at
from trackread.core.cut_change import ShotChange
from trackread.core.known_sound import KnownSound
from trackread.core.production import Production
from trackread.core.session import Session, StretchKind, Take
from trackread.core.timebase import Frame, FrameRate, Sample
from trackread.core.timecode import frame_of
from trackread.cutting.comparing import compare
from trackread.cutting.events import Terms, code_rule
from trackread.cutting.matching import Recordings, resolved
from trackread.cutting.merging import merged
from trackread.cutting.reading import read_cut
from trackread.cutting.words import in_words
from trackread.errors import CutError
from trackread.workflow.counted import counted
from trackread.workflow.current_cut import current_cut, keep_cut
from trackread.workflow.material import line_placed

FEW = 2  # lists that are told by name


@dataclass(frozen=True, slots=True)
class ListWish:
    """What the lists do not say themselves, as a person typed it; "" and () for what nobody said.

    `start` is the timecode with which the cut starts, `tracks` are those of sound that are wanted.
    """

    start: str = ""
    tracks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AddedCut:
    """A cut that was added as `number`, and what is to be told of it; `again` if it was the current one already.

    `unmatched` are sounds of no known recording, each with its place in its list and the reason.
    """

    number: int
    cut: Cut
    again: bool
    unmatched: tuple[Remark, ...]
    changes: tuple[ShotChange, ...]
    told: tuple[str, ...]

    @property
    def matched(self) -> int:
        return sum(one.sound is not None for one in self.cut.placements)


def add_lists(book: Book, paths: Sequence[Path], wish: ListWish, author: str) -> AddedCut:
    """Adds the cut that some lists are of, with what people made by hand in the one before.

    Raises CutError with everything that is wrong in the lists, each with its line, and ClashError.
    """
    before = current_cut(book)
    read = read_cut(paths, terms_of(book, wish))
    check_fits(read, book.production)
    found = with_tracks(read, wish.tracks)
    matched, unmatched = match_all(found, Recordings(tuple(known_sounds(book))))
    cut = without_doubles(merged(matched, before.cut), book) if before.number else matched
    changes = compare(before.cut, cut) if before.number else ()
    what = what_changed(changes) if before.number else f"{counted(len(cut.shots), 'shot')}"
    names = [path.name for path in paths]
    number = keep_cut(book, cut, f"{told_lists(names)}: {what}", author, after=before.number, lists=names)
    told = [text for one in changes for text in in_words(one, first_frame=book.production.first_frame)]
    return AddedCut(number, cut, number == before.number, tuple(unmatched), tuple(changes), tuple(told))


def terms_of(book: Book, wish: ListWish) -> Terms:
    """What the production says of all its lists. Raises TimecodeError for a start that is none."""
    production = book.production
    return Terms(
        rate=production.rate,
        code=code_rule(production.shot_code) if production.shot_code else None,
        start=Frame(frame_of(wish.start, production.rate)) if wish.start else None,
        first_frame=production.first_frame,
    )


def check_fits(cut: Cut, production: Production) -> None:
    """Raises CutError unless the lists have shots, and count as the production does."""
    if not cut.shots:
        raise CutError("no list has a picture, so there would be no shots: add all lists of the cut at once")
    if cut.rate != production.rate:
        raise CutError(
            f"the lists count {cut.rate.name}, and the production {production.rate.name}: export them as the "
            "production counts, or write that rate in production.toml"
        )


def with_tracks(cut: Cut, tracks: Sequence[str]) -> Cut:
    """The cut with the sounds of some tracks only. Raises CutError for a track that it does not have."""
    there = list(dict.fromkeys(track for one in cut.placements for track in one.tracks))
    wanted = [track.strip().upper() for track in tracks]
    if lost := [track for track in wanted if track not in map(str.upper, there)]:
        raise CutError(f"no list has a track {', '.join(lost)}: there are {', '.join(there) or 'none'}")
    if not wanted:
        return cut
    kept = tuple(one for one in cut.placements if any(track.upper() in wanted for track in one.tracks))
    return replace(cut, placements=kept)


def known_sounds(book: Book) -> Iterator[KnownSound]:
    """The recordings of all sessions, by the names of their files and reels, and all takes by theirs."""
    recordings = {session.id: session for session in sessions(book)}
    for session in recordings.values():
        yield KnownSound(session.name, session.sound, Sample(0), session.sound.length, other_names(session))
    for take in takes(book):
        if take.kind is StretchKind.TAKE:
            sound, stretch = recordings[take.session].sound, take.stretch
            yield KnownSound(take.name, sound, stretch.start, stretch.stop, (take.stretch_name,))


def other_names(session: Session) -> tuple[str, ...]:
    """What a list may call a recording besides its file: the reel that the recorder noted, its scene and take."""
    notes = session.notes
    slate = f"{notes.scene}-{notes.take}" if notes.scene and notes.take else ""
    return tuple(name for name in (notes.tape, slate) if name)


def match_all(cut: Cut, recordings: Recordings) -> tuple[Cut, list[Remark]]:
    """The cut with its sounds as pieces of recordings, and remarks on those that are of none, or of several."""
    placed: list[Placement] = []
    unmatched: list[Remark] = []
    for one in cut.placements:
        match = recordings.match(one, cut.rate)
        if len(match.found) == 1:
            placed.append(resolved(one, match.found[0], cut.rate))
        else:
            placed.append(one)
            unmatched.append(Remark(one.place, match.reason))
    return replace(cut, placements=tuple(placed)), unmatched


def without_doubles(cut: Cut, book: Book) -> Cut:
    """The cut without lines placed by hand of which the lists play a take in the same shot; remarks tell of them."""
    by_line: defaultdict[str, list[Take]] = defaultdict(list)
    for take in takes(book, kind=StretchKind.TAKE):
        if take.line:
            by_line[take.line].append(take)
    sounds = {session.id: session.sound.digest for session in sessions(book)}
    gone: dict[int, Remark] = {}
    for shot, pieces in pieces_by_shot(cut).items():
        placed = [piece.placement for piece in pieces]
        lists = [one for one in placed if not one.place.by_hand]
        for one in placed:
            its = by_line.get(line_placed(one), ())
            for take in (take for take in its if any(plays(other, take, sounds, cut.rate) for other in lists)):
                told = f"{one.source.clip} was placed by hand in {shot}, and the list plays {take.name}: left out"
                gone[id(one)] = Remark(one.place, told)
    kept = tuple(one for one in cut.placements if id(one) not in gone)
    return replace(cut, placements=kept, remarks=(*cut.remarks, *gone.values()))


def plays(one: Placement, take: Take, sounds: Mapping[int, str], rate: FrameRate) -> bool:
    """Whether any of a take is heard in a placement."""
    if one.sound is None or one.start is None or one.sound.digest != sounds[take.session]:
        return False
    ends = sorted((one.start, position_at(one, one.heard_stop, rate)))
    return ends[0] < take.stretch.stop and take.stretch.start < ends[1]


def told_lists(names: Sequence[str]) -> str:
    """The lists by name, the first of many only: a cut of a feature has a dozen."""
    return ", ".join(names) if len(names) <= FEW else f"{names[0]} and {len(names) - 1} more"


def what_changed(changes: Sequence[ShotChange]) -> str:
    """How many shots are what they were and how many are not: `3 shots changed, 1 new, 2 gone`."""
    new = sum(one.before is None for one in changes)
    gone = sum(one.after is None for one in changes)
    changed = sum(one.first is not None for one in changes) - new - gone
    return f"{counted(changed, 'shot')} changed, {new} new, {gone} gone"
