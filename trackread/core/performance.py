"""What a voice does beside its words: events, phrases, the turns of its pitch, and where it leaves its line.

Times are samples of the recording and spans of words are indices into a reading's words, `stop` not included.
"""

from dataclasses import dataclass
from enum import StrEnum

from trackread.core.timebase import Sample


class EventKind(StrEnum):
    """What is heard that is no word; shout and whisper carry words."""

    BREATH_IN = "breath in"
    BREATH_OUT = "breath out"
    LAUGH = "laugh"
    GASP = "gasp"
    SIGH = "sigh"
    COUGH = "cough"
    HUM = "hum"
    SHOUT = "shout"
    WHISPER = "whisper"


MANNERS = frozenset({EventKind.SHOUT, EventKind.WHISPER})  # how words are said, so these lie over words


@dataclass(frozen=True, slots=True)
class Event:
    """Something that is no word, from `start` to `stop`; `confidence` is 0 to 1, `hinted` if the line asks for it."""

    kind: EventKind
    start: Sample
    stop: Sample
    confidence: float
    hinted: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.stop:
            raise ValueError(f"an event lasts at least a sample, not from {self.start} to {self.stop}")
        if not 0 <= self.confidence <= 1:
            raise ValueError(f"confidence lies from 0 to 1, not {self.confidence}")


class Tone(StrEnum):
    """Which way the pitch goes over a syllable, or at the end of a phrase."""

    RISE = "rise"
    FALL = "fall"
    PEAK = "peak"
    LEVEL = "level"


@dataclass(frozen=True, slots=True)
class Phrase:
    """The words `first` to `stop` said without a pause.

    `main` is the syllable with the main beat, an index into the reading's syllables, None if no word of it has one.
    `ending` is where the pitch goes at the end, None without pitch; `rate` is in syllables a second.
    """

    first: int
    stop: int
    main: int | None
    ending: Tone | None
    rate: float


class DepartureKind(StrEnum):
    """How what is said leaves the line; a `RESTART` is a word or more broken off and begun again."""

    DROPPED = "dropped"
    ADDED = "added"
    REPEATED = "repeated"
    SWAPPED = "swapped"
    RESTART = "restart"


@dataclass(frozen=True, slots=True)
class Departure:
    """The words `first` to `stop` of a reading are not what the line has there; none of them where some were dropped.

    `written` is what the line has, empty where it has nothing.
    """

    kind: DepartureKind
    first: int
    stop: int
    written: str

    def __post_init__(self) -> None:
        if (self.first == self.stop) != (self.kind is DepartureKind.DROPPED):
            raise ValueError(f"words {self.first} to {self.stop} cannot be {self.kind}")


class Reason(StrEnum):
    """Why the start of a word is in doubt."""

    TWO_READINGS = "two readings of this word fit"
    STOP = "it begins with a closure, which is silent"
    NOISE = "noise here"
    NARROW = "recorded through a narrow line"
    GUESSED = "word guessed"
    DEPARTS = "not as the line has it"
