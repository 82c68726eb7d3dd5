"""What a signal looks like every 5 ms, held to librosa and to sounds whose look is known."""

import librosa
import numpy as np

from tests.scripts.loading import script
from trackread.reading.sounds import RATE
from trackread.reading.spectra import (
    BANDS,
    HOP_SAMPLES,
    analyse,
    band_filters,
    bands_of,
    burst_of,
    crossings_of,
    level_of,
    voicing_of,
)

TIME = np.arange(RATE) / RATE
NOISE = np.random.default_rng(0).normal(0, 0.1, RATE).astype(np.float32)
VOICE = sum(np.sin(2 * np.pi * 120 * k * TIME) / k for k in range(1, 30)).astype(np.float32) / 4


def test_the_kept_filters_are_those_that_librosa_makes() -> None:
    assert np.array_equal(band_filters(), script("make-bands").filters())


def test_bands_are_librosas_mel_spectrogram_in_decibels() -> None:
    # librosa's own framing, window and Fourier transform, on the same filters: an independent road to the same rows.
    power = np.abs(librosa.stft(VOICE, n_fft=512, win_length=256, hop_length=HOP_SAMPLES, window=np.hanning(256))) ** 2
    expected = 10 * np.log10(band_filters() @ power + 1e-7).T

    ours = bands_of(VOICE)

    assert ours.shape == expected.shape
    # librosa centres its window half a sample later and mirrors the ends, so the first and last rows differ.
    assert np.abs(ours - expected)[10:-10].mean() < 0.5


def test_there_is_a_row_every_5_ms_in_every_view() -> None:
    seen = analyse(NOISE)

    rows = RATE // HOP_SAMPLES + 1
    assert seen.bands.shape == (rows, BANDS)
    assert {len(view) for view in (seen.level, seen.crossings, seen.voicing, seen.loud)} == {rows}
    assert abs(len(seen.burst) - 5 * rows) <= 5


def test_a_full_sine_has_a_level_of_minus_3_decibels() -> None:
    sine = np.sin(2 * np.pi * 1000 * TIME).astype(np.float32)

    assert np.allclose(level_of(sine)[10:-10], 10 * np.log10(0.5), atol=0.05)


def test_a_sine_crosses_zero_twice_a_period() -> None:
    sine = np.sin(2 * np.pi * 1000 * TIME + 0.1).astype(np.float32)

    assert np.allclose(crossings_of(sine)[10:-10], 2000 / RATE, atol=0.005)


def test_a_voice_is_voiced_and_noise_is_not() -> None:
    assert voicing_of(VOICE)[10:-10].min() > 0.95
    assert np.median(voicing_of(NOISE)) < 0.5


def test_a_click_stands_in_the_burst_row_of_its_millisecond() -> None:
    click = np.zeros(RATE, np.float32)
    click[RATE // 2] = 0.9

    assert abs(int(burst_of(click).argmax()) - 500) <= 2


def test_only_speech_is_loud() -> None:
    spoken = np.concatenate([NOISE * 0.001, VOICE, NOISE * 0.001])

    loud = analyse(spoken).loud

    assert loud[210:390].all()
    assert not loud[:190].any()
