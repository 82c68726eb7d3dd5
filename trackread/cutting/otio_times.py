"""Times of OpenTimelineIO, which are floats, as exact seconds and rates."""

import math
from fractions import Fraction
from functools import lru_cache

import opentimelineio as otio

from trackread.core.timebase import NAMED_RATES
from trackread.errors import CutError

# 23.98 stands for 24000/1001, which is 0.004 away.
NEAR = Fraction(1, 200)
# What is counted at one rate and written at another has a fraction of 1001 parts at most.
PARTS = 1001
SPEED_PARTS = 10**6


@lru_cache(maxsize=100)  # a timeline asks for few rates, and for each many times
def exact_rate(hertz: float) -> Fraction:
    """The rate that a float stands for: one of picture work if it is near, else itself.

    Raises CutError unless it is above 0.
    """
    if not (math.isfinite(hertz) and hertz > 0):
        raise CutError(f"{hertz:g} is no rate: it is above 0")
    rate = Fraction(hertz)
    nearest = min(NAMED_RATES.values(), key=lambda named: abs(named - rate))
    return nearest if abs(nearest - rate) < NEAR else rate.limit_denominator(PARTS)


def exact_seconds(time: otio.opentime.RationalTime) -> Fraction:
    """The seconds of a time. Raises CutError for one that is none."""
    if not math.isfinite(time.value):
        raise CutError(f"{time.value:g} is no time")
    return Fraction(time.value).limit_denominator(PARTS) / exact_rate(time.rate)


def exact_speed(scalar: float) -> Fraction:
    """The speed that a float stands for. Raises CutError for one that is none."""
    if not math.isfinite(scalar):
        raise CutError(f"{scalar:g} is no speed")
    return Fraction(scalar).limit_denominator(SPEED_PARTS)
