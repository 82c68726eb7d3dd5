"""A voice session from its file to takes that are read: each step is saved as it is done, and none is done twice."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import cast

from trackread.book.book import Book
from trackread.book.drafts import lines_by_id
from trackread.book.readings import ReadingKey, keys_of, save_reading
from trackread.book.sessions import add_session, is_numbered, number_takes, pieces_done, save_piece, sessions
from trackread.book.sounds import keep_sound, printable, sound_path
from trackread.book.takes import circle, takes
from trackread.core.session import Session, StretchKind, Take
from trackread.errors import BookError, SoundError
from trackread.reading.long_recordings import ROWS, LongRecording, levels, open_recording
from trackread.sessions.pieces import piece_edges
from trackread.sessions.recorder import recorder_notes
from trackread.workflow.cast import cast_of
from trackread.workflow.failure import Failure
from trackread.workflow.finding_takes import Wanted
from trackread.workflow.reading_state import ReadingState, reading_states
from trackread.workflow.session_tasks import Place, ToHear, ToRead, Words, listen, read
from trackread.workflow.take_readings import key_of, pins_for, pronunciations_digest, pronunciations_of
from trackread.workflow.workers import Workers

Progress = Callable[[float], None]
Watch = Callable[[str], AbstractContextManager[Progress]]  # a progress bar for what is being done
RECORDER = "the recorder"  # who circled what iXML says is circled


@dataclass(frozen=True, slots=True)
class Arrival:
    """A file that comes from the studio, and what is known of it."""

    path: Path
    channel: int | None = None
    characters: tuple[str, ...] = ()
    stand_in: bool = False
    in_place: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a session: its takes and other stretches, and what a person should know."""

    session: Session
    takes: tuple[Take, ...]
    remarks: tuple[str, ...]


def bring_in(book: Book, arrival: Arrival, author: str, workers: Workers, watch: Watch) -> Outcome:
    """Adds a session, finds its takes and reads them; one that was begun before goes on where it stopped.

    Raises SoundError for a file that cannot be read, BookError where there is no script or no such character.
    """
    wanted = wanted_lines(book, arrival.characters)
    recording = open_recording(arrival.path)
    noted = recorder_notes(arrival.path)
    with watch(f"keeping {arrival.path.name}") as progress:
        sound = recording.sound(noted.start)
        edges = edges_of(recording, arrival.channel)
        keep_sound(book, arrival.path, sound, recording.format.channels, in_place=arrival.in_place, progress=progress)
    session = add_session(
        book,
        sound,
        printable(arrival.path.name),
        channel=arrival.channel,
        characters=arrival.characters,
        stand_in=arrival.stand_in,
        notes=noted.notes,
        author=author,
    )
    with watch(f"listening to {session.name}") as progress:
        listen_through(book, session, edges, wanted, workers, progress)
    circle_as_noted(book, session)
    found = takes(book, session=session.id)
    with watch(f"reading the takes of {session.name}") as progress:
        failures = read_takes(book, found, workers, progress)
    return Outcome(session, found, (*recording.format.remarks, *noted.remarks, *failures))


def wanted_lines(book: Book, characters: Sequence[str]) -> tuple[Wanted, ...]:
    """The lines of the current draft that may be said. Raises BookError if there are none."""
    current = [known.line for known in lines_by_id(book).values() if known.current]
    if not current:
        raise BookError(f"{book.folder} has no script yet: add it with `trackread script add FILE`")
    cast = cast_of(book.production, (line.character for line in current))
    speakers = {cast.name(line.character) for line in current}
    wanted = {cast.name(name) for name in characters} or speakers
    if missing := sorted(wanted - speakers):
        raise BookError(f"{', '.join(missing)} has no line in the script: {', '.join(sorted(speakers))} have")
    return tuple(Wanted(line.id, line.text) for line in current if cast.name(line.character) in wanted)


