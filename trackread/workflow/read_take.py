"""Reads one take of a line and writes what is asked for: the sheet, a TextGrid, the reading itself."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from trackread.core.plain import reading_to_plain
from trackread.core.reading import Reading
from trackread.core.sheet import Heading
from trackread.errors import ReadingError
from trackread.labels.textgrid import textgrid_of
from trackread.reading.lexicon import Lexicon, read_pronunciations
from trackread.reading.sounds import load
from trackread.reading.take import Reader as Reader  # the command line names its type
from trackread.workflow.printing import Form, printed
from trackread.workflow.sheet_of_take import sheet_of_take
from trackread.workflow.writing import as_json, check_places, write_all

Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Take:
    """A recording of a line, which of its channels to hear, and what its sheet says of it.

    `own_rate` is how fast the character usually speaks, in syllables a second, None where nobody knows.
    """

    path: Path
    line: str
    character: str
    heading: Heading
    channel: int | None = None
    own_rate: float | None = None


@dataclass(frozen=True, slots=True)
class Outputs:
    """Where to write each thing; None for what is not wanted."""

    sheet: Path | None = None
    textgrid: Path | None = None
    json: Path | None = None

    @property
    def places(self) -> tuple[Path, ...]:
        return tuple(place for place in (self.sheet, self.textgrid, self.json) if place)


def open_reader(pronunciations: Path | None) -> Reader:
    """The engines, with the production's own pronunciations. Raises LexiconError with all that is wrong in them."""
    return Reader(read_pronunciations(pronunciations) if pronunciations else Lexicon())


def read_take(
    take: Take,
    outputs: Outputs,
    form: Form,
    reader: Reader,
    *,
    anyway: bool = False,
    progress: Progress | None = None,
) -> Reading:
    """Hears a take and writes all outputs or none; a take that does not say its line has no sheet, save `anyway`.

    `progress` is told the share that is done, 0 to 1. Raises SoundError, LineError, ReadingError, SheetError
    and OutputError.
    """
    check_places(outputs.places, kept=[take.path])
    reading = hear_take(take, reader, progress)
    write_take(take, reading, outputs, form, anyway=anyway)
    return reading


def hear_take(take: Take, reader: Reader, progress: Progress | None = None) -> Reading:
    """Hears a take. Raises SoundError, LineError and ReadingError."""
    recording = load(take.path, take.channel)
    try:
        return reader.read(recording, take.line, progress)
    except ReadingError as error:
        raise ReadingError(f"{take.path}: {error}") from error


def write_take(take: Take, reading: Reading, outputs: Outputs, form: Form, *, anyway: bool) -> None:
    """Writes all outputs of a take or none. Raises ReadingError, SheetError and OutputError."""
    if outputs.sheet and not reading.match.says_line and not anyway:
        raise ReadingError(
            f"{take.path}: this take does not say {take.line!r} (match {reading.match.score:.2f}), so no sheet "
            "was made: give the line that is said, or say --anyway for a sheet with a warning on it"
        )
    write_all(dict(contents(reading, take, outputs, form)))


def contents(reading: Reading, take: Take, outputs: Outputs, form: Form) -> Iterator[tuple[Path, bytes]]:
    """Each file that is asked for, with its bytes."""
    if outputs.sheet:
        sheet = sheet_of_take(
            reading, form.terms, character=take.character, heading=take.heading, own_rate=take.own_rate
        )
        yield outputs.sheet, printed(sheet, form)
    if outputs.textgrid:
        yield outputs.textgrid, textgrid_of(reading)
    if outputs.json:
        yield outputs.json, as_json(reading_to_plain(reading, form.terms.rate))
