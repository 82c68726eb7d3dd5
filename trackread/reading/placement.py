"""Boundaries moved from the aligner's marks to where people would put them.

Trees say for each candidate time how like a boundary it looks (1 at the place, falling off over 8 ms);
one dynamic programme over the stretch chooses a time for each boundary, in order; the neighbours of the
choice, weighted by their scores, place it between the candidates.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from trackread.core.phones import STOPS
from trackread.reading.aligner import Mark
from trackread.reading.boundaries import Candidates, boundaries_of, candidates
from trackread.reading.forest import Forest
from trackread.reading.recogniser import Posteriors
from trackread.reading.spectra import Spectra
from trackread.reading.views import Stretch, describe

SHORTEST = 0.010  # seconds between two boundaries
UNLIKELY = 0.03  # added to every score, so that no time is impossible
LENGTH_WEIGHT = 0.1  # of (log ratio of a phone's length to the aligner's) squared
AROUND = 4  # candidates on each side that place the choice between them
LEAD = 0.010  # a stop after a pause starts this long before its burst: a labellers' convention
BURST_WITHIN = 0.160  # before the sound that follows the stop

# Confidence is the score of the chosen time, from one that says nothing to one about as high as they come. It orders
# boundaries by how sure they are; it is not calibrated, so 0.8 does not mean right four times in five.
NO_CONFIDENCE, FULL_CONFIDENCE = 0.05, 0.75


@dataclass(frozen=True, slots=True)
class Placed:
    """A phone with its times in seconds and how sure they are, 0 to 1.

    `apart` is how far apart two passes put its start, in seconds. `stop_confidence` counts only before a pause:
    elsewhere the phone stops where the next one starts.
    """

    mark: Mark
    start: float
    stop: float
    confidence: float
    stop_confidence: float
    apart: float = 0.0

    def mark_there(self) -> Mark:
        """The mark where it was placed."""
        return replace(self.mark, start=self.start, stop=self.stop)


def place(marks: Sequence[Mark], spectra: Spectra, heard: Posteriors, trees: Forest) -> tuple[Placed, ...]:
    """The marks of one stretch, moved. Pauses between marks may shrink or grow but not appear or go.

    Twice, and the mean of both: what is seen at a candidate is seen against the middles of its two phones,
    which are nearer the truth the second time; the errors of the two are not quite the same.
    """
    stretch = Stretch(spectra, heard)
    first = one_pass(marks, stretch, spectra.burst, trees)
    second = one_pass([one.mark_there() for one in first], stretch, spectra.burst, trees)
    return tuple(
        replace(b, mark=a.mark, start=(a.start + b.start) / 2, stop=(a.stop + b.stop) / 2, apart=abs(a.start - b.start))
        for a, b in zip(first, second, strict=True)
    )


def one_pass(marks: Sequence[Mark], stretch: Stretch, burst: np.ndarray, trees: Forest) -> tuple[Placed, ...]:
    found = candidates(boundaries_of(marks))
    scores = np.clip(trees.predict(describe(stretch, found)), 0, 1)
    return decide(marks, found, scores, burst)


def decide(marks: Sequence[Mark], found: Candidates, scores: np.ndarray, burst: np.ndarray) -> tuple[Placed, ...]:
    """The best times for scored candidates, shape (candidates,)."""
    times, each = found.of_each(found.time), found.of_each(scores)
    chosen = cheapest_path(found, times, [np.log(score + UNLIKELY) for score in each])
    starts = [mark.start for mark in marks]
    stops = [mark.stop for mark in marks]
    sure, stop_sure = [0.0] * len(marks), [0.0] * len(marks)
    after_pause = [False] * len(marks)
    for boundary, time, score, k in zip(found.boundaries, times, each, chosen, strict=True):
        placed = centre(time, score, k)
        if boundary.stops:
            stops[boundary.phone] = placed
            stop_sure[boundary.phone] = confidence_of(score, k)
            continue
        starts[boundary.phone] = placed
        sure[boundary.phone] = confidence_of(score, k)
        after_pause[boundary.phone] = boundary.opens_stretch
    mend_stops_after_pauses(marks, (starts, stops), after_pause, burst)
    close_gaps((starts, stops), after_pause)
    return tuple(Placed(*row) for row in zip(marks, starts, stops, sure, stop_sure, strict=True))


def cheapest_path(found: Candidates, times: list[np.ndarray], scores: list[np.ndarray]) -> list[int]:
    """Which candidate each boundary takes: the best sum of scores, in order, at the lengths the aligner saw."""
    best = scores[0]
    came_from: list[np.ndarray] = []
    for k in range(1, len(times)):
        before, here = found.boundaries[k - 1], found.boundaries[k]
        length = times[k][None, :] - times[k - 1][:, None]
        least = 0.0 if before.stops else SHORTEST
        ratio = np.log(np.maximum(length, 0.005) / max(here.time - before.time, 0.005))
        total = best[:, None] - LENGTH_WEIGHT * ratio**2 - np.where(length >= least - 1e-6, 0.0, 1e3)
        came_from.append(total.argmax(0))
        best = total.max(0) + scores[k]
    path = [int(best.argmax())]
    for back in reversed(came_from):
        path.append(int(back[path[-1]]))
    return path[::-1]


def centre(times: np.ndarray, scores: np.ndarray, chosen: int) -> float:
    near = slice(max(0, chosen - AROUND), chosen + AROUND + 1)
    weights = scores[near] ** 2 + 1e-6
    return float((times[near] * weights).sum() / weights.sum())


def confidence_of(scores: np.ndarray, chosen: int) -> float:
    score = float(scores[max(0, chosen - 1) : chosen + 2].max())
    return min(1.0, max(0.0, (score - NO_CONFIDENCE) / (FULL_CONFIDENCE - NO_CONFIDENCE)))


Times = tuple[list[float], list[float]]


def mend_stops_after_pauses(marks: Sequence[Mark], times: Times, after_pause: list[bool], burst: np.ndarray) -> None:
    """Starts a stop after a pause LEAD before its burst: its closure cannot be told from the pause."""
    starts, stops = times
    for k, mark in enumerate(marks):
        if not after_pause[k] or mark.phone not in STOPS:
            continue
        free = stops[k - 1] if k else 0.0
        alone = k + 1 == len(marks) or after_pause[k + 1]
        next_start = stops[k] if alone else starts[k + 1]
        at = burst_in(burst, max(free, next_start - BURST_WITHIN), next_start)
        if at is not None:
            starts[k] = max(at - LEAD, free)


def burst_in(burst: np.ndarray, start: float, stop: float) -> float | None:
    """The time of the steepest rise of high sound from `start` to `stop`; None if there is no room for one."""
    first = max(0, int(start * 1000))
    piece = burst[first : int(stop * 1000) + 6]
    if len(piece) < 8:
        return None
    return (first + 2 + int((piece[4:] - piece[:-4]).argmax())) / 1000


def close_gaps(times: Times, after_pause: list[bool]) -> None:
    """Without a pause between them, a phone stops where the next one starts; and none ends before it begins."""
    starts, stops = times
    for k in range(len(starts)):
        if k + 1 < len(starts) and not after_pause[k + 1]:
            stops[k] = starts[k + 1]
        stops[k] = max(stops[k], starts[k] + 0.001)
