"""The sound of a take for whoever hears or draws it: exactly its recording's samples, on the channel listened to."""

from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.sessions import session
from trackread.book.sounds import sound_path
from trackread.book.takes import take_named
from trackread.errors import SoundError
from trackread.reading.long_recordings import open_recording
from trackread.reading.played import Played
from trackread.reading.spectrogram import greys

MOST_ROWS = 256  # of spectra that are given at once
MOST = 8192  # lows and highs that are given at once: more than a screen has rows


@dataclass(frozen=True, slots=True)
class Extremes:
    """The lowest and highest sample in each of the even parts of the samples `first` to before `stop`."""

    first: int
    stop: int
    lows: list[float]
    highs: list[float]


def take_sound(book: Book, name: str) -> Played:
    """The sound of a take or any other stretch. Raises BookError for none such, SoundError if it cannot be read."""
    take = take_named(book, name)
    its = session(book, take.session)
    recording = open_recording(sound_path(book, its.sound.digest))
    return Played(recording, take.stretch.start, take.stretch.stop, its.channel)


def sound_tag(book: Book, name: str) -> str:
    """What tells two sounds apart: the recording, which of its samples, and which channel."""
    take = take_named(book, name)
    its = session(book, take.session)
    return f"{its.sound.digest}-{take.stretch.start}-{take.stretch.stop}-{its.channel or 0}"


def take_extremes(book: Book, name: str, first: int, stop: int, count: int) -> Extremes:
    """Lows and highs of some samples of a take, in `count` parts or as many as there are samples.

    Raises SoundError for samples that the take has not, or for too many parts; and as `take_sound` does.
    """
    played = take_sound(book, name)
    if not 0 <= first < stop <= played.samples:
        raise SoundError(f"{name} has samples 0 to {played.samples}: none from {first} to {stop}")
    if not 1 <= count <= MOST:
        raise SoundError(f"ask for 1 to {MOST} parts at once, not for {count}")
    return Extremes(first, stop, *played.extremes(first, stop, min(count, stop - first)))


def take_spectra(book: Book, name: str, asked: tuple[int, int, int], below: int) -> bytes:
    """The spectra of a take's rows as greys, a byte for each band, row after row.

    `asked` are the first sample, the samples of a row, and how many rows; where the take ends there are fewer, the last
    one shorter. What is so many dB below full scale is a full grey. Raises SoundError for rows that the take has not,
    or for too many of them; and as `take_sound` does.
    """
    played, (first, step, rows) = take_sound(book, name), asked
    if not (0 <= first < played.samples and step):
        raise SoundError(f"{name} has samples 0 to {played.samples}: no row of {step} begins at {first}")
    if not 1 <= rows <= MOST_ROWS:
        raise SoundError(f"ask for 1 to {MOST_ROWS} rows at once, not for {rows}")
    edges = [min(first + row * step, played.samples) for row in range(rows + 1)]
    return greys(played.piece, played.rate, sorted({*edges}), played.samples, loudest=-below).tobytes()
