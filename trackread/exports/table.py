"""Sheets as two tables: one of frames, with a row for every frame of every shot, and one of lines.

A column of texts is followed by one of numbers. A text stands on the frame where it starts, and the number beside it
says for how many frames it is held, that one included; on the other frames both are empty. So the rows that have a
text are a list of what there is and for how long. What began before the shot stands on its first frame, with `…`
before it; so does a stress that goes on where another ends. `pitch` says how it turns on a syllable that starts, and
has no number; `main` after a stress marks the main beat of a phrase.

`frame` is numbered as on the printed sheet, `timecode` is that of the film. Whoever has no voice in a shot has nothing
but empty cells there.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from trackread.core.rows import Held, held, voice_rows
from trackread.core.sheet import Sheet, Voice
from trackread.core.timebase import Frame
from trackread.core.timecode import label_of
from trackread.exports.runs import runs_of
from trackread.exports.shot import ExportedShot, Film, characters_of

Value = str | int
Record = tuple[Value, ...]

HELD = "frames"  # for how many a text is held
PITCH = "pitch"
SHOT = ("shot", "scene", "frame", "timecode")
OF_VOICE = ("word", "sound", "stress", PITCH, "event", "manner", "departure", "mouth")
OF_SHOT = ("action", "camera", "position")
LINES = ("shot", "scene", "frame", "timecode", HELD, "line", "take", "character", "extension", "text")
MAIN = ", main"
EMPTY = ""


@dataclass(frozen=True, slots=True)
class Table:
    """`count` rows, made anew by each call of `rows`, below a `heading` that names their columns."""

    name: str
    heading: tuple[str, ...]
    count: int
    rows: Callable[[], Iterator[Record]]


def frames_table(film: Film) -> Table:
    """A row for every frame of every shot."""
    characters = characters_of(film.shots)
    count = sum(shot.sheet.length for shot in film.shots)
    return Table("frames", tuple(heading(characters)), count, partial(frame_rows, film, characters))


def lines_table(film: Film) -> Table:
    """A row for every line, or part of one, that is heard in a shot."""
    count = sum(len(shot.sheet.lines) for shot in film.shots)
    return Table("lines", LINES, count, partial(line_rows, film))


def heading(characters: tuple[str, ...]) -> Iterator[str]:
    """The names of the columns of frames."""
    yield from SHOT
    for character in characters:
        for name in OF_VOICE:
            yield f"{character} {name}"
            if name != PITCH:
                yield f"{character} {name} {HELD}"
    for name in OF_SHOT:
        yield from (name, f"{name} {HELD}")


def frame_rows(film: Film, characters: tuple[str, ...]) -> Iterator[Record]:
    for shot in film.shots:
        rows = zip(*columns_of(shot.sheet, characters), strict=True)
        for frame, cells in enumerate(rows):
            yield (*place_of(film, shot, Frame(frame)), *cells)


def line_rows(film: Film) -> Iterator[Record]:
    for shot in film.shots:
        for line in shot.sheet.lines:
            place = (*place_of(film, shot, line.first), line.stop - line.first)
            yield (*place, line.line, line.take, line.character, line.extension, line.text)


def place_of(film: Film, shot: ExportedShot, frame: Frame) -> Record:
    """What the first columns say of a frame of a shot."""
    label = label_of(film.start + shot.first + frame, film.rate)
    return shot.name, shot.scene, shot.sheet.first_number + frame, label


def columns_of(sheet: Sheet, characters: tuple[str, ...]) -> Iterator[list[Value]]:
    """The columns after the first ones, each with a value for every frame of a sheet."""
    voices = {voice.character: voice for voice in sheet.voices}
    nothing: list[Value] = [EMPTY] * sheet.length
    for character in characters:
        if character in voices:
            yield from columns_of_voice(voices[character], sheet.length)
        else:
            yield from [nothing] * (2 * len(OF_VOICE) - 1)
    for cells in (sheet.action, sheet.camera, sheet.positions):
        yield from text_and_number(held(cells, sheet.length))


def columns_of_voice(voice: Voice, length: Frame) -> Iterator[list[Value]]:
    """The columns of a voice, in the order of OF_VOICE."""
    rows = voice_rows(voice, length)
    yield from text_and_number(row.word for row in rows)
    yield from text_and_number(row.sound for row in rows)
    degrees, numbers = text_and_number(row.stress for row in rows)
    yield [f"{degree}{MAIN}" if row.main else degree for degree, row in zip(degrees, rows, strict=True)]
    yield numbers
    yield [row.tone.value if row.tone else EMPTY for row in rows]
    yield from text_and_number(row.event for row in rows)
    yield from text_and_number(row.manner for row in rows)
    yield from text_and_number(row.departure for row in rows)
    yield from text_and_number(row.mouth for row in rows)


def text_and_number(column: Iterable[Held | None]) -> tuple[list[Value], list[Value]]:
    """What is held on each frame as two columns: the text where it starts, and for how many frames it is held."""
    column = list(column)
    texts: list[Value] = [EMPTY] * len(column)
    numbers: list[Value] = [EMPTY] * len(column)
    for run in runs_of(column):
        texts[run.first] = run.shown
        numbers[run.first] = run.stop - run.first
    return texts, numbers
