"""What sheets are made from, as the book has it at one moment: cut, takes, lines, notes, readings.

Readings are known by their numbers here; they are fetched when a sheet is made.
"""

import re
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote, all_corrections
from trackread.book.drafts import KnownLine, lines_by_id, texts_by_line
from trackread.book.readings import ReadingNote, Spoken, newest_notes
from trackread.book.sessions import sessions
from trackread.book.shot_notes import ShotNote, shot_notes
from trackread.book.takes import takes
from trackread.core.cut import Cut, Piece, Placement, pieces_by_shot
from trackread.core.production import Production
from trackread.core.script import ID
from trackread.core.session import Session, Take
from trackread.core.timebase import Frame, frames_covering
from trackread.workflow.cast import Cast, cast_of
from trackread.workflow.choosing import choice_of
from trackread.workflow.current_cut import NumberedCut, cut_with_shots
from trackread.workflow.issued_shots import IssuedShot, issued_shots
from trackread.workflow.kits import KitInUse, kits_in
from trackread.workflow.take_readings import digest_of


@dataclass(frozen=True, slots=True)
class Material:
    """All that sheets are made from.

    `heard_in` are the sessions of each recording, one for each channel that was listened to; `takes` are all stretches
    of each session in order. `spoken_in` says who speaks in each scene of the current draft, `cast` who that is. `kits`
    are all kits of mouths, and `issued` the shots that are out; of these only those are asked for that wear mouths.
    """

    production: Production
    number: int
    cut: Cut
    pieces: Mapping[str, tuple[Piece, ...]]
    sessions: Mapping[int, Session]
    heard_in: Mapping[str, Sequence[int]]
    takes: Mapping[int, Sequence[Take]]
    lines: Mapping[str, KnownLine]
    texts: Mapping[str, tuple[str, ...]]
    readings: Mapping[Spoken, ReadingNote]
    corrections: Mapping[tuple[int, int], tuple[CorrectionNote, ...]]
    notes: Mapping[str, Mapping[str, ShotNote]]
    spoken_in: Mapping[str, tuple[str, ...]]
    cast: Cast
    kits: tuple[KitInUse, ...]
    issued: Mapping[str, IssuedShot]

    def takes_between(self, digest: str, first: int, stop: int) -> list[Take]:
        """The stretches of a recording that have any of its samples from `first` to before `stop`."""
        found = []
        for session in self.heard_in.get(digest, ()):
            every = self.takes.get(session, ())
            low = max(bisect_right(every, first, key=start_of) - 1, 0)
            some = every[low : bisect_left(every, stop, key=start_of)]
            found += [take for take in some if take.stretch.stop > first]
        return found


def start_of(take: Take) -> int:
    return take.stretch.start


def gather(book: Book, numbered: NumberedCut | None = None) -> Material:
    """The material of a production as it is now, in its current cut or in another.

    Raises CutError if there is no shot.
    """
    numbered = numbered or cut_with_shots(book)
    recordings = {session.id: session for session in sessions(book)}
    every = takes(book)
    cut = with_chosen_takes(numbered.cut, every, recordings)
    by_session: defaultdict[int, list[Take]] = defaultdict(list)
    for take in sorted(every, key=start_of):
        by_session[take.session].append(take)
    heard_in: defaultdict[str, list[int]] = defaultdict(list)
    for session in recordings.values():
        heard_in[session.sound.digest].append(session.id)
    lines = lines_by_id(book)
    cast = cast_of(book.production)
    kits = tuple(of_cast(one, cast) for one in kits_in(book.folder))
    return Material(
        production=book.production,
        number=numbered.number,
        cut=cut,
        pieces=pieces_by_shot(cut),
        sessions=recordings,
        heard_in=heard_in,
        takes=by_session,
        lines=lines,
        texts=texts_by_line(book),
        readings=newest_notes(book),
        corrections=all_corrections(book),
        notes=shot_notes(book),
        spoken_in=speakers_by_scene(lines, cast),
        cast=cast,
        kits=kits,
        issued=issued_shots(book) if kits else {},
    )


def of_cast(one: KitInUse, cast: Cast) -> KitInUse:
    """A kit as that of its character's own name, whatever it calls it."""
    return replace(one, kit=replace(one.kit, character=cast.name(one.kit.character)))


def speakers_by_scene(lines: Mapping[str, KnownLine], cast: Cast) -> dict[str, tuple[str, ...]]:
    """Everybody who speaks in each scene, in the order of speaking."""
    found: defaultdict[str, dict[str, None]] = defaultdict(dict)
    for known in lines.values():
        if known.current:
            found[known.line.scene][cast.name(known.line.character)] = None
    return {scene: tuple(names) for scene, names in found.items()}


def with_chosen_takes(cut: Cut, every: Sequence[Take], recordings: Mapping[int, Session]) -> Cut:
    """The cut with the take that is meant wherever only a line is placed, as long as that is, within its shot."""
    wanted = {line for one in cut.placements if (line := line_placed(one))}
    if not wanted:
        return cut
    by_line: defaultdict[str, list[Take]] = defaultdict(list)
    for take in every:
        if take.line in wanted:
            by_line[take.line].append(take)
    placed = [chosen(one, by_line, recordings, cut) for one in cut.placements]
    return replace(cut, placements=tuple(placed))


def line_placed(one: Placement) -> str:
    """The line that is placed by hand, without saying which take; "" for any other placement."""
    return one.source.clip if one.place.by_hand and one.sound is None and ID.fullmatch(one.source.clip) else ""


def chosen(
    one: Placement, by_line: Mapping[str, Sequence[Take]], recordings: Mapping[int, Session], cut: Cut
) -> Placement:
    """A placement of a line as that of its take, any other as it is."""
    take = choice_of(by_line.get(line_placed(one), ()))
    return one if take is None else placed_take(one, take, recordings[take.session], cut)


def placed_take(one: Placement, take: Take, session: Session, cut: Cut) -> Placement:
    """A placement that plays a take from so many seconds after its beginning; no longer than the take, nor than it was.

    `one.length` is what there is room for.
    """
    sound, stretch = session.sound, take.stretch
    start = stretch.start + one.source.start * sound.sample_rate
    left = frames_covering(stretch.stop - stretch.start, sound.sample_rate, cut.rate)
    passed = one.source.start * cut.rate.per_second
    length = max(1, min(one.length, left - passed.numerator // passed.denominator))
    return replace(one, sound=sound, start=start, length=Frame(length))


def scene_rule(production: Production) -> re.Pattern[str] | None:
    """The rule by which the code of a shot gives its scene, if the production has one."""
    return re.compile(production.scene_code) if production.scene_code else None


def reading_of(material: Material, take: Take) -> tuple[ReadingNote | None, str]:
    """The reading that counts of a take and the words it was read with: the newest words with which it was read."""
    session, span = material.sessions[take.session], take.stretch
    for text in dict.fromkeys(material.texts.get(take.line or "", ())):
        key = (session.sound.digest, session.channel, span.start, span.stop, digest_of(text))
        if key in material.readings:
            return material.readings[key], text
    return None, ""
