"""The spectrogram of a recording for the eye: how strong each band of frequencies is in each row of samples.

Wide-band: windows of 5 ms (Hann, 288 Hz wide at -3 dB: Harris 1978, table 1), in which each beat of the vocal folds is
seen. Bands run evenly from 0 to 8 kHz; what lies higher is raised by 6 dB an octave, as sounds of speech fall off
(common practice, no source). Greys from 0 to 255 are the 50 dB below what counts as loudest.
"""

from collections.abc import Callable, Iterator, Sequence
from math import ceil

import numpy as np

WINDOW = 0.005  # seconds
HIGHEST = 8000  # hertz
BANDS = 128
RANGE = 50  # dB
RISE = 6  # dB an octave, 0 at 1 kHz
LOWEST = 50  # hertz: what lies lower is lowered no further
MOST_WINDOWS = 16  # in a row; those of a longer row lie apart, and what is between them is not seen
AT_ONCE = 1 << 18  # samples that are held in memory, or those of one row

Piece = Callable[[int, int], np.ndarray]  # the samples from one to before another, all within the recording


def greys(piece: Piece, rate: int, edges: Sequence[int], samples: int, *, loudest: float) -> np.ndarray:
    """The strongest of each band in each row of samples: uint8, shape (rows, BANDS), lowest band first.

    Row k has the samples from edges[k] to before edges[k + 1], of `samples` that there are: a window in its middle, or
    as many as cover it. `loudest`, in dB, is a full grey: 0 is a sine of 1 kHz at full scale.
    """
    length = max(int(WINDOW * rate) // 2 * 2, 2)
    starts, steps = np.array(edges[:-1])[:, None], np.diff(edges)[:, None]
    each = min(max(ceil(2 * int(steps.max()) / length), 1), MOST_WINDOWS)
    places = starts + (2 * np.arange(each) + 1) * steps // (2 * each)
    waves = waves_of_bands(length, rate)
    rows = []
    for middles in parted(places):
        first, stop = int(middles[0, 0]) - length // 2, int(middles[-1, -1]) + length // 2
        heard = np.zeros(stop - first, np.float32)
        heard[max(-first, 0) : min(stop, samples) - first] = piece(max(first, 0), min(stop, samples))
        windows = np.lib.stride_tricks.sliding_window_view(heard, length)[middles.ravel() - middles[0, 0]]
        powers = np.square(windows @ waves).reshape(len(middles), each, 2, BANDS)
        rows.append(powers.sum(axis=2).max(axis=1))
    decibels = 10 * np.log10(np.concatenate(rows) + np.float32(1e-20)) + raised(rate)
    found: np.ndarray = np.clip(255 * (decibels - loudest + RANGE) / RANGE, 0, 255).astype(np.uint8)
    return found


def parted(places: np.ndarray) -> Iterator[np.ndarray]:
    """Some rows of places at a time, so that not all of a long recording is held."""
    step = max(AT_ONCE * len(places) // max(int(places[-1, -1] - places[0, 0]), 1), 1)
    for first in range(0, len(places), step):
        yield places[first : first + step]


def waves_of_bands(length: int, rate: int) -> np.ndarray:
    """What a window is multiplied with: a cosine for each band and a sine for each; float32, shape (length, 2 * BANDS).

    A sine at full scale comes out with a power of 1.
    """
    window = np.hanning(length + 1)[:-1]
    turns = 2 * np.pi * np.arange(length)[:, None] / rate * middles_of_bands()[None, :]
    both = window[:, None] * np.concatenate([np.cos(turns), np.sin(turns)], axis=1)
    waves: np.ndarray = (2 * both / window.sum()).astype(np.float32)
    return waves


def raised(rate: int) -> np.ndarray:
    """How far each band is raised, in dB; a recording has nothing from half its rate on."""
    bands = middles_of_bands()
    return np.where(bands < rate / 2, RISE * np.log2(np.maximum(bands, LOWEST) / 1000), -np.inf)


def middles_of_bands() -> np.ndarray:
    """The middle of each band, in hertz."""
    return (np.arange(BANDS) + 0.5) * HIGHEST / BANDS
