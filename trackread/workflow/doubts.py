"""The places of many readings that an ear should check, worst first: word starts in doubt, and departures."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from trackread.core.performance import Reason
from trackread.core.plain import reading_from_plain
from trackread.core.reading import Reading
from trackread.core.timebase import FrameRate, Sample, frame_at, parse_rate
from trackread.errors import RateError, ReadingError
from trackread.workflow.sheet_voice import is_missing, remark

DEPARTED = 0.5  # of words left out: whether they are is as unsure as what a coin says, until somebody listens


@dataclass(frozen=True, slots=True)
class Place:
    """A place to listen to: its reading, the production's frame number, the word, how likely it is wrong, and why."""

    reading: str
    number: int
    text: str
    doubt: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Places:
    """All places, worst first; `words` were looked at, and so many of the places are expected to be wrong."""

    places: tuple[Place, ...]
    words: int
    expected: float


def places_to_check(paths: Sequence[Path], first_number: int) -> Places:
    """Every word and departure of the readings in these files, worst first. Raises ReadingError."""
    places: list[Place] = []
    words = 0
    for path in paths:
        reading, rate = read_reading(path)
        places += places_in(path.stem, reading, rate, first_number)
        words += len(reading.words)
    places.sort(key=lambda place: -place.doubt)
    return Places(tuple(places), words, sum(place.doubt for place in places))


def read_reading(path: Path) -> tuple[Reading, FrameRate]:
    """The reading in a file that `trackread read --json` wrote, and the rate it was read at. Raises ReadingError."""
    try:
        plain = json.loads(path.read_text(encoding="utf-8"))
        return reading_from_plain(plain), parse_rate(plain["rate"])
    except (OSError, UnicodeDecodeError) as error:
        raise ReadingError(f"{path}: cannot be read ({error})") from error
    except json.JSONDecodeError as error:
        raise ReadingError(f"{path}:{error.lineno}: not JSON ({error.msg}): give what `read --json` wrote") from error
    except KeyError as error:
        raise ReadingError(f"{path}: not a reading: {error} is missing: give what `read --json` wrote") from error
    except (TypeError, AttributeError, RateError, ReadingError) as error:
        raise ReadingError(f"{path}: {error}: give what `read --json` of this version wrote") from error


def places_in(name: str, reading: Reading, rate: FrameRate, first_number: int) -> Iterator[Place]:
    """The words of one reading, and the places where words of the line are missed."""

    def number_of(sample: Sample) -> int:
        return first_number + frame_at(sample, reading.sound.sample_rate, rate)

    for word in reading.words:
        reasons = tuple(reason.value for reason in word.reasons)
        yield Place(name, number_of(reading.start(word)), word.text, word.doubt, reasons)
    for departure in reading.departures:
        if is_missing(departure):
            at = number_of(reading.start_of_departure(departure))
            yield Place(name, at, remark(departure), DEPARTED, (Reason.DEPARTS.value,))
