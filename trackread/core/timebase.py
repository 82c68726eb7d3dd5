"""Exact time: samples of sound, frames of picture, and the only roundings between them.

Frames and samples count from 0; frame k covers [k/r, (k+1)/r) seconds. Positions are rounded,
never durations, so nothing drifts. Rates are `Fraction`; no float is a time in this module,
except where a float enters through `sample_at_seconds`.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import NewType

from trackread.errors import RateError

Sample = NewType("Sample", int)
Frame = NewType("Frame", int)

# SMPTE ST 12-1: no other rate has a drop-frame count.
DROP_RATES = (Fraction(30000, 1001), Fraction(60000, 1001))


@dataclass(frozen=True, slots=True)
class FrameRate:
    """Pictures a second, exactly, and whether timecode at this rate is counted drop-frame."""

    per_second: Fraction
    drop: bool = False

    def __post_init__(self) -> None:
        if self.per_second <= 0:
            raise ValueError(f"a rate is above zero, not {self.per_second}")
        if self.drop and self.per_second not in DROP_RATES:
            raise ValueError(f"drop-frame exists at 29.97 and 59.94 only, not at {self.per_second}")

    @property
    def base(self) -> int:
        """Frames counted to one second of timecode: 24 for 23.976, since labels have no fractions."""
        return -(-self.per_second.numerator // self.per_second.denominator)

    @property
    def name(self) -> str:
        """The rate as people write it: `24`, `29.97df`."""
        named = (name for name, exact in NAMED_RATES.items() if exact == self.per_second)
        return f"{next(named, self.per_second)}{'df' if self.drop else ''}"

    def __str__(self) -> str:
        """The rate as `parse_rate` reads it back: `24/1`, `30000/1001df`."""
        return f"{self.per_second.numerator}/{self.per_second.denominator}{'df' if self.drop else ''}"


# The names people write, without "df": each is exact, as n/1001 where the standard says so.
NAMED_RATES = {
    "23.976": Fraction(24000, 1001),
    "23.98": Fraction(24000, 1001),
    "24": Fraction(24),
    "25": Fraction(25),
    "29.97": Fraction(30000, 1001),
    "30": Fraction(30),
    "47.952": Fraction(48000, 1001),
    "47.95": Fraction(48000, 1001),
    "48": Fraction(48),
    "50": Fraction(50),
    "59.94": Fraction(60000, 1001),
    "60": Fraction(60),
}


def parse_rate(text: str) -> FrameRate:
    """The rate a person names: `24`, `23.976`, `24000/1001`, `29.97df`, `59.94ndf`; non-drop where not said.

    Raises RateError for a rate that is not among the twelve of picture work.
    """
    name = text.strip().lower()
    drop = name.endswith("df") and not name.endswith("ndf")
    number = name.removesuffix("df" if drop else "ndf").strip()
    exact = {str(rate): rate for rate in NAMED_RATES.values()}
    whole = {f"{rate}/1": rate for rate in NAMED_RATES.values() if rate.denominator == 1}
    rate = {**NAMED_RATES, **exact, **whole}.get(number)
    if rate is None:
        known = ", ".join(dict.fromkeys(name for name in NAMED_RATES if name not in ("23.98", "47.95")))
        raise RateError(f"{text!r} is not a frame rate: use one of {known} (29.97df and 59.94df for drop-frame)")
    if drop and rate not in DROP_RATES:
        raise RateError(f"{text!r} is not a frame rate: drop-frame exists at 29.97 and 59.94 only")
    return FrameRate(rate, drop)


def frame_at(sample: int, sample_rate: int, rate: FrameRate) -> Frame:
    """The frame on screen while `sample` is heard.

    >>> frame_at(2000, 48000, FrameRate(Fraction(24)))
    1
    """
    return Frame(sample * rate.per_second.numerator // (sample_rate * rate.per_second.denominator))


def first_sample_of(frame: int, sample_rate: int, rate: FrameRate) -> Sample:
    """The first sample heard on `frame`: at 44.1 kHz and 24 a second, frame 1 starts with sample 1838."""
    return Sample(-(-frame * sample_rate * rate.per_second.denominator // rate.per_second.numerator))


def nearest_edge(sample: int, sample_rate: int, rate: FrameRate) -> Frame:
    """The frame whose first edge lies nearest to `sample`; half a frame goes to the later edge."""
    frames, samples = sample * rate.per_second.numerator, sample_rate * rate.per_second.denominator
    return Frame((2 * frames + samples) // (2 * samples))


def frames_covering(samples: int, sample_rate: int, rate: FrameRate) -> Frame:
    """How many frames a sound of `samples` needs, the last one perhaps only in part."""
    return Frame(-(-samples * rate.per_second.numerator // (sample_rate * rate.per_second.denominator)))


def sample_at_seconds(seconds: float, sample_rate: int) -> Sample:
    """The sample nearest to a time in seconds, half up: the one door from float time."""
    position = Fraction(seconds) * sample_rate
    return Sample((2 * position.numerator + position.denominator) // (2 * position.denominator))


def resampled(sample: int, sample_rate: int, new_rate: int) -> Sample:
    """The same instant counted at another sample rate, to the nearest sample, half up."""
    return Sample((2 * sample * new_rate + sample_rate) // (2 * sample_rate))
