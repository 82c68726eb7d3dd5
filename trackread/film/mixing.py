"""Pieces of recordings mixed as they play: each where it begins, as fast as it runs, softer where it fades.

A piece that is sped up sounds higher, as tape does, and one with a speed below 0 plays backwards. It is put on the
sample nearest to its frame, which at 48 kHz is 10 microseconds off at the most.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from trackread.core.timebase import Frame, FrameRate, first_sample_of
from trackread.film.sound import RATE, Soundtrack, resampled

Mono = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a recording that plays on frames `first` to before `stop`.

    Its `samples` at `sample_rate` lie from the earliest of the recording that is heard to the latest; of what plays
    before them, `missing` samples are not there. A fade is the frame on which it begins and that on which it is over,
    which may lie outside; None is no fade.
    """

    samples: Mono
    sample_rate: int
    first: Frame
    stop: Frame
    missing: int = 0
    speed: Fraction = Fraction(1)
    fade_in: tuple[int, int] | None = None
    fade_out: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        if self.first >= self.stop or not self.speed or self.samples.ndim != 1:
            raise ValueError(f"a part plays on frames, not from {self.first} to {self.stop}")


def mixed(parts: Iterable[Part], length: int, rate: FrameRate) -> Soundtrack:
    """The sum of all parts on `length` frames from frame 0, softer where it would pass full scale."""
    total = np.zeros(first_sample_of(length, RATE, rate), np.float32)
    for part in parts:
        at = first_sample_of(part.first, RATE, rate)
        heard = played(part, rate)[: max(0, len(total) - at)]
        total[at : at + len(heard)] += heard
    peak = np.float32(np.abs(total).max(initial=1.0))
    return Soundtrack(total / peak, RATE)


def played(part: Part, rate: FrameRate) -> Mono:
    """A part at RATE as it is heard, from its first frame on."""
    heard_from = part.samples if part.speed > 0 else part.samples[::-1]
    source = np.concatenate([np.zeros(part.missing, np.float32), heard_from])
    heard = at_rate(source, abs(part.speed) * part.sample_rate)
    heard = heard[: first_sample_of(part.stop, RATE, rate) - first_sample_of(part.first, RATE, rate)]
    return (heard * gain_of(part, len(heard), rate)).astype(np.float32)


def at_rate(source: Mono, speed: Fraction) -> Mono:
    """Samples, so many of them played in a second, at RATE; of a speed that is no whole number the nearest one is."""
    whole = (2 * speed.numerator + speed.denominator) // (2 * speed.denominator)
    return source if whole == RATE else resampled(source[None, :], max(whole, 1))[0]


def gain_of(part: Part, count: int, rate: FrameRate) -> Mono:
    """How loud each of `count` samples is, on straight lines through its fades."""
    frames = part.first + np.arange(count) * (float(rate.per_second) / RATE)
    gain = np.ones(count)
    if part.fade_in:
        gain *= np.interp(frames, part.fade_in, (0.0, 1.0))
    if part.fade_out:
        gain *= np.interp(frames, part.fade_out, (1.0, 0.0))
    return gain.astype(np.float32)
