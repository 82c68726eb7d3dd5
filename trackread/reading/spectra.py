"""What a signal looks like every 5 ms: bands, level, crossings, voicing.

Frame k is centred on k x 5 ms. All functions take a 16 kHz signal, shape (samples,), and return
float32, one row a frame; there are `len(signal) // 80 + 1` rows.
"""

import functools
from dataclasses import dataclass
from importlib.resources import files

import numpy as np

from trackread.reading.sounds import RATE

HOP_SAMPLES = 80
HOP = HOP_SAMPLES / RATE
BANDS = 20
FLOOR = 1e-5  # noise of -100 dBFS, so that digital silence has a level
LOUD_BELOW = 35  # dB under the 95th percentile of level: speech, not room


@dataclass(frozen=True, slots=True)
class Spectra:
    """The analysis of one stretch; `loud` marks the rows that are speech rather than room."""

    bands: np.ndarray  # (rows, BANDS) dB
    level: np.ndarray  # (rows,) dB
    crossings: np.ndarray  # (rows,) share of neighbouring samples with different signs
    voicing: np.ndarray  # (rows,) 0 to 1, the highest autocorrelation from 67 to 400 Hz
    burst: np.ndarray  # (5 x rows,) dB above 1.5 kHz every millisecond
    loud: np.ndarray  # (rows,) bool


def analyse(signal: np.ndarray) -> Spectra:
    """Every view of a signal, which should be a stretch of seconds, not of minutes."""
    noise = np.random.default_rng(0).normal(0, FLOOR, len(signal)).astype(np.float32)
    noisy = signal.astype(np.float32) + noise
    level = level_of(noisy)
    return Spectra(
        bands=bands_of(noisy),
        level=level,
        crossings=crossings_of(signal),
        voicing=voicing_of(signal),
        burst=burst_of(noisy),
        loud=level > np.percentile(level, 95) - LOUD_BELOW,
    )


def framed(signal: np.ndarray, length: int, hop: int = HOP_SAMPLES) -> np.ndarray:
    """Overlapping windows, shape (rows, length), each centred on its row."""
    padded = np.pad(signal, (length // 2, length // 2 + hop))
    return np.lib.stride_tricks.sliding_window_view(padded, length)[::hop][: len(signal) // hop + 1]


def decibels(power: np.ndarray, *, floor: float) -> np.ndarray:
    """Power in dB, float32; `floor` is added so that nothing is endlessly quiet."""
    return np.asarray(10 * np.log10(power + floor), np.float32)


def bands_of(signal: np.ndarray) -> np.ndarray:
    """Power in BANDS mel-spaced bands from 60 to 7600 Hz, dB, window of 16 ms."""
    power = np.abs(np.fft.rfft(framed(signal, 256) * np.hanning(256).astype(np.float32), 512)) ** 2
    return decibels(power @ band_filters().T, floor=1e-7)


@functools.cache
def band_filters() -> np.ndarray:
    """The bands' weights on 257 bins, each adding up to 1: made once with librosa, whose import costs 145 MB."""
    with (files("trackread.reading") / "models" / "bands.npy").open("rb") as file:
        return np.asarray(np.load(file))


def level_of(signal: np.ndarray) -> np.ndarray:
    return decibels((framed(signal, 256) ** 2).mean(1), floor=1e-8)


def crossings_of(signal: np.ndarray) -> np.ndarray:
    return np.asarray(np.diff(np.signbit(framed(signal, 256)), axis=1).mean(1), np.float32)


def voicing_of(signal: np.ndarray) -> np.ndarray:
    """The highest normalised autocorrelation at lags of 2.5 to 15 ms, window of 30 ms (Boersma 1993)."""
    window = np.hanning(480).astype(np.float32)
    of_window = np.fft.irfft(np.abs(np.fft.rfft(window, 1024)) ** 2)[40:240]
    of_window /= (window**2).sum()
    frames = framed(signal.astype(np.float32), 480)
    frames = (frames - frames.mean(1, keepdims=True)) * window
    correlation = np.fft.irfft(np.abs(np.fft.rfft(frames, 1024)) ** 2)
    peaks = correlation[:, 40:240] / (correlation[:, :1] + 1e-6) / of_window
    return np.asarray(np.clip(peaks.max(1), 0, 1), np.float32)


def burst_of(signal: np.ndarray) -> np.ndarray:
    """Level above 1.5 kHz every millisecond, dB, window of 5 ms: where a stop bursts."""
    power = np.abs(np.fft.rfft(framed(signal, 80, hop=16) * np.hanning(80), 128)) ** 2
    return decibels(power[:, 12:60].sum(1), floor=1e-7)
