"""The sound of a film as the movie has it: at 48 kHz, from the first frame's start to the last one's stop.

Sample 0 is the start of frame 0. Samples have the shape (channels, samples) once they are made ready.
"""

from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from av import AudioFrame, AudioResampler
from numpy.typing import NDArray

from trackread.core.timebase import first_sample_of
from trackread.errors import FilmError
from trackread.film.film import Film

RATE = 48_000
FULL_SCALE = 32_768  # of 16 bits
LAYOUTS = {1: "mono", 2: "stereo"}

Samples = NDArray[np.float32] | NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Soundtrack:
    """What is heard: `samples` in the shape (samples,) or (samples, 1 or 2 channels), from -1 to 1 or of 16 bits."""

    samples: Samples
    sample_rate: int

    def __post_init__(self) -> None:
        if self.samples.dtype not in (np.float32, np.int16):
            raise ValueError(f"samples are float32 or int16, not {self.samples.dtype}")
        if self.samples.ndim not in (1, 2) or self.samples.shape[1:] not in ((), (1,), (2,)):
            raise ValueError(f"sound has one or two channels, not the shape {self.samples.shape}")
        if self.sample_rate <= 0:
            raise ValueError(f"a rate is above zero, not {self.sample_rate}")


def check_length(sound: Soundtrack, film: Film) -> None:
    """Raises FilmError for a sound that is longer or shorter than the film by more than a frame."""
    lasts = Fraction(len(sound.samples), sound.sample_rate)
    runs = film.length / film.rate.per_second
    if abs(lasts - runs) > 1 / film.rate.per_second:
        raise FilmError(
            f"the sound lasts {float(lasts):.3f} s and the film's {film.length} frames last {float(runs):.3f} s: "
            "give the sound of just these frames, no more than a frame longer or shorter"
        )


def sound_of(sound: Soundtrack, film: Film) -> NDArray[np.float32]:
    """The sound at 48 kHz, exactly as long as the film: what is missing of a frame is silence, what is over is cut.

    Raises FilmError as `check_length`.
    """
    check_length(sound, film)
    samples = sound.samples if sound.samples.ndim == 2 else sound.samples[:, None]
    levels = samples / np.float32(FULL_SCALE) if samples.dtype == np.int16 else samples
    channels = np.ascontiguousarray(levels.T, dtype=np.float32)
    length = first_sample_of(film.length, RATE, film.rate)
    ready = np.zeros((len(channels), length), np.float32)
    heard = (channels if sound.sample_rate == RATE else resampled(channels, sound.sample_rate))[:, :length]
    ready[:, : heard.shape[1]] = heard
    return ready


def frame_of(samples: NDArray[np.float32], sample_rate: int) -> AudioFrame:
    """Samples as the sound library takes them."""
    frame = AudioFrame.from_ndarray(np.ascontiguousarray(samples), format="fltp", layout=LAYOUTS[len(samples)])
    frame.sample_rate = sample_rate
    frame.time_base = Fraction(1, sample_rate)
    return frame


def resampled(samples: NDArray[np.float32], sample_rate: int) -> NDArray[np.float32]:
    """Samples at RATE, in the shape (channels, samples)."""
    if not samples.shape[1]:
        return samples
    resampler = AudioResampler(format="fltp", layout=LAYOUTS[len(samples)], rate=RATE)
    frame = frame_of(samples, sample_rate)
    frame.pts = 0
    parts = [part.to_ndarray() for part in (*resampler.resample(frame), *resampler.resample(None))]
    return np.concatenate(parts, axis=1).astype(np.float32)
