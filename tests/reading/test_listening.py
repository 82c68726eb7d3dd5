"""Tones and noise whose levels and bands are known."""

import numpy as np
import pytest

from tests.reading.test_events import breath, buzz, swelling, through_mouth, voice
from trackread.reading.listening import HOP, PIECE, SMOOTH, is_noise, listen
from trackread.reading.sounds import RATE


def tone(hertz: float, seconds: float = 1.0) -> np.ndarray:
    return 0.1 * np.sin(2 * np.pi * hertz * np.arange(round(seconds * RATE)) / RATE)


def white(seconds: float, seed: int = 0) -> np.ndarray:
    return np.random.default_rng(seed).normal(0, 0.1, round(seconds * RATE))


@pytest.mark.parametrize(
    ("hertz", "low", "high"), [(200, 1, 0), (900, 1, 0), (1200, 0, 0), (3800, 0, 0), (4300, 0, 1), (7000, 0, 1)]
)
def test_a_tone_lies_in_its_band(hertz: float, low: float, high: float) -> None:
    view = listen(tone(hertz))

    assert view.low[10:-10] == pytest.approx(low, abs=0.01)
    assert view.high[10:-10] == pytest.approx(high, abs=0.01)


@pytest.mark.parametrize("hertz", [20, 50, 90])
def test_rumble_is_heard_20_db_softer_and_more(hertz: float) -> None:
    assert listen(tone(hertz)).level[10:-10].max() < listen(tone(1000)).level[10:-10].min() - 20


# The power of a ratio of amplitudes in dB: 20 log10.
@pytest.mark.parametrize(("times", "decibels"), [(2, 6.02), (10, 20), (0.01, -40)])
def test_levels_are_decibels(times: float, decibels: float) -> None:
    once, louder = listen(white(1.0)), listen(times * white(1.0))

    assert louder.level - once.level == pytest.approx(decibels, abs=0.01)


def test_row_k_is_centred_on_k_hops() -> None:
    signal = np.zeros(RATE)
    signal[5000:11000] = tone(1000)[:6000]
    level = listen(signal).level
    half = np.flatnonzero(level > level.max() - 6)

    assert (half[0] + half[-1]) / 2 * HOP == pytest.approx(8000, abs=HOP)


def test_the_room_and_the_voice_are_told_apart_and_only_the_voice_sounds() -> None:
    signal = 0.001 * white(3.0)
    signal[RATE : 2 * RATE] += tone(500)
    view = listen(signal)

    assert view.voice > view.room + 40
    assert view.sounds[102:199].all()
    assert not view.sounds[:97].any()
    assert not view.sounds[204:].any()


def test_an_even_noise_is_the_room() -> None:
    assert not listen(white(3.0)).sounds.any()


def test_the_first_and_last_rows_are_as_loud_as_their_neighbours() -> None:
    level = listen(1e-4 * white(1.0)).level

    # Half of the first window lies before the take.
    assert level[[0, -1]] == pytest.approx(np.median(level), abs=8)


def test_a_long_take_is_heard_as_its_pieces_are() -> None:
    signal = white(PIECE * HOP / RATE + 5)
    whole, tail = listen(signal), listen(signal[(PIECE - 100) * HOP :])

    assert whole.level[PIECE - 90 : -SMOOTH] == pytest.approx(tail.level[10:-SMOOTH], abs=1e-3)
    assert whole.high[PIECE - 90 :] == pytest.approx(tail.high[10:], abs=1e-5)


@pytest.mark.parametrize("samples", [0, 1, 100, 160, 399, 640, 801])
def test_every_signal_has_a_row_each_hop_however_short(samples: int) -> None:
    for signal in (np.zeros(samples), white(1.0)[:samples]):
        view = listen(signal)

        assert {len(rows) for rows in (view.level, view.low, view.high, view.sounds)} == {samples // HOP + 1}
        assert np.isfinite([view.level, view.low, view.high]).all()


def test_in_digital_silence_nothing_sounds() -> None:
    assert not listen(np.zeros(RATE)).sounds.any()


# 300 to 3400 Hz: the band of a telephone line (ITU-T G.712).
@pytest.mark.parametrize(("low", "high", "narrow"), [(300, 3400, True), (50, 3500, True), (50, 7000, False)])
def test_a_narrow_line_is_known_by_what_it_does_not_pass(low: float, high: float, narrow: bool) -> None:
    # Speech falls about 6 dB an octave (common knowledge, no source).
    take = np.cumsum(np.concatenate([white(1.0), -white(1.0)[::-1]])) * np.hanning(2 * RATE)
    hertz = np.fft.rfftfreq(2 * RATE, 1 / RATE)
    line = np.fft.irfft(np.fft.rfft(take) * (hertz > low) * (hertz < high))

    assert listen(line * np.hanning(2 * RATE)).narrow is narrow


@pytest.mark.parametrize("seed", range(3))
def test_breath_is_noise(seed: int) -> None:
    signal = breath(swelling(1.0), seed=seed)

    assert is_noise(signal, 0.1, 0.9)
    assert is_noise(white(1.0, seed), 0.1, 0.9)


# Creak has 20 to 60 pulses a second (from memory; Keating, Garellek and Kreiman 2015).
@pytest.mark.parametrize("pulses", [20.0, 30.0, 40.0, 60.0])
def test_the_pulses_of_a_creak_are_no_noise(pulses: float) -> None:
    assert not is_noise(voice(1.0, pulses), 0.1, 0.9)


def test_a_creak_over_rumble_and_in_a_room_is_no_noise() -> None:
    creak = 0.3 * through_mouth(buzz(1.0, 40.0), width=80)
    signal = creak + 3 * tone(30) + 0.003 * white(1.0)

    assert not is_noise(signal, 0.1, 0.9)


def test_what_is_too_short_to_tell_counts_as_noise() -> None:
    creak = voice(1.0, 40.0)

    assert is_noise(creak, 0.5, 0.53)
    assert is_noise(creak, 2.0, 3.0)
    assert is_noise(np.zeros(RATE), 0.1, 0.9)
