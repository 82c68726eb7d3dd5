"""How far one set of marks lies from another: the figures of a score table.

Errors are whole microseconds, estimated minus reference; figures are milliseconds and shares from 0 to 1.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

import numpy as np

from trackread.core.timebase import FrameRate, frame_at
from trackread.labels.marks import MICROSECONDS
from trackread.labels.pairs import Pair

LIMITS_MS = (10, 20, 25)
MILLISECOND = 1000


@dataclass(frozen=True, slots=True)
class Measures:
    """`n` boundaries: `bias` is the median signed error; `within` holds a share for each of LIMITS_MS."""

    n: int
    bias: float
    median: float
    p90: float
    within: tuple[float, ...]
    same_frame: float
    within_frame: float


def measure(pairs: Sequence[Pair], rate: FrameRate) -> Measures | None:
    """The figures of the starts of paired marks; None if there are no pairs.

    Percentiles lie between the two nearest errors, as numpy places them. `within_frame` counts errors of at
    most one frame's length (41.7 ms at 24).
    """
    if not pairs:
        return None
    errors = [estimated.start - reference.start for reference, estimated in pairs]
    far = [abs(error) for error in errors]
    frames = [(frame_at(a.start, MICROSECONDS, rate), frame_at(b.start, MICROSECONDS, rate)) for a, b in pairs]
    return Measures(
        n=len(pairs),
        bias=float(np.median(errors)) / MILLISECOND,
        median=float(np.median(far)) / MILLISECOND,
        p90=float(np.percentile(far, 90)) / MILLISECOND,
        within=tuple(fmean(each <= limit * MILLISECOND for each in far) for limit in LIMITS_MS),
        same_frame=fmean(a == b for a, b in frames),
        within_frame=fmean(each * rate.per_second <= MICROSECONDS for each in far),
    )
