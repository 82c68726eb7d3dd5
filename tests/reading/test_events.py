"""Sounds here are synthesised: noise or a buzz through resonances that a mouth has, at known times, pitch known."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import pytest

from trackread.core.performance import EventKind
from trackread.core.reading import Track
from trackread.reading.events import Found, Hint, events_in, quietened
from trackread.reading.listening import WINDOW, Listening, listen
from trackread.reading.recogniser import HOP as HEARD_HOP
from trackread.reading.recogniser import LATE, SYMBOLS, Posteriors
from trackread.reading.scene import Scene, hertz_by_rows, scene_of
from trackread.reading.sounds import RATE

HOP = RATE // 100
SECONDS = 4.0
# An open mouth rings about here (the neutral vowel: odd multiples of 500 Hz), wider as breath comes through it.
OPEN = (500, 1500, 2500, 3500)


@dataclass(frozen=True)
class Sounding:
    """A signal at `start` seconds of a take; its pitch in hertz, 0 for none."""

    start: float
    signal: np.ndarray
    hertz: float = 0.0

    @property
    def stop(self) -> float:
        return self.start + len(self.signal) / RATE


def through_mouth(signal: np.ndarray, resonances: Sequence[float] = OPEN, width: float = 200.0) -> np.ndarray:
    """A signal through resonances, its peak at 1."""
    hertz = np.fft.rfftfreq(len(signal), 1 / RATE)
    gain = sum(1 / (1 + ((hertz - resonance) / width) ** 2) for resonance in resonances)
    shaped = np.fft.irfft(np.fft.rfft(signal) * gain, len(signal))
    return shaped / np.abs(shaped).max()


def noise(seconds: float, seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).normal(size=round(seconds * RATE))


def breath(envelope: np.ndarray, loudness: float = 0.02, seed: int = 1, width: float = 200.0) -> np.ndarray:
    """Breath through an open mouth, as loud (root mean square) as `envelope` says every 10 ms."""
    signal = through_mouth(noise(len(envelope) / 100, seed), width=width)
    signal /= np.sqrt(np.convolve(signal**2, np.ones(WINDOW) / WINDOW, "same"))
    return loudness * signal * np.interp(np.arange(len(signal)) / HOP, np.arange(len(envelope)), envelope)


def swelling(seconds: float) -> np.ndarray:
    return np.linspace(0.1, 1, round(seconds * 100))


def decaying(seconds: float) -> np.ndarray:
    return np.linspace(1, 0.1, round(seconds * 100))


def sudden(seconds: float = 0.22, rise: float = 0.09) -> np.ndarray:
    """Nothing to all in `rise` seconds, then down to half."""
    count = round(seconds * 100)
    return np.interp(np.arange(count) / 100, [0, rise, seconds], [0.05, 1, 0.5])


def buzz(seconds: float, hertz: float) -> np.ndarray:
    """Pulses of the glottis."""
    pulses = np.zeros(round(seconds * RATE))
    pulses[:: round(RATE / hertz)] = 1.0
    return pulses


def voice(seconds: float, hertz: float = 120.0, loudness: float = 0.3) -> np.ndarray:
    edges = np.minimum(1, np.minimum(np.arange(round(seconds * RATE)), np.arange(round(seconds * RATE))[::-1]) / HOP)
    return loudness * edges * through_mouth(buzz(seconds, hertz), width=80)


def word(start: float) -> Sounding:
    """A word of half a second."""
    return Sounding(start, voice(0.5), 120.0)


def phones_of(one: Sounding) -> list[float]:
    """When its phones are heard."""
    return np.linspace(one.start + 0.05, one.stop - 0.05, 5).tolist()


def rumbling_room(samples: int) -> np.ndarray:
    """What a room sounds like: softer the higher, 50 dB and more below a voice."""
    hertz = np.maximum(np.fft.rfftfreq(samples, 1 / RATE), 50)
    shaped = np.fft.irfft(np.fft.rfft(np.random.default_rng(0).normal(size=samples)) / hertz, samples)
    return 5e-4 * shaped / shaped.std()


def heard_nothing(seconds: float) -> Posteriors:
    """What the recogniser says of a take in which it hears no phone."""
    rows = round(seconds / HEARD_HOP) + 1
    return Posteriors(np.zeros(rows, np.float32), np.full((rows, len(SYMBOLS)), -20, np.float32))


def a_scene(
    *sounds: Sounding, words: Sequence[Sounding] = (), seconds: float = SECONDS, heard: Posteriors | None = None
) -> Scene:
    """The scene of a take in a quiet room in which these sounds and words are heard."""
    samples = round(seconds * RATE)
    signal = rumbling_room(samples)
    hertz = np.zeros(samples // HOP + 1)
    for one in (*sounds, *words):
        first = round(one.start * RATE)
        signal[first : first + len(one.signal)] += one.signal
        rows = slice(round(one.start * 100), round(one.stop * 100))
        hertz[rows] = np.maximum(hertz[rows], one.hertz)
    phones = [time for one in words for time in phones_of(one)]
    pitch = Track(HOP, tuple(value or None for value in hertz.tolist()))
    return scene_of(listened(signal), phones, heard or heard_nothing(seconds), (pitch, RATE))


def listened(signal: np.ndarray) -> tuple[np.ndarray, Listening]:
    return signal.astype(np.float32), listen(signal.astype(np.float32))


def kinds(found: Sequence[Found]) -> list[EventKind]:
    return [event.kind for event in found]


def a_laugh(start: float, bursts: int = 5, apart: float = 0.2) -> list[Sounding]:
    """Bursts of a high voice with breath between and after them."""
    between = [Sounding(start + k * apart, voice(0.07, 220.0), 220.0) for k in range(bursts)]
    aspirated = 0.05 * through_mouth(noise(bursts * apart), (1500, 2500, 3500, 4500), 600)
    return [*between, Sounding(start, aspirated)]


WORDS = (word(0.3), word(2.5))
HIGH = np.fft.irfft(np.where(np.fft.rfftfreq(RATE, 1 / RATE) > 4500, np.fft.rfft(noise(1.0)), 0), RATE)
HISS = 0.1 * HIGH[: RATE // 2] / np.abs(HIGH).max()
SOFT, LOUD = 0.005, 0.06  # beside a voice of about 0.05, root mean square

# Each kind of sound between two words. Which breath swells and which dies away is common knowledge, no source.
ALONE = {
    EventKind.BREATH_IN: Sounding(1.9, breath(swelling(0.5))),
    EventKind.BREATH_OUT: Sounding(1.3, breath(decaying(0.5), SOFT)),
    EventKind.SIGH: Sounding(1.2, breath(decaying(0.9), LOUD)),
    EventKind.GASP: Sounding(1.6, breath(sudden(), LOUD)),
    EventKind.HUM: Sounding(1.3, 0.1 * through_mouth(buzz(0.6, 120.0), (250,), 100), 120.0),
    EventKind.COUGH: Sounding(1.5, breath(decaying(0.2), LOUD)),
}


def spoken_rows(scene: Scene, event: Found) -> np.ndarray:
    return scene.spoken[round(event.start * 100) : round(event.stop * 100)]


@pytest.mark.parametrize(("kind", "sounding"), ALONE.items(), ids=ALONE)
def test_each_kind_of_sound_between_words_is_found_where_it_is(kind: EventKind, sounding: Sounding) -> None:
    found = events_in(a_scene(sounding, words=WORDS))

    assert kinds(found) == [kind]
    assert found[0].start == pytest.approx(sounding.start, abs=0.05)
    assert found[0].stop == pytest.approx(sounding.stop, abs=0.05)
    assert not found[0].hinted


@pytest.mark.parametrize("loudness", [0.05, 0.5, 20.0])
@pytest.mark.parametrize("kind", ALONE)
def test_a_take_is_heard_the_same_however_loud_it_was_recorded(kind: EventKind, loudness: float) -> None:
    scene = a_scene(ALONE[kind], words=WORDS)
    louder = replace(scene, view=listen(scene.signal * np.float32(loudness)))

    assert events_in(louder) == events_in(scene)


def test_a_take_of_words_alone_has_no_events() -> None:
    assert events_in(a_scene(words=WORDS)) == []


def test_five_bursts_with_breath_between_them_are_one_laugh() -> None:
    laugh = a_laugh(1.1)
    found = events_in(a_scene(*laugh, words=WORDS))

    assert kinds(found) == [EventKind.LAUGH]
    assert (found[0].start, found[0].stop) == pytest.approx((1.1, laugh[-1].stop), abs=0.05)


def test_a_short_sound_that_goes_on_when_the_take_begins_is_no_breath_drawn() -> None:
    begun = breath(np.ones(25), SOFT)
    soon = word(0.45)

    assert events_in(a_scene(Sounding(0.0, begun), words=[soon])) == []
    assert kinds(events_in(a_scene(Sounding(0.5, begun), words=[replace(soon, start=0.95)]))) == [EventKind.BREATH_IN]


@pytest.mark.parametrize("noise_of_room", [0.0, 1e-4, 2e-4, 3e-4, 4e-4])
def test_a_vowel_said_again_and_again_without_breath_is_no_laugh(noise_of_room: float) -> None:
    hiss = Sounding(0.0, noise_of_room * noise(SECONDS))

    assert EventKind.LAUGH not in kinds(events_in(a_scene(*a_laugh(1.1)[:-1], hiss, words=WORDS)))


def test_bursts_half_a_second_apart_are_no_laugh() -> None:
    assert EventKind.LAUGH not in kinds(events_in(a_scene(*a_laugh(0.9, bursts=3, apart=0.5), words=WORDS)))


def test_bursts_with_little_breath_between_them_are_no_laugh() -> None:
    bursts = [Sounding(1.1 + 0.2 * k, voice(0.11, 220.0), 220.0) for k in range(5)]

    assert EventKind.LAUGH not in kinds(events_in(a_scene(*bursts, a_laugh(1.1)[-1], words=WORDS)))


def test_a_laugh_full_of_consonants_is_speech() -> None:
    heard = heard_nothing(SECONDS)
    for time in (1.15, 1.35, 1.55, 1.75):
        heard.phones[round((time + LATE) / HEARD_HOP), SYMBOLS.index("T")] = 1.0

    assert EventKind.LAUGH not in kinds(events_in(a_scene(*a_laugh(1.1), words=WORDS, heard=heard)))


def test_high_hiss_is_no_breath() -> None:
    assert events_in(a_scene(Sounding(1.5, HISS), words=WORDS)) == []


@pytest.mark.parametrize("pulses", [25.0, 40.0])
def test_a_creak_without_pitch_is_no_breath(pulses: float) -> None:
    assert events_in(a_scene(Sounding(1.3, voice(0.6, pulses)), words=WORDS)) == []


def test_a_hum_with_an_open_mouth_is_none() -> None:
    assert events_in(a_scene(Sounding(1.3, voice(0.6), 120.0), words=WORDS)) == []


def test_a_sound_straight_after_a_word_is_no_cough_and_no_hum() -> None:
    for kind in (EventKind.COUGH, EventKind.HUM):
        joined = replace(ALONE[kind], start=0.85)

        assert events_in(a_scene(joined, words=WORDS)) == []


# After the word that sounds until 0.8 s.
@pytest.mark.parametrize(("loudness", "found"), [(SOFT, [EventKind.BREATH_OUT]), (LOUD, [])])
def test_straight_after_a_word_only_a_soft_breath_is_one(loudness: float, found: list[EventKind]) -> None:
    joined = Sounding(0.85, breath(decaying(0.6), loudness))

    assert kinds(events_in(a_scene(joined, words=WORDS))) == found


def test_straight_after_a_whispered_word_no_breath_can_be_told_from_it() -> None:
    whispered = [Sounding(start, breath(np.ones(50), LOUD)) for start in (0.3, 2.5)]
    joined = Sounding(0.85, breath(decaying(0.6), SOFT))

    assert events_in(a_scene(joined, words=whispered)) == []
    assert kinds(events_in(a_scene(replace(joined, start=1.2), words=whispered))) == [EventKind.BREATH_OUT]


@pytest.mark.parametrize("start", [0.2, 0.5, 0.75, 2.2, 2.7])
@pytest.mark.parametrize("kind", ALONE)
def test_events_lie_outside_spoken_rows_and_apart(kind: EventKind, start: float) -> None:
    scene = a_scene(replace(ALONE[kind], start=start), words=WORDS)
    found = events_in(scene)

    assert not any(spoken_rows(scene, event).any() for event in found)
    assert all(a.stop <= b.start for a, b in pairwise(found))
    assert all(event.start < event.stop for event in found)


BETWEEN = (0.8, 2.5)


@pytest.mark.parametrize("written", [EventKind.SIGH, EventKind.GASP, EventKind.BREATH_OUT])
def test_a_hint_renames_a_breath_to_the_breath_it_asks_for(written: EventKind) -> None:
    scene = a_scene(ALONE[EventKind.BREATH_IN], words=WORDS)
    (heard,) = events_in(scene)
    (found,) = events_in(scene, [Hint(written, *BETWEEN)])

    assert (found.kind, found.hinted) == (written, True)
    assert (found.start, found.stop) == (heard.start, heard.stop)
    assert found.confidence > heard.confidence


def test_a_hint_does_not_rename_what_is_not_kin_to_it() -> None:
    scene = a_scene(ALONE[EventKind.BREATH_IN], words=WORDS)

    assert events_in(scene, [Hint(EventKind.LAUGH, *BETWEEN)]) == events_in(scene)


def test_a_hint_for_another_place_renames_nothing() -> None:
    scene = a_scene(ALONE[EventKind.BREATH_IN], words=WORDS)

    assert events_in(scene, [Hint(EventKind.SIGH, 3.0, SECONDS)]) == events_in(scene)


SHORT = Sounding(1.5, breath(decaying(0.2), SOFT))


def test_where_a_hint_asks_for_it_less_is_found_than_a_rule_would_find_and_less_surely() -> None:
    scene = a_scene(SHORT, words=WORDS)
    (found,) = events_in(scene, [Hint(EventKind.SIGH, *BETWEEN)])
    (ruled,) = events_in(a_scene(ALONE[EventKind.SIGH], words=WORDS))

    assert events_in(scene) == []
    assert (found.kind, found.hinted) == (EventKind.SIGH, True)
    assert (found.start, found.stop) == pytest.approx((SHORT.start, SHORT.stop), abs=0.05)
    assert found.confidence < ruled.confidence


def test_a_hint_finds_nothing_outside_its_place() -> None:
    assert events_in(a_scene(SHORT, words=WORDS), [Hint(EventKind.SIGH, 3.0, SECONDS)]) == []


@pytest.mark.parametrize("kind", EventKind)
def test_a_hint_invents_nothing_where_there_is_silence(kind: EventKind) -> None:
    assert events_in(a_scene(words=WORDS), [Hint(kind, *BETWEEN), Hint(kind, 3.0, SECONDS)]) == []


def test_two_hints_do_not_take_one_sound() -> None:
    hints = [Hint(EventKind.LAUGH, *BETWEEN), Hint(EventKind.SIGH, *BETWEEN)]

    assert kinds(events_in(a_scene(SHORT, words=WORDS), hints)) == [EventKind.LAUGH]


def test_what_one_hint_found_does_not_answer_the_next_hint_of_its_kind() -> None:
    later = replace(SHORT, start=3.3)
    hints = [Hint(EventKind.LAUGH, *BETWEEN), Hint(EventKind.LAUGH, 3.0, SECONDS)]
    found = events_in(a_scene(SHORT, later, words=WORDS), hints)

    assert kinds(found) == [EventKind.LAUGH, EventKind.LAUGH]
    assert [event.start for event in found] == pytest.approx([SHORT.start, later.start], abs=0.05)


@pytest.mark.parametrize("kind", ALONE)
def test_quietened_events_are_as_soft_as_the_room_and_the_rest_is_kept_bit_for_bit(kind: EventKind) -> None:
    scene = a_scene(ALONE[kind], words=WORDS)
    (event,) = events_in(scene)
    quiet = quietened(scene, [event])
    first, stop = round(event.start * 100), round(event.stop * 100)

    assert np.array_equal(quiet[: first * HOP], scene.signal[: first * HOP])
    assert np.array_equal(quiet[stop * HOP :], scene.signal[stop * HOP :])
    assert listen(quiet).level[first:stop].mean() == pytest.approx(scene.view.room, abs=6)
    assert events_in(replace(scene, signal=quiet, view=listen(quiet))) == []


def test_where_nothing_happens_nothing_is_quietened() -> None:
    scene = a_scene(words=WORDS)

    assert quietened(scene, []) is not scene.signal
    assert np.array_equal(quietened(scene, []), scene.signal)


@pytest.mark.parametrize("samples", [0, 1, 100, 159, 160, 161, 640, 800, RATE])
@pytest.mark.parametrize("loudness", [0.0, 0.1])
def test_no_signal_is_too_short_or_too_silent(samples: int, loudness: float) -> None:
    signal = listened(loudness * np.random.default_rng(0).normal(size=samples))
    scene = scene_of(signal, [0.0, 0.3, 9.0], heard_nothing(samples / RATE), (Track(HOP, ()), RATE))
    found = events_in(scene, [Hint(EventKind.SIGH, 0.0, 9.0), Hint(EventKind.LAUGH, 2.0, 1.0)])

    assert len(quietened(scene, found)) == samples
    assert scene.whispered == scene.spoken.any()
    assert all(np.isfinite([event.start, event.stop]).all() for event in found)


def test_a_take_is_whispered_where_nothing_that_is_spoken_has_a_pitch() -> None:
    whispered = Sounding(1.0, breath(np.ones(50), LOUD))

    assert a_scene(words=[whispered]).whispered
    assert not a_scene(words=WORDS).whispered
    assert not a_scene(whispered).whispered


@pytest.mark.parametrize("sample_rate", [8000, 16000, 22050, 44100])
def test_a_pitch_lies_on_the_same_rows_at_any_sample_rate(sample_rate: int) -> None:
    hop = sample_rate // 100
    track = Track(hop, tuple(100.0 if time >= 0.5 else None for time in np.arange(0, 1, hop / sample_rate)))
    hertz = hertz_by_rows(track, sample_rate, 101)

    assert np.flatnonzero(hertz)[0] in (50, 51)
    assert set(hertz[51:].tolist()) == {100.0}
