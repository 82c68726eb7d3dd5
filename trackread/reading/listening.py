"""What a signal is like every 10 ms, away from words: how loud it is and where its sound lies, how noisy a piece is.

Row k is centred on k x 10 ms of a 16 kHz signal. Levels are dB of what is heard above 150 Hz: below that a room
rumbles and a hand touches the microphone.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from trackread.reading.sounds import RATE

HOP = 160
WINDOW = 400
PIECE = 3000  # rows analysed at once: 30 s
LOW, MIDDLE, HIGH, TOP = 150, 1000, 4000, 7600  # hertz: the edges of the three bands
SMOOTH = 5  # rows
QUIETEST, LOUDEST = 10, 97  # percentiles of level: the room, and the voice at its loudest
# A row sounds when it stands this far above the room, and no further than this below the voice at its loudest.
ABOVE_ROOM, BELOW_VOICE = 10.0, 48.0

# Loudest sound above 4 kHz beside the voice at its loudest, dB. In 64 takes it was -41 at the least, and at the most
# -48 once they had gone through a line of 8 kHz.
NARROW = -45.0
BURST = 800  # samples, 50 ms: as much as three pulses of a creak
NOISE_KURTOSIS = 6.0


@dataclass(frozen=True, slots=True)
class Listening:
    """`level` in dB, `low` and `high` the shares of power below 1 and above 4 kHz; each (rows,). `sounds` is bool.

    `room` and `voice` are the levels of the room and of the voice at its loudest.
    """

    level: np.ndarray
    low: np.ndarray
    high: np.ndarray
    sounds: np.ndarray
    room: float
    voice: float

    @property
    def narrow(self) -> bool:
        """Whether the take was recorded through a line that passes nothing above 4 kHz."""
        return bool((self.level + 10 * np.log10(self.high + 1e-12)).max() < self.voice + NARROW)


def listen(signal: np.ndarray) -> Listening:
    """The view of a whole take, made in pieces."""
    bands = np.concatenate(list(band_powers(signal)))
    power = bands.sum(1) + 1e-9
    around = np.pad(10 * np.log10(power), SMOOTH // 2, "edge")
    level = np.convolve(around, np.ones(SMOOTH) / SMOOTH, "valid")
    room, voice = (float(np.percentile(level, share)) for share in (QUIETEST, LOUDEST))
    sounds = level > max(room + ABOVE_ROOM, voice - BELOW_VOICE)
    return Listening(level, bands[:, 0] / power, bands[:, 2] / power, sounds, room, voice)


def band_powers(signal: np.ndarray) -> Iterator[np.ndarray]:
    """Power in the three bands, (rows, 3), piece by piece."""
    hertz = np.fft.rfftfreq(512, 1 / RATE)
    edges = (LOW, MIDDLE, HIGH, TOP)
    bands = np.array([(hertz >= a) & (hertz < b) for a, b in pairwise(edges)], np.float32)
    window = np.hanning(WINDOW).astype(np.float32)
    rows = len(signal) // HOP + 1
    for first in range(0, rows, PIECE):
        stop = min(first + PIECE, rows)
        before, after = first * HOP - WINDOW // 2, (stop - 1) * HOP + WINDOW // 2
        inside = signal[max(before, 0) : after].astype(np.float32)
        missing = max(-before, 0)
        piece = np.pad(inside, (missing, after - before - missing - len(inside)))
        frames = np.lib.stride_tricks.sliding_window_view(piece, WINDOW)[::HOP]
        yield np.abs(np.fft.rfft(frames * window, 512)) ** 2 @ bands.T


def is_noise(signal: np.ndarray, start: float, stop: float) -> bool:
    """Whether the sound from `start` to `stop` (seconds) is noise, as breath is, and not the pulses of a creaky voice.

    Noise has a kurtosis of 3; creak, whose pitch Praat does not find, had 8 to 24 in the takes that were tried, breath
    3 to 5. The middle of the kurtosis of windows of 50 ms counts.
    """
    piece = signal[int(start * RATE) : int(stop * RATE)].astype(np.float64)
    if len(piece) < BURST:
        return True
    # A first difference takes away rumble, which would hide the pulses.
    frames = np.lib.stride_tricks.sliding_window_view(np.diff(piece), BURST - 1)[:: BURST // 2]
    frames = frames - frames.mean(1, keepdims=True)
    kurtosis = (frames**4).mean(1) / ((frames**2).mean(1) ** 2 + 1e-20)
    return bool(np.median(kurtosis) < NOISE_KURTOSIS)