def edges_of(recording: LongRecording, channel: int | None) -> list[int]:
    """Where a recording is cut into parts, in samples. Raises SoundError as `levels` does."""
    rows = piece_edges(levels(recording, channel))
    edges = [row * recording.format.sample_rate // ROWS for row in rows[:-1]]
    return [*edges, recording.format.frames]


def listen_through(
    book: Book, session: Session, edges: Sequence[int], wanted: Sequence[Wanted], workers: Workers, progress: Progress
) -> None:
    """Finds what is said in every part that has not been listened to. Raises BookError where one cannot be."""
    if is_numbered(book, session.id):
        return
    done = pieces_done(book, session.id)
    words = words_of(book)
    path = sound_path(book, session.sound.digest)
    tasks = [
        ToHear(Place(path, session.sound, session.channel, *piece), tuple(wanted), words)
        for piece in parts_left(edges, done)
    ]
    for count, (task, found) in enumerate(workers.done(listen, tasks), 1):
        if isinstance(found, Failure):
            raise BookError(f"S{session.id} cannot be listened through: {found.reason}")
        save_piece(book, session.id, (task.place.start, task.place.stop), found)
        progress((len(done) + count) / (len(done) + len(tasks)))
    number_takes(book, session.id)


def parts_left(edges: Sequence[int], done: Collection[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """The parts between the edges that are not done; an earlier version may have cut at others."""
    every = sorted({*edges, *(edge for piece in done for edge in piece)})
    for start, stop in pairwise(every):
        if not any(first <= start and stop <= last for first, last in done):
            yield start, stop


def words_of(book: Book) -> Words:
    return Words(pronunciations_of(book.folder), pronunciations_digest(book.folder))


def circle_as_noted(book: Book, session: Session) -> None:
    """Circles the take that the recorder says is circled, if the file holds just one and nobody has decided of it."""
    found = takes(book, session=session.id, kind=StretchKind.TAKE)
    if session.notes.circled and len(found) == 1 and not found[0].decided_by:
        circle(book, found[0].name, RECORDER)


def read_takes(book: Book, found: Sequence[Take], workers: Workers, progress: Progress) -> tuple[str, ...]:
    """Reads those of the takes that want it, saves each as it is done, and gives what could not be read, and why."""
    every = tuple(tasks_for(book, found))
    failures = [task.reason for _, _, task in every if isinstance(task, Failure)]
    waiting = {task: (take, key) for take, key, task in every if isinstance(task, ToRead)}
    for count, (task, plain) in enumerate(workers.done(read, waiting), 1):
        take, key = waiting[task]
        if isinstance(plain, Failure):
            failures.append(f"{take.name} cannot be read: {plain.reason}")
        else:
            save_reading(book, key, cast(Mapping[str, object], plain))
        progress(count / len(waiting))
    return tuple(dict.fromkeys(failures))


def tasks_for(book: Book, found: Sequence[Take]) -> Iterator[tuple[Take, ReadingKey, ToRead | Failure]]:
    """The takes whose lines are in the current draft and that have no reading of these words by this engine.

    A Failure stands for one whose recording is missing.
    """
    texts = {id: known.line.text for id, known in lines_by_id(book).items() if known.current}
    known = {session.id: session for session in sessions(book)}
    states = reading_states(book, found, texts)
    words = words_of(book)
    for take in found:
        state = states.get((take.session, take.place), ReadingState.READ)
        if take.kind is StretchKind.TAKE and take.line and state is not ReadingState.READ:
            session, text = known[take.session], texts[take.line]
            pins = pins_for(book, take, session)
            key = key_of(take, session, text, pronunciations=words.digest, pins=pins)
            place = place_of(book, session, take)
            if isinstance(place, Failure):
                yield take, key, place
            else:
                yield take, key, ToRead(place, text, words, book.production.rate, pins)


def place_of(book: Book, session: Session, take: Take) -> Place | Failure:
    """Where the sound of a take lies."""
    try:
        path = sound_path(book, session.sound.digest)
    except SoundError as error:
        return Failure(f"takes of S{session.id} cannot be read: {error}")
    return Place(path, session.sound, session.channel, take.stretch.start, take.stretch.stop)


def read_waiting(book: Book, workers: Workers, watch: Watch) -> tuple[int, tuple[str, ...]]:
    """Reads every take of the production that wants it; gives how many were read, and what could not be and why."""
    found = takes(book, kind=StretchKind.TAKE)
    before = len(keys_of(book))
    with watch("reading takes") as progress:
        failures = read_takes(book, found, workers, progress)
    return len(keys_of(book)) - before, failures
