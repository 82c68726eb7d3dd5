"""How far a production is: what is recorded of each scene and character, its sessions, and what is to be done."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from trackread.book.book import Book
from trackread.book.cuts import cut_number
from trackread.book.drafts import current_script
from trackread.book.takes import takes
from trackread.core.script import ScriptLine
from trackread.core.session import StretchKind, Take, Wholeness
from trackread.workflow.cast import Cast, cast_of
from trackread.workflow.reading_state import ReadingState, TakePlace, reading_states
from trackread.workflow.session_status import SessionStatus, session_statuses
from trackread.workflow.steps import next_steps


class By(StrEnum):
    """What the lines are gathered by first."""

    SCENE = "scene"
    CHARACTER = "character"


@dataclass(frozen=True, slots=True)
class Tally:
    """What there is of some lines.

    `lines` are `whole` (a take says all of it), `cut_off` (takes, but each breaks off) or `missing`. `stand_in` are
    those of the whole ones that only a stand-in has said, `unchosen` those without a circled take. `unsure` stretches
    may be takes of the lines. `takes` are `read`, or want to be.
    """

    name: str
    lines: int
    whole: int
    circled: int
    unchosen: int
    stand_in: int
    cut_off: int
    missing: int
    unsure: int
    takes: int
    read: int


@dataclass(frozen=True, slots=True)
class Section:
    """A scene with its characters, or a character with its scenes."""

    tally: Tally
    parts: tuple[Tally, ...]


@dataclass(frozen=True, slots=True)
class Status:
    """The whole of it; `next` says what wants doing, in the order of doing it."""

    by: By
    sections: tuple[Section, ...]
    total: Tally
    sessions: tuple[SessionStatus, ...]
    next: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """What was found in the sessions: takes by line, unsure stretches by each line they may be of, and readings."""

    takes: Mapping[str, Sequence[Take]]
    unsure: Mapping[str, Sequence[TakePlace]]
    states: Mapping[TakePlace, ReadingState]


def status(book: Book, by: By) -> Status:
    """How far the production is, by scene or by character."""
    script = current_script(book)
    lines = script.lines if script else ()
    every = takes(book)
    found = found_in(book, every, lines)
    cast = cast_of(book.production, [line.character for line in lines])
    total = tally("all", lines, found)
    sessions = session_statuses(book, every)
    steps = next_steps(total, sessions, every, lines, has_cut=cut_number(book) > 0)
    return Status(by, sections_of(lines, by, cast, found), total, sessions, steps)


def found_in(book: Book, every: Sequence[Take], lines: Sequence[ScriptLine]) -> Found:
    """All stretches by line."""
    by_line: defaultdict[str, list[Take]] = defaultdict(list)
    unsure: defaultdict[str, list[TakePlace]] = defaultdict(list)
    for take in every:
        if take.line:
            by_line[take.line].append(take)
        elif take.kind is StretchKind.UNSURE:
            for guess in take.stretch.guesses:
                unsure[guess.line].append((take.session, take.place))
    return Found(by_line, unsure, reading_states(book, every, {line.id: line.text for line in lines}))


def sections_of(lines: Sequence[ScriptLine], by: By, cast: Cast, found: Found) -> tuple[Section, ...]:
    """The lines gathered by scene and within it by character, or the other way round, in the script's order."""
    gathered: dict[str, dict[str, list[ScriptLine]]] = {}
    for line in lines:
        outer, inner = line.scene or "no scene", cast.name(line.character)
        if by is By.CHARACTER:
            outer, inner = inner, outer
        gathered.setdefault(outer, {}).setdefault(inner, []).append(line)
    return tuple(
        Section(
            tally(name, [line for some in parts.values() for line in some], found),
            tuple(tally(part, some, found) for part, some in parts.items()),
        )
        for name, parts in gathered.items()
    )


def tally(name: str, lines: Sequence[ScriptLine], found: Found) -> Tally:
    """What there is of these lines."""
    of_lines = [found.takes.get(line.id, ()) for line in lines]
    whole = [[take for take in some if take.wholeness is not Wholeness.CUT_OFF] for some in of_lines]
    chosen = [any(take.circled for take in some) for some in of_lines]
    states = [found.states[take.session, take.place] for some in of_lines for take in some]
    return Tally(
        name=name,
        lines=len(lines),
        whole=sum(map(bool, whole)),
        circled=sum(chosen),
        unchosen=sum(bool(its_whole) and not one for its_whole, one in zip(whole, chosen, strict=True)),
        stand_in=sum(bool(some) and all(take.stand_in for take in some) for some in whole),
        cut_off=sum(bool(some) and not its_whole for some, its_whole in zip(of_lines, whole, strict=True)),
        missing=sum(not some for some in of_lines),
        unsure=len({place for line in lines for place in found.unsure.get(line.id, ())}),
        takes=len(states),
        read=states.count(ReadingState.READ),
    )
