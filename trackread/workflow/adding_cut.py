"""The editor's cut lists brought into the book as the current cut: read, matched to recordings, compared, kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from trackread.book.book import Book
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.cut import Cut, KnownSound, Placement, Remark, pieces_by_shot
from trackread.core.cut_change import ShotChange
from trackread.core.session import Session, StretchKind
from trackread.core.timebase import Frame, Sample
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
from trackread.workflow.material import is_line_by_hand, with_chosen_takes


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
    found = with_tracks(read_cut(paths, terms_of(book, wish)), wish.tracks)
    matched, unmatched = match_all(found, Recordings(tuple(known_sounds(book))))
    cut = with_lines(merged(matched, with_takes(book, before.cut))) if before.number else matched
    changes = compare(before.cut, cut) if before.number else ()
    what = what_changed(changes) if before.number else f"{counted(len(cut.shots), 'shot')}"
    names = [path.name for path in paths]
    number = keep_cut(book, cut, f"{', '.join(names)}: {what}", author, after=before.number, lists=names)
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


def with_takes(book: Book, cut: Cut) -> Cut:
    """The cut with the chosen take of every line that is placed by hand, so that it is known if lists play it too."""
    return with_chosen_takes(cut, takes(book), {session.id: session for session in sessions(book)})


def with_lines(cut: Cut) -> Cut:
    """The cut with lines that are placed by hand as lines again, for as long as their shot has room."""
    shots = {shot.name: shot for shot in cut.shots}
    room = {id(piece.placement): shots[name].stop for name, pieces in pieces_by_shot(cut).items() for piece in pieces}
    placed = (
        replace(one, sound=None, start=None, length=Frame(room[id(one)] - one.at))
        if is_line_by_hand(one) and id(one) in room
        else one
        for one in cut.placements
    )
    return replace(cut, placements=tuple(placed))


def what_changed(changes: Sequence[ShotChange]) -> str:
    """How many shots are what they were and how many are not: `3 shots changed, 1 new, 2 gone`."""
    new = sum(one.before is None for one in changes)
    gone = sum(one.after is None for one in changes)
    changed = sum(one.first is not None for one in changes) - new - gone
    return f"{counted(changed, 'shot')} changed, {new} new, {gone} gone"
