"""The mouths of a stretch of frames whose cost is least: exact, by dynamic programming over all of them.

Costs are whole numbers, so that equal is equal. A sequence has the number of a mouth for each frame. It costs what each
mouth misses on its frame, `unmet` more on a frame on which it is not allowed; for each change what that is from one to
the other, `off_beat` more on a frame on which none should be; and `flash` for each mouth that is held for fewer than
`hold` frames, unless it touches an end of the stretch: there it may have been held before, or may go on.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
NEVER = np.int64(2**40)  # more than any sequence costs, and far from overflowing


@dataclass(frozen=True, slots=True)
class Problem:
    """`misfit` and `allowed` are frames by mouths, `jumps` mouths by mouths (from, to), `beats` one for each frame."""

    misfit: Whole
    allowed: NDArray[np.bool_]
    jumps: Whole
    beats: NDArray[np.bool_]
    hold: int
    flash: int
    off_beat: int
    unmet: int

    def __post_init__(self) -> None:
        frames, mouths = self.misfit.shape
        if not frames or not mouths or self.hold < 1:
            raise ValueError(f"there are frames, mouths and a hold, not {frames}, {mouths} and {self.hold}")
        shapes = self.allowed.shape, self.jumps.shape, self.beats.shape
        if shapes != ((frames, mouths), (mouths, mouths), (frames,)):
            raise ValueError(f"tables do not belong together: {self.misfit.shape}, {shapes}")


def cost_of(problem: Problem, sequence: list[int]) -> int:
    """What a sequence costs, counted as the module says."""
    frames = range(len(sequence))
    total = sum(int(problem.misfit[t, sequence[t]]) for t in frames)
    total += problem.unmet * sum(not problem.allowed[t, sequence[t]] for t in frames)
    starts = [t for t in frames if t == 0 or sequence[t] != sequence[t - 1]]
    for start in starts[1:]:
        total += int(problem.jumps[sequence[start - 1], sequence[start]])
        total += 0 if problem.beats[start] else problem.off_beat
    # The first run and the last touch an end.
    inner = list(pairwise(starts))[1:]
    return total + problem.flash * sum(stop - start < problem.hold for start, stop in inner)


def solved(problem: Problem) -> list[int]:
    """A sequence that costs least; of several, always the same one."""
    frames, mouths = problem.misfit.shape
    node = problem.misfit + problem.unmet * ~problem.allowed
    last = problem.hold - 1
    leaving = np.where(np.arange(problem.hold) < last, problem.flash, 0)[:, None]
    jumps = problem.jumps + NEVER * np.eye(mouths, dtype=np.int64)
    # Row a: what it costs to have come here in a mouth that is held for a + 1 frames so far, or more in the last row.
    best = np.full((problem.hold, mouths), NEVER)
    best[last] = node[0]
    steps = Steps.of(frames, mouths)
    for t in range(1, frames):
        left = best + leaving
        steps.row[t] = left.argmin(axis=0)
        arriving = left.min(axis=0)[:, None] + jumps
        steps.mouth[t] = arriving.argmin(axis=0)
        changed = arriving.min(axis=0) + (0 if problem.beats[t] else problem.off_beat)
        new = np.empty_like(best)
        new[0], new[1:] = changed, best[:-1]
        steps.stayed[t] = best[last] <= new[last]
        np.minimum(new[last], best[last], out=new[last])
        best = new + node[t]
    return steps.traced(best)


@dataclass(frozen=True, slots=True)
class Steps:
    """From where each mouth is come to on each frame: if it is new, from which `mouth` and which `row` of that; in the
    last row, whether it `stayed` there.
    """

    mouth: NDArray[np.intp]
    row: NDArray[np.intp]
    stayed: NDArray[np.bool_]

    @classmethod
    def of(cls, frames: int, mouths: int) -> "Steps":
        shape = (frames, mouths)
        return cls(np.zeros(shape, dtype=np.intp), np.zeros(shape, dtype=np.intp), np.zeros(shape, dtype=bool))

    def traced(self, best: Whole) -> list[int]:
        """The sequence that ends where it costs least."""
        last = len(best) - 1
        row, mouth = (int(place) for place in np.unravel_index(best.argmin(), best.shape))
        found = [mouth]
        for t in range(len(self.mouth) - 1, 0, -1):
            if not (row == last and self.stayed[t, mouth]):
                if row:
                    row -= 1
                else:
                    mouth = int(self.mouth[t, mouth])
                    row = int(self.row[t, mouth])
            found.append(mouth)
        return found[::-1]
