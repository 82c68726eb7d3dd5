"""What was heard in a take, and when: times are samples of the recording, `stop` not included.

Each boundary is stored once: phone i sounds from `cuts[i]` to `cuts[i + 1]`, a pause is a phone,
and words and syllables point at phones. The phones cover the whole sound.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from trackread.core.performance import MANNERS, Departure, Event, Phrase, Reason, Tone
from trackread.core.phones import PAUSE, PHONES
from trackread.core.sound import Sound
from trackread.core.timebase import Sample

# What a reading is made by: the version in which anything of trackread/reading last changed what is heard. A new one
# wants all takes read again, so it is not raised for anything else.
ENGINE = "trackread 0.3.0"
Stress = int  # 0 weak, 1 half, 2 strong, as heard in this take


class Source(StrEnum):
    """Where a word's pronunciation came from."""

    PRODUCTION = "production"
    DICTIONARY = "dictionary"
    GUESS = "guess"
    HEARD = "heard"  # not in the line: its sounds as they were heard


@dataclass(frozen=True, slots=True)
class Phone:
    """One sound; `confidence` (0 to 1) is how sure its first boundary is."""

    symbol: str
    confidence: float

    def __post_init__(self) -> None:
        if self.symbol != PAUSE and self.symbol not in PHONES:
            raise ValueError(f"{self.symbol!r} is not a phone")
        if not 0 <= self.confidence <= 1:
            raise ValueError(f"confidence lies from 0 to 1, not {self.confidence}")


@dataclass(frozen=True, slots=True)
class Word:
    """A word that is said, as the line writes it, and the phones `first` to `stop` that sound it.

    `doubt` is the probability (0 to 1) that its start lies more than a film frame (1/24 s) from where a person would
    put it; `reasons` say why, the weightiest first.
    """

    text: str
    first: int
    stop: int
    source: Source = Source.DICTIONARY
    doubt: float = 0.0
    reasons: tuple[Reason, ...] = ()

    def __post_init__(self) -> None:
        if not 0 <= self.doubt <= 1:
            raise ValueError(f"doubt lies from 0 to 1, not {self.doubt}")


@dataclass(frozen=True, slots=True)
class Syllable:
    """The phones `first` to `stop` around one vowel, at `nucleus`.

    `lexical` is the dictionary's stress digit (0, 1 primary, 2 secondary); `strength` (0 to 1), `stress` (three
    degrees) and `tone`, the turn of its pitch (None where it has no pitch), are what was heard.
    """

    first: int
    stop: int
    nucleus: int
    lexical: int
    stress: Stress
    strength: float
    tone: Tone | None = None


@dataclass(frozen=True, slots=True)
class Track:
    """A value each `hop` samples, the first at sample 0; None where there is none (no pitch, say)."""

    hop: int
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Match:
    """Whether the take says the line: `score` is 0 to 1, `says_line` the judgement on it."""

    score: float
    says_line: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """One take, heard. `pitch` is in hertz, `level` in dB below full scale."""

    sound: Sound
    phones: tuple[Phone, ...]
    cuts: tuple[Sample, ...]
    words: tuple[Word, ...]
    syllables: tuple[Syllable, ...]
    pitch: Track
    level: Track
    match: Match
    engine: str
    events: tuple[Event, ...] = ()
    phrases: tuple[Phrase, ...] = ()
    departures: tuple[Departure, ...] = ()

    def __post_init__(self) -> None:
        if len(self.cuts) != len(self.phones) + 1:
            raise ValueError(f"{len(self.phones)} phones have {len(self.phones) + 1} cuts, not {len(self.cuts)}")
        if self.cuts[0] != 0 or self.cuts[-1] != self.sound.length:
            raise ValueError("the phones cover the whole sound")
        if any(a >= b for a, b in zip(self.cuts, self.cuts[1:], strict=False)):
            raise ValueError("each phone lasts at least a sample")
        check_spans([(word.first, word.stop) for word in self.words], len(self.phones))
        check_spans([(syllable.first, syllable.stop) for syllable in self.syllables], len(self.phones))
        check_spans([(phrase.first, phrase.stop) for phrase in self.phrases], len(self.words))
        between = [(event.start, event.stop) for event in self.events if event.kind not in MANNERS]
        check_spans(between, self.sound.length)
        if any(not 0 <= one.first <= one.stop <= len(self.words) for one in self.departures):
            raise ValueError("a departure is of words of the reading")
        if any(event.stop > self.sound.length for event in self.events):
            raise ValueError("an event lies within the sound")

    def start(self, part: Word | Syllable) -> Sample:
        """The first sample of a word or syllable."""
        return self.cuts[part.first]

    def stop(self, part: Word | Syllable) -> Sample:
        """The sample after the last of a word or syllable."""
        return self.cuts[part.stop]

    def start_of_departure(self, departure: Departure) -> Sample:
        """Where what is said leaves the line; of words left out, where the words before them end."""
        if departure.first < departure.stop:
            return self.start(self.words[departure.first])
        return self.stop(self.words[departure.first - 1]) if departure.first else self.cuts[0]


def check_spans(spans: Sequence[tuple[int, int]], count: int) -> None:
    """Raises ValueError unless the spans are in order, not empty, apart, and within `count`."""
    reached = 0
    for first, stop in spans:
        if not reached <= first < stop <= count:
            raise ValueError(f"parts {first} to {stop} are out of order, empty or missing")
        reached = stop
