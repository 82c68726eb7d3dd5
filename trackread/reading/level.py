"""How loud a signal is at given times.

Levels are root mean square in dB below full scale, where 0 dB is an RMS of 1: a sine that just reaches
full scale has -3.01 dB. Times are float seconds from the first sample.
"""

from collections.abc import Sequence

import numpy as np

from trackread.reading.sounds import RATE

WINDOW = 0.030  # two periods of the lowest voices, so that the level does not beat with the voice
FLOOR = -100.0  # dB: lower than any recorder's noise, and what digital silence is given
ROWS = 4096  # times at once: 8 MB of windows


def level_at(signal: np.ndarray, times: Sequence[float] | np.ndarray) -> tuple[float, ...]:
    """The level about each time, in dB, FLOOR at least; outside the signal it is FLOOR.

    The signal is (samples,) at 16 kHz; its mean, a recorder's offset, is not heard. A Hann window of
    WINDOW seconds is centred on each time; where it reaches over an end, only what is inside counts.
    """
    centres = np.rint(np.asarray(times, np.float64) * RATE).astype(np.int64)
    mean = np.float32(signal.mean(dtype=np.float64)) if len(signal) else np.float32(0)
    blocks = [power_about(signal, centres[k : k + ROWS], mean) for k in range(0, len(centres), ROWS)]
    power = np.concatenate([np.zeros(0), *blocks])
    return tuple((10 * np.log10(np.maximum(power, 10 ** (FLOOR / 10)))).tolist())


def power_about(signal: np.ndarray, centres: np.ndarray, mean: np.float32) -> np.ndarray:
    """The windowed mean square about each centre (a sample), shape (centres,); 0 outside the signal."""
    half = round(WINDOW * RATE / 2)
    window = np.hanning(2 * half + 3)[1:-1]
    index = centres[:, None] + np.arange(-half, half + 1)
    inside = (index >= 0) & (index < len(signal))
    if not inside.any():
        return np.zeros(len(centres))
    squares = (signal[np.clip(index, 0, len(signal) - 1)] - mean) ** 2
    weights = inside * window
    return np.asarray((squares * weights).sum(1) / np.maximum(weights.sum(1), window.min()))
