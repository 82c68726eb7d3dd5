"""A reading as plain lists and dicts, as JSON holds it, and back.

Times are samples, `stop` not included, and `frame` is the frame, from 0, on which a part starts: what is
derived (`frame`, a syllable's `text`, the beats) is written for other programs and not read back. Values are
rounded to what an ear or eye can tell: shares to a thousandth, hertz and dB to a tenth.
"""

from collections.abc import Sequence
from typing import TypedDict

from trackread.core.performance import Departure, DepartureKind, Event, EventKind, Phrase, Reason, Tone
from trackread.core.reading import Match, Phone, Reading, Source, Syllable, Track, Word
from trackread.core.sound import Sound
from trackread.core.spelling import syllable_text, word_with
from trackread.core.timebase import Frame, FrameRate, Sample, frame_at
from trackread.errors import ReadingError

SHARE_PLACES = 3
TRACK_PLACES = 1


class PlainWord(TypedDict):
    text: str
    start: int
    stop: int
    frame: int
    doubt: float
    reasons: list[str]
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
    pitch: str | None


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


class PlainEvent(TypedDict):
    kind: str
    start: int
    stop: int
    frame: int
    confidence: float
    hinted: bool


class PlainPhrase(TypedDict):
    """`words` and `main` count from 0: the first word and the one after the last, the syllable with the main beat."""

    words: list[int]
    start: int
    stop: int
    frame: int
    main: int | None
    ending: str | None
    rate: float


class PlainDeparture(TypedDict):
    """`words` counts from 0; `written` is what the line has, `heard` what is said."""

    kind: str
    words: list[int]
    frame: int
    written: str
    heard: str


class PlainBeat(TypedDict):
    frame: int
    word: str
    strength: float
    stress: int
    main: bool
    pitch: str | None


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
    events: list[PlainEvent]
    phrases: list[PlainPhrase]
    departures: list[PlainDeparture]
    beats: list[PlainBeat]


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
        "events": [_plain_event(reading, event, rate) for event in reading.events],
        "phrases": [_plain_phrase(reading, phrase, rate) for phrase in reading.phrases],
        "departures": [_plain_departure(reading, departure, rate) for departure in reading.departures],
        "beats": _plain_beats(reading, rate),
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
            events=tuple(_event(event) for event in plain["events"]),
            phrases=tuple(_phrase(phrase) for phrase in plain["phrases"]),
            departures=tuple(_departure(departure) for departure in plain["departures"]),
        )
    except KeyError as error:
        raise ReadingError(f"not a reading: {error} is missing, or lies where no phone starts or stops") from error
    except (TypeError, ValueError) as error:
        raise ReadingError(f"not a reading: {error}") from error


def _plain_word(reading: Reading, word: Word, rate: FrameRate) -> PlainWord:
    return {
        "text": word.text,
        "start": reading.start(word),
        "stop": reading.stop(word),
        "frame": _frame(reading, reading.start(word), rate),
        "doubt": round(word.doubt, SHARE_PLACES),
        "reasons": [reason.value for reason in word.reasons],
        "source": word.source.value,
    }


def _plain_syllable(reading: Reading, syllable: Syllable, rate: FrameRate) -> PlainSyllable:
    return {
        "text": syllable_text(reading, syllable),
        "start": reading.start(syllable),
        "stop": reading.stop(syllable),
        "nucleus": reading.cuts[syllable.nucleus],
        "frame": _frame(reading, reading.start(syllable), rate),
        "lexical": syllable.lexical,
        "stress": syllable.stress,
        "strength": round(syllable.strength, SHARE_PLACES),
        "pitch": syllable.tone.value if syllable.tone else None,
    }


def _plain_phone(reading: Reading, number: int, rate: FrameRate) -> PlainPhone:
    start, phone = reading.cuts[number], reading.phones[number]
    return {
        "symbol": phone.symbol,
        "start": start,
        "stop": reading.cuts[number + 1],
        "frame": _frame(reading, start, rate),
        "confidence": round(phone.confidence, SHARE_PLACES),
    }


def _plain_event(reading: Reading, event: Event, rate: FrameRate) -> PlainEvent:
    return {
        "kind": event.kind.value,
        "start": event.start,
        "stop": event.stop,
        "frame": _frame(reading, event.start, rate),
        "confidence": round(event.confidence, SHARE_PLACES),
        "hinted": event.hinted,
    }


def _plain_phrase(reading: Reading, phrase: Phrase, rate: FrameRate) -> PlainPhrase:
    start = reading.start(reading.words[phrase.first])
    return {
        "words": [phrase.first, phrase.stop],
        "start": start,
        "stop": reading.stop(reading.words[phrase.stop - 1]),
        "frame": _frame(reading, start, rate),
        "main": phrase.main,
        "ending": phrase.ending.value if phrase.ending else None,
        "rate": round(phrase.rate, TRACK_PLACES),
    }


def _plain_departure(reading: Reading, departure: Departure, rate: FrameRate) -> PlainDeparture:
    return {
        "kind": departure.kind.value,
        "words": [departure.first, departure.stop],
        "frame": _frame(reading, reading.start_of_departure(departure), rate),
        "written": departure.written,
        "heard": " ".join(word.text for word in reading.words[departure.first : departure.stop]),
    }


def _plain_beats(reading: Reading, rate: FrameRate) -> list[PlainBeat]:
    """What a gesture is timed off: every syllable that is not weak."""
    mains = {phrase.main for phrase in reading.phrases}
    return [
        {
            "frame": _frame(reading, reading.start(syllable), rate),
            "word": word.text if (word := word_with(reading, syllable)) else "",
            "strength": round(syllable.strength, SHARE_PLACES),
            "stress": syllable.stress,
            "main": number in mains,
            "pitch": syllable.tone.value if syllable.tone else None,
        }
        for number, syllable in enumerate(reading.syllables)
        if syllable.stress
    ]


def _frame(reading: Reading, sample: Sample, rate: FrameRate) -> Frame:
    return frame_at(sample, reading.sound.sample_rate, rate)


def _rounded(values: Sequence[float | None]) -> list[float | None]:
    return [None if value is None else round(value, TRACK_PLACES) for value in values]


def _word(plain: PlainWord, places: dict[int, int]) -> Word:
    return Word(
        plain["text"],
        places[plain["start"]],
        places[plain["stop"]],
        Source(plain["source"]),
        plain["doubt"],
        tuple(Reason(reason) for reason in plain["reasons"]),
    )


def _syllable(plain: PlainSyllable, places: dict[int, int]) -> Syllable:
    return Syllable(
        first=places[plain["start"]],
        stop=places[plain["stop"]],
        nucleus=places[plain["nucleus"]],
        lexical=plain["lexical"],
        stress=plain["stress"],
        strength=plain["strength"],
        tone=Tone(plain["pitch"]) if plain["pitch"] else None,
    )


def _event(plain: PlainEvent) -> Event:
    start, stop = Sample(plain["start"]), Sample(plain["stop"])
    return Event(EventKind(plain["kind"]), start, stop, plain["confidence"], plain["hinted"])


def _phrase(plain: PlainPhrase) -> Phrase:
    ending = Tone(plain["ending"]) if plain["ending"] else None
    first, stop = plain["words"]
    return Phrase(first, stop, plain["main"], ending, plain["rate"])


def _departure(plain: PlainDeparture) -> Departure:
    first, stop = plain["words"]
    return Departure(DepartureKind(plain["kind"]), first, stop, plain["written"])
