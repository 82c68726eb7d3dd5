"""The greys of a spectrogram against scipy's spectra of the same windows, and where tones and clicks lie."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import spectrogram

from tests.waves import noise
from trackread.reading.spectrogram import BANDS, HIGHEST, LOWEST, MOST_WINDOWS, RANGE, WINDOW, greys

RATE = 16_000
LENGTH = int(WINDOW * RATE)
STEP = 255 / RANGE  # greys to a dB
LOUDEST = -10.0  # dB


def of(signal, edges, *, rate=RATE, loudest=LOUDEST):
    return greys(lambda a, b: signal[a:b].astype(np.float32), rate, edges, len(signal), loudest=loudest)


def test_a_row_has_the_spectrum_of_the_window_in_its_middle():
    """scipy.signal.spectrogram with Hann windows, whose bins of 31.25 Hz have our bands' middles at every odd one.

    Its first window has its middle at half a window, as the row around that has.
    """
    signal, hop = noise(RATE // 4), LENGTH // 2
    windows = {"window": "hann", "nperseg": LENGTH, "noverlap": LENGTH - hop, "nfft": 512, "detrend": False}
    bins, _, power = spectrogram(signal, RATE, scaling="spectrum", **windows)
    # A sine at full scale has a power of a half there, and 0 dB here; what is higher by an octave is raised by 6 dB.
    decibels = 10 * np.log10(2 * power[1:256:2].T) + 6 * np.log2(bins[1:256:2] / 1000)
    found = of(signal, range(hop // 2, RATE // 4, hop))[: len(decibels)].astype(int)
    known = (found > 0) & (found < 255) & (bins[1:256:2] > LOWEST)

    assert known.mean() > 0.5
    assert np.abs(found - 255 - STEP * (decibels - LOUDEST))[known].max() <= 1.01


@given(st.integers(10, BANDS - 3), st.sampled_from([16_000, 44_100, 48_000, 96_000]))
def test_a_tone_lies_in_its_band(band, rate):
    """Or in the next, which is raised a little more."""
    tone = (band + 0.5) * HIGHEST / BANDS
    signal = 0.5 * np.sin(2 * np.pi * tone * np.arange(rate // 10) / rate)
    found = of(signal, range(rate // 40, rate // 20, rate // 200), rate=rate, loudest=30.0)

    assert {int(row.argmax()) for row in found} <= {band, band + 1}
    assert np.abs(found[:, band].astype(int) - found.max(axis=1)).max() <= STEP


@pytest.mark.parametrize("step", [16, 100, 700])
@given(data=st.data())
def test_a_click_lies_in_the_row_where_it_is(step, data):
    edges = range(0, 30 * step, step)
    click = data.draw(st.integers(step, 28 * step))
    signal = np.zeros(30 * step)
    signal[click] = 1
    dark = of(signal, edges, loudest=0.0).astype(int).sum(axis=1)

    assert dark[click // step] >= dark.max() * 0.97
    assert not dark[: max((click - LENGTH) // step, 0)].any()


def test_a_long_row_is_looked_at_in_places_and_a_short_last_one_has_its_own():
    signal = noise(100_000)
    found = of(signal, [0, 40_000, 80_000, 99_999])
    sparse = MOST_WINDOWS * LENGTH < 40_000

    assert sparse
    assert found.shape == (3, BANDS)
    assert found.min() > 0


def test_a_recording_has_nothing_from_half_its_rate_on():
    found = of(noise(8000), range(0, 8000, 100), rate=8000)

    assert not found[:, BANDS // 2 :].any()
    assert found[:, 10:60].all()
