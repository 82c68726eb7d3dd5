"""Phrases here are laid by hand, their vowels whispered, creaked, spoken or shouted as each test says."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from tests.makers import LINE, a_reading
from tests.reading.test_events import (
    HOP,
    Sounding,
    breath,
    buzz,
    heard_nothing,
    listened,
    rumbling_room,
    through_mouth,
    voice,
)
from trackread.core.performance import MANNERS, EventKind, Phrase
from trackread.core.phones import PAUSE, VOWELS
from trackread.core.reading import Reading, Track
from trackread.reading.manners import manners_in
from trackread.reading.scene import Scene, scene_of
from trackread.reading.sounds import RATE, Recording
from trackread.reading.take import Reader

Manner = Callable[[float], Sounding]
PHONE, GAP = 1920, 6400  # samples: 0.12 s of each phone, 0.4 s of each pause
# Three phrases: `Mind the step,` with three vowels, `ticket!` and `window` with two each.
SAID = (*LINE, "-", ("window", "W IH1 N D OW0"))
PHRASES = (Phrase(0, 3, 0, None, 4.0), Phrase(3, 4, 3, None, 4.0), Phrase(4, 5, 5, None, 4.0))


def spoken(seconds: float, hertz: float = 120.0) -> Sounding:
    """A voice whose power lies below 1 kHz."""
    return Sounding(0, 0.3 * through_mouth(buzz(seconds, hertz), (300, 500, 700, 1500)), hertz)


def whispered(seconds: float) -> Sounding:
    return Sounding(0, breath(np.ones(round(seconds * 100)), 0.02))


def creaked(seconds: float) -> Sounding:
    return Sounding(0, voice(seconds, 45.0))


def shouted(seconds: float, hertz: float = 330.0, times: float = 1.0) -> Sounding:
    """A voice whose power lies above 1 kHz."""
    return Sounding(0, times * 0.3 * through_mouth(buzz(seconds, hertz), (1400, 2500, 3500)), hertz)


def said(*manners: Manner) -> tuple[Reading, Scene]:
    """As many phrases as manners, each with its vowels in its manner; the rest of the take is silent."""
    phrases = PHRASES[: len(manners)]
    lengths = [GAP if phone.symbol == PAUSE else PHONE for phone in a_reading(*SAID).phones]
    reading = a_reading(*SAID, sample_rate=RATE, lengths=lengths, phrases=phrases)
    signal = rumbling_room(reading.sound.length)
    hertz = np.zeros(reading.sound.length // HOP + 1)
    phones: list[float] = []
    for phrase, manner in zip(phrases, manners, strict=True):
        words = reading.words[phrase.first : phrase.stop]
        for k in range(words[0].first, words[-1].stop):
            start, stop = reading.cuts[k], reading.cuts[k + 1]
            phones.append((start + stop) / 2 / RATE)
            if reading.phones[k].symbol in VOWELS:
                one = manner((stop - start) / RATE)
                signal[start:stop] += one.signal
                hertz[start // HOP : stop // HOP] = one.hertz
    reading = replace(reading, pitch=Track(HOP, tuple(value or None for value in hertz.tolist())))
    seconds = reading.sound.length / RATE
    return reading, scene_of(listened(signal), phones, heard_nothing(seconds), (reading.pitch, RATE))


def found_in(*manners: Manner) -> list[tuple[EventKind, float, float]]:
    return [(event.kind, event.start, event.stop) for event in manners_in(*said(*manners))]


def span_of(phrase: Phrase) -> tuple[float, float]:
    reading, _ = said(spoken, spoken)
    first, last = reading.words[phrase.first], reading.words[phrase.stop - 1]
    return reading.start(first) / RATE, reading.stop(last) / RATE


def test_a_phrase_whose_vowels_are_noise_is_whispered_from_its_first_word_to_its_last() -> None:
    assert found_in(whispered, spoken) == [(EventKind.WHISPER, *span_of(PHRASES[0]))]
    assert found_in(spoken, whispered) == [(EventKind.WHISPER, *span_of(PHRASES[1]))]


def test_phrases_in_one_manner_one_after_another_are_one_event() -> None:
    start, stop = span_of(PHRASES[0])[0], span_of(PHRASES[1])[1]

    assert found_in(whispered, whispered) == [(EventKind.WHISPER, start, stop)]


def test_whispers_with_another_phrase_between_them_are_two_events() -> None:
    assert found_in(whispered, spoken, whispered) == [
        (EventKind.WHISPER, *span_of(PHRASES[0])),
        (EventKind.WHISPER, *span_of(PHRASES[2])),
    ]


def test_a_creak_without_pitch_is_no_whisper() -> None:
    assert found_in(creaked, spoken) == []
    assert found_in(creaked, creaked) == []


def test_speech_is_neither_whispered_nor_shouted() -> None:
    assert found_in(spoken, spoken) == []


def test_one_vowel_without_voice_makes_no_whisper() -> None:
    reading, scene = said(whispered, spoken)
    alone = replace(reading, phrases=(Phrase(0, 1, 0, None, 4.0),))

    assert manners_in(alone, scene) == []


def test_a_bright_and_high_phrase_is_shouted() -> None:
    assert found_in(spoken, shouted) == [(EventKind.SHOUT, *span_of(PHRASES[1]))]


def test_a_bright_phrase_that_is_not_high_is_shouted_where_it_is_much_louder_than_the_others() -> None:
    soft, loud = (lambda seconds, times=times: shouted(seconds, 150.0, times) for times in (0.05, 1.0))

    assert found_in(soft, soft) == []
    assert found_in(soft, loud) == [(EventKind.SHOUT, *span_of(PHRASES[1]))]


def test_a_high_voice_that_is_not_bright_does_not_shout() -> None:
    assert found_in(spoken, lambda seconds: spoken(seconds, 330.0)) == []


def test_a_reading_without_phrases_has_no_manners() -> None:
    reading, scene = said(whispered, whispered)

    assert manners_in(replace(reading, phrases=()), scene) == []


@pytest.mark.parametrize("take", ["01", "07", "11"])
def test_read_speech_is_neither_whispered_nor_shouted(
    reader: Reader, tram: dict[str, tuple[Recording, str]], take: str
) -> None:
    assert not MANNERS & {event.kind for event in reader.read(*tram[take]).events}
