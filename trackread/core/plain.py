"""A reading as plain lists and dicts, as JSON holds it, and back.

Times are samples, `stop` not included, and `frame` is the frame, from 0, on which a part starts: what is
derived (`frame`, `doubt`, a syllable's `text`) is written for other programs and not read back. Values are
rounded to what an ear or eye can tell: shares to a thousandth, hertz and dB to a tenth.
"""

from collections.abc import Sequence
from typing import TypedDict

from trackread.core.reading import Match, Phone, Reading, Source, Syllable, Track, Word
from trackread.core.sound import Sound
from trackread.core.spelling import syllable_text
from trackread.core.timebase import FrameRate, Sample, frame_at
from trackread.errors import ReadingError

SHARE_PLACES = 3
TRACK_PLACES = 1


class PlainWord(TypedDict):
    text: str
    start: int
    stop: int
    frame: int
    doubt: float
    source: str


class PlainSyllable(TypedDict):
    text: str
    start: int
    stop: int
    nucleus: int
    frame: int
    lexical: int
    stress: int
    strength: float


class PlainPhone(TypedDict):
    symbol: str
    start: int
    stop: int
    frame: int
    confidence: float


class PlainPitch(TypedDict):
    hop: int
    hertz: list[float | None]


class PlainLevel(TypedDict):
    hop: int
    db: list[float | None]


class PlainReading(TypedDict):
    """`sound` is the SHA-256 of the recording, `sound_start` its first sample counted from midnight."""

    rate: str
    sample_rate: int
    samples: int
    sound: str
    sound_start: int
    engine: str
    match: float
    says_line: bool
    words: list[PlainWord]
    syllables: list[PlainSyllable]
    phones: list[PlainPhone]
    pitch: PlainPitch
    level: PlainLevel


def reading_to_plain(reading: Reading, rate: FrameRate) -> PlainReading:
    """A reading with the frames of its parts at `rate`."""
    return {
        "rate": str(rate),
        "sample_rate": reading.sound.sample_rate,
        "samples": reading.sound.length,
        "sound": reading.sound.digest,
        "sound_start": reading.sound.start,
        "engine": reading.engine,
        "match": round(reading.match.score, SHARE_PLACES),
        "says_line": reading.match.says_line,
        "words": [_plain_word(reading, word, rate) for word in reading.words],
        "syllables": [_plain_syllable(reading, syllable, rate) for syllable in reading.syllables],
        "phones": [_plain_phone(reading, number, rate) for number in range(len(reading.phones))],
        "pitch": {"hop": reading.pitch.hop, "hertz": _rounded(reading.pitch.values)},
        "level": {"hop": reading.level.hop, "db": _rounded(reading.level.values)},
    }


def reading_from_plain(plain: PlainReading) -> Reading:
    """The reading that `reading_to_plain` wrote. Raises ReadingError if it is none."""
    try:
        cuts = tuple(Sample(phone["start"]) for phone in plain["phones"])
        places = {cut: place for place, cut in enumerate((*cuts, plain["samples"]))}
        return Reading(
            sound=Sound(plain["sound"], plain["sample_rate"], Sample(plain["samples"]), Sample(plain["sound_start"])),
            phones=tuple(Phone(phone["symbol"], phone["confidence"]) for phone in plain["phones"]),
            cuts=(*cuts, Sample(plain["samples"])),
            words=tuple(_word(word, places) for word in plain["words"]),
            syllables=tuple(_syllable(syllable, places) for syllable in plain["syllables"]),
            pitch=Track(plain["pitch"]["hop"], tuple(plain["pitch"]["hertz"])),
            level=Track(plain["level"]["hop"], tuple(plain["level"]["db"])),
            match=Match(plain["match"], plain["says_line"]),
            engine=plain["engine"],
        )
    except KeyError as error:
        raise ReadingError(f"not a reading: {error} is missing, or lies where no phone starts or stops") from error
    except (TypeError, ValueError) as error:
        raise ReadingError(f"not a reading: {error}") from error


def doubt_of(reading: Reading, word: Word) -> float:
    """How unsure a word's start is, 0 to 1: what the confidence of its first phone leaves."""
    return round(1 - reading.phones[word.first].confidence, SHARE_PLACES)


def _plain_word(reading: Reading, word: Word, rate: FrameRate) -> PlainWord:
    return {
        "text": word.text,
        "start": reading.start(word),
        "stop": reading.stop(word),
        "frame": frame_at(reading.start(word), reading.sound.sample_rate, rate),
        "doubt": doubt_of(reading, word),
        "source": word.source.value,
    }


def _plain_syllable(reading: Reading, syllable: Syllable, rate: FrameRate) -> PlainSyllable:
    return {
        "text": syllable_text(reading, syllable),
        "start": reading.start(syllable),
        "stop": reading.stop(syllable),
        "nucleus": reading.cuts[syllable.nucleus],
        "frame": frame_at(reading.start(syllable), reading.sound.sample_rate, rate),
        "lexical": syllable.lexical,
        "stress": syllable.stress,
        "strength": round(syllable.strength, SHARE_PLACES),
    }


def _plain_phone(reading: Reading, number: int, rate: FrameRate) -> PlainPhone:
    start, phone = reading.cuts[number], reading.phones[number]
    return {
        "symbol": phone.symbol,
        "start": start,
        "stop": reading.cuts[number + 1],
        "frame": frame_at(start, reading.sound.sample_rate, rate),
        "confidence": round(phone.confidence, SHARE_PLACES),
    }


def _rounded(values: Sequence[float | None]) -> list[float | None]:
    return [None if value is None else round(value, TRACK_PLACES) for value in values]


def _word(plain: PlainWord, places: dict[int, int]) -> Word:
    return Word(plain["text"], places[plain["start"]], places[plain["stop"]], Source(plain["source"]))


def _syllable(plain: PlainSyllable, places: dict[int, int]) -> Syllable:
    return Syllable(
        first=places[plain["start"]],
        stop=places[plain["stop"]],
        nucleus=places[plain["nucleus"]],
        lexical=plain["lexical"],
        stress=plain["stress"],
        strength=plain["strength"],
    )
