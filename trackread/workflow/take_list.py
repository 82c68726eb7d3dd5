"""The takes and other stretches of all sessions as rows of a list, chosen by line, session, character or scene."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.drafts import KnownLine, lines_by_id, no_line
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.session import Session, StretchKind, Take
from trackread.core.timebase import FrameRate, resampled
from trackread.core.timecode import label_of_sample
from trackread.workflow.cast import Cast, cast_of
from trackread.workflow.drafts import check_scene, same_scene
from trackread.workflow.reading_state import ReadingState, reading_states
from trackread.workflow.typed import line_name, session_number

GUESSES = 3  # told of a stretch that nobody is sure of


@dataclass(frozen=True, slots=True)
class Choice:
    """Which stretches are asked for, as a person typed it; None and False ask for all."""

    line: str | None = None
    session: str | None = None
    character: str | None = None
    scene: str | None = None
    unsure: bool = False
    circled: bool = False


@dataclass(frozen=True, slots=True)
class GuessRow:
    """A line that a stretch may be a take of, who says it, and the probability, 0 to 1."""

    line: str
    character: str
    words: str
    likely: float
    whole: str


@dataclass(frozen=True, slots=True)
class TakeRow:
    """A stretch as a list has it: what it is, and where in its session.

    `whole`, `line` and `reading` are "" unless it is a take, `guesses` are there only if nobody is sure. `start` is
    the timecode of the recording; `first` and `stop` are its samples, `milliseconds` how long it is.
    """

    name: str
    stretch: str
    kind: str
    line: str
    scene: str
    character: str
    words: str
    whole: str
    circled: bool
    stand_in: bool
    start: str
    first: int
    stop: int
    sample_rate: int
    milliseconds: int
    reading: str
    heard: str
    guesses: tuple[GuessRow, ...]
    decided_by: str


def take_rows(book: Book, choice: Choice) -> tuple[TakeRow, ...]:
    """The stretches that are asked for, by session and place.

    One that nobody is sure of is of a line, character or scene if a guess is. Raises BookError for a line, session,
    character or scene that there is none of.
    """
    lines = lines_by_id(book)
    session = session_number(choice.session) if choice.session else None
    kind = StretchKind.UNSURE if choice.unsure else None
    wanted = lines_chosen(lines, choice, cast_of(book.production, [one.line.character for one in lines.values()]))
    found = [
        take
        for take in takes(book, session=session, kind=kind)
        if (wanted is None or not wanted.isdisjoint(may_be_of(take))) and (take.circled or not choice.circled)
    ]
    states = reading_states(book, found, {id: one.line.text for id, one in lines.items()})
    recordings = {one.id: one for one in sessions(book)}
    rate = book.production.rate
    return tuple(
        row_of(take, recordings[take.session], lines, rate, state=states.get((take.session, take.place)))
        for take in found
    )


def lines_chosen(lines: Mapping[str, KnownLine], choice: Choice, cast: Cast) -> set[str] | None:
    """The lines that are asked for, None if any will do. Raises BookError where there is none such."""
    if not (choice.line or choice.character or choice.scene):
        return None
    chosen = set(lines)
    if choice.line:
        line = line_name(choice.line)
        if line not in lines:
            raise no_line(line)
        chosen = {line}
    if choice.character:
        name = cast.known(choice.character)
        chosen = {id for id in chosen if cast.name(lines[id].line.character) == name}
    if choice.scene:
        check_scene(choice.scene, [one.line for one in lines.values()])
        chosen = {id for id in chosen if same_scene(lines[id].line.scene, choice.scene)}
    return chosen


def may_be_of(take: Take) -> Iterator[str]:
    """The line of a take, or those that an unsure stretch may be of; none for a slate or chatter."""
    if take.line:
        yield take.line
    elif take.kind is StretchKind.UNSURE:
        yield from (guess.line for guess in take.stretch.guesses)


def row_of(
    take: Take, session: Session, lines: Mapping[str, KnownLine], rate: FrameRate, *, state: ReadingState | None
) -> TakeRow:
    """One row of the list."""
    line = lines[take.line].line if take.line else None
    stretch, sample_rate = take.stretch, session.sound.sample_rate
    unsure = take.kind is StretchKind.UNSURE
    return TakeRow(
        name=take.name,
        stretch=take.stretch_name,
        kind=take.kind.value,
        line=line.id if line else "",
        scene=line.scene if line else "",
        character=line.character if line else "",
        words=line.text if line else "",
        whole=take.wholeness.value if take.wholeness else "",
        circled=take.circled,
        stand_in=take.stand_in,
        start=label_of_sample(session.sound.start + stretch.start, sample_rate, rate)[0],
        first=stretch.start,
        stop=stretch.stop,
        sample_rate=sample_rate,
        milliseconds=resampled(stretch.stop - stretch.start, sample_rate, 1000),
        reading=state.value if state else "",
        heard=stretch.heard,
        guesses=tuple(guess_rows(take, lines)) if unsure else (),
        decided_by=take.decided_by,
    )


def guess_rows(take: Take, lines: Mapping[str, KnownLine]) -> Iterator[GuessRow]:
    """The likeliest lines of a stretch."""
    for guess in take.stretch.guesses[:GUESSES]:
        line = lines[guess.line].line
        yield GuessRow(line.id, line.character, line.text, guess.likely, guess.wholeness.value)
