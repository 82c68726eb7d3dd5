"""The boundaries of an aligned stretch, and the times where each might be.

A candidate is one possible time of one boundary. Times are seconds from the start of the stretch.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import PAUSE
from trackread.reading.aligner import Mark
from trackread.reading.spectra import HOP

REACH = 0.060  # how far from the aligner's mark a boundary is looked for
AFTER_PAUSE = 0.400  # the aligner puts pauses badly: there, look as far as the next mark, at most this
STEP = HOP


@dataclass(frozen=True, slots=True)
class Boundary:
    """Where phone `left` gives way to `right` by the aligner, seconds; either may be a pause.

    `left_length` and `right_length` are the aligner's; `phone` is the index of the phone that starts
    here, or that stops here when `right` is a pause.
    """

    phone: int
    left: str
    right: str
    time: float
    left_length: float
    right_length: float
    opens_word: bool

    @property
    def stops(self) -> bool:
        """Whether sound stops here."""
        return self.right == PAUSE

    @property
    def opens_stretch(self) -> bool:
        """Whether sound begins here, after a pause."""
        return self.left == PAUSE


def boundaries_of(marks: Sequence[Mark]) -> tuple[Boundary, ...]:
    """Every start of a phone, and every stop before a pause, in order of time."""
    found: list[Boundary] = []
    for k, mark in enumerate(marks):
        symbol = mark.phone.rstrip("012")
        length = mark.stop - mark.start
        before = marks[k - 1] if k and not pause_between(marks[k - 1], mark) else None
        left = before.phone.rstrip("012") if before else PAUSE
        left_length = before.stop - before.start if before else PAUSE_LENGTH
        found.append(Boundary(k, left, symbol, mark.start, left_length, length, mark.opens_word))
        if k + 1 == len(marks) or pause_between(mark, marks[k + 1]):
            found.append(Boundary(k, symbol, PAUSE, mark.stop, length, PAUSE_LENGTH, opens_word=False))
    return tuple(found)


PAUSE_LENGTH = 0.200  # stands for a pause of any length in the row of a candidate


def pause_between(first: Mark, second: Mark) -> bool:
    return second.start - first.stop > 0.003


def candidates_of(boundaries: Sequence[Boundary]) -> list[np.ndarray]:
    """For each boundary the times, STEP apart, where it may be."""
    found = []
    for k, boundary in enumerate(boundaries):
        low, high = -REACH, REACH
        if boundary.left == PAUSE and k + 1 < len(boundaries):
            high = max(REACH, min(AFTER_PAUSE, boundaries[k + 1].time - boundary.time + 0.02))
        if boundary.stops and k:
            low = -max(REACH, min(AFTER_PAUSE, boundary.time - boundaries[k - 1].time - 0.01))
        centre = round(boundary.time / STEP)
        found.append((centre + np.arange(round(low / STEP), round(high / STEP) + 1)) * STEP)
    return found


@dataclass(frozen=True, slots=True)
class Candidates:
    """All candidates of a stretch in one piece: `time` and `owner` (index of the boundary), shape (n,)."""

    boundaries: tuple[Boundary, ...]
    time: np.ndarray
    owner: np.ndarray

    def of_each(self, values: np.ndarray) -> list[np.ndarray]:
        """Values of all candidates, cut apart by boundary."""
        return np.split(values, np.flatnonzero(np.diff(self.owner)) + 1)

    def per_boundary(self, values: Sequence[float]) -> np.ndarray:
        """A value a boundary, repeated for each of its candidates."""
        return np.asarray(np.array(values, np.float32)[self.owner])

    def top(self, values: np.ndarray) -> np.ndarray:
        """For each candidate, the highest value among those of its boundary."""
        starts = np.concatenate([[0], np.flatnonzero(np.diff(self.owner)) + 1])
        return np.asarray(np.maximum.reduceat(values, starts)[self.owner])


def candidates(boundaries: tuple[Boundary, ...]) -> Candidates:
    each = candidates_of(boundaries)
    owner = np.repeat(np.arange(len(each)), [len(times) for times in each])
    return Candidates(boundaries, np.concatenate(each), owner)
