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
    every = np.arange(mouths)
    # Row a: what it costs to have come here in a mouth that is held for a + 1 frames so far, or more in the last row.
    best = np.full((problem.hold, mouths), NEVER)
    best[-1] = node[0]
    from_mouth = np.zeros((frames, problem.hold, mouths), dtype=np.int16)
    from_row = np.zeros((frames, problem.hold, mouths), dtype=np.int16)
    for t in range(1, frames):
        new = np.full_like(best, NEVER)
        for held in range(problem.hold):
            noted = (from_mouth[t], every), (from_row[t], np.full(mouths, held))
            take(new, min(held + 1, problem.hold - 1), best[held], *noted)
        cost, mouth, row = change_at(problem, best, on_beat=bool(problem.beats[t]))
        take(new, 0, cost, (from_mouth[t], mouth), (from_row[t], row))
        best = new + node[t]
    return traced(best, from_mouth, from_row)


Noted = tuple[
    NDArray[np.int16], NDArray[np.intp]
]  # where it is noted from where each mouth was come to, and from where


def take(best: Whole, row: int, cost: Whole, *noted: Noted) -> None:
    """Takes what costs less than what is in a row of `best`, and notes from where it came."""
    better = cost < best[row]
    best[row] = np.where(better, cost, best[row])
    for notes, came in noted:
        notes[row] = np.where(better, came, notes[row])


def change_at(problem: Problem, best: Whole, *, on_beat: bool) -> tuple[Whole, NDArray[np.intp], NDArray[np.intp]]:
    """What it costs at least to change into each mouth, with the mouth and the row of `best` that are left for it."""
    mouths = best.shape[1]
    flashes = np.where(np.arange(1, problem.hold + 1) < problem.hold, problem.flash, 0)[:, None]
    rows = (best + flashes).argmin(axis=0)
    leaving = (best + flashes)[rows, np.arange(mouths)]
    arriving = leaving[:, None] + problem.jumps + NEVER * np.eye(mouths, dtype=np.int64)
    mouth = arriving.argmin(axis=0)
    cost = arriving[mouth, np.arange(mouths)] + (0 if on_beat else problem.off_beat)
    return cost, mouth, rows[mouth]


def traced(best: Whole, from_mouth: NDArray[np.int16], from_row: NDArray[np.int16]) -> list[int]:
    """The sequence that ends where it costs least."""
    row, mouth = (int(place) for place in np.unravel_index(best.argmin(), best.shape))
    found = [mouth]
    for t in range(len(from_mouth) - 1, 0, -1):
        row, mouth = int(from_row[t, row, mouth]), int(from_mouth[t, row, mouth])
        found.append(mouth)
    return found[::-1]
