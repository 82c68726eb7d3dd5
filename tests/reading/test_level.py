import math

import numpy as np
import pytest

from trackread.reading.level import FLOOR, level_at
from trackread.reading.sounds import RATE

TIMES = np.arange(0, 1, 0.01)


def a_sine(hertz: float, peak: float) -> np.ndarray:
    return (peak * np.sin(2 * np.pi * hertz * np.arange(RATE) / RATE)).astype(np.float32)


# The RMS of a sine is its peak over the root of two (elementary calculus), 3.01 dB under it.
@pytest.mark.parametrize("hertz", [70, 120, 440, 3000])
@pytest.mark.parametrize("peak", [1.0, 0.5, 0.001])
def test_a_sine_has_the_level_of_its_rms_up_to_both_ends(hertz: float, peak: float) -> None:
    levels = level_at(a_sine(hertz, peak), TIMES)

    assert levels == pytest.approx([20 * math.log10(peak / math.sqrt(2))] * len(TIMES), abs=0.1)


def test_half_the_signal_is_six_decibels_less() -> None:
    louder = np.array(level_at(a_sine(200, 0.8), TIMES))
    softer = np.array(level_at(a_sine(200, 0.4), TIMES))

    assert louder - softer == pytest.approx(20 * math.log10(2), abs=0.001)


def test_silence_and_times_outside_the_signal_have_the_floor() -> None:
    assert level_at(np.zeros(RATE, np.float32), [0.0, 0.5]) == pytest.approx([FLOOR, FLOOR])
    assert level_at(a_sine(200, 1.0), [-0.1, 1.1, 9.0]) == pytest.approx([FLOOR] * 3)
    assert level_at(np.zeros(0, np.float32), [0.0]) == pytest.approx([FLOOR])


def test_the_offset_of_a_recorder_is_not_heard() -> None:
    assert level_at(a_sine(200, 0.1) + np.float32(0.3), TIMES) == pytest.approx(
        level_at(a_sine(200, 0.1), TIMES), abs=0.01
    )


def test_a_burst_is_loud_where_it_is_and_nowhere_else() -> None:
    signal = a_sine(1000, 0.5)
    signal[: RATE // 2] = 0
    before, after = level_at(signal, [0.48, 0.52])

    assert before < -95
    assert after == pytest.approx(20 * math.log10(0.5 / math.sqrt(2)), abs=0.1)


def test_many_times_are_levelled_as_one() -> None:
    signal = np.random.default_rng(1).normal(0, 0.1, 2 * RATE).astype(np.float32)
    times = np.arange(0, 2, 0.0002)
    chosen = [0, 4095, 4096, 9999]

    assert [level_at(signal, times)[k] for k in chosen] == pytest.approx(list(level_at(signal, times[chosen])))
