"""The bars of stress beside the words, in degrees that no copier makes alike, and the rules that part words."""

from collections.abc import Iterator

from trackread.core.sheet import Beat
from trackread.sheets.columns import Lane
from trackread.sheets.field import Field
from trackread.sheets.marks import Box, Hatch, Line, Mark
from trackread.sheets.runs import Run, touching

OPENING = 1.1
# Shares of the lane, and the points of a weak bar.
STRONG_WIDTH, HALF_WIDTH, WEAK_WIDTH = 0.8, 0.5, 1.3


def openings(runs: tuple[Run, ...], left: float, right: float, field: Field) -> Iterator[Mark]:
    """A rule above each word, across its stress and itself: where one word ends and the next begins."""
    for run in touching(runs, field.first, field.stop):
        if field.first <= run.first:
            yield Line(left, field.top_of(run.first), right, field.top_of(run.first), OPENING)


def stresses(beats: tuple[Beat, ...], lane: Lane, field: Field) -> Iterator[Mark]:
    """The bars of the beats on this page."""
    for beat in beats:
        start, stop = max(beat.first, field.first), min(beat.stop, field.stop)
        if start < stop:
            top = field.top_of(start) + 0.8
            yield stress(beat.degree, lane, top, field.top_of(stop) - 0.8 - top)


def stress(degree: int, lane: Lane, top: float, height: float) -> Mark:
    """One bar in the middle of its lane: solid for strong, narrower and hatched for half, a thin line for weak."""
    width = {0: WEAK_WIDTH, 1: HALF_WIDTH * lane.width}.get(degree, STRONG_WIDTH * lane.width)
    left = lane.left + (lane.width - width) / 2
    return Hatch(left, top, width, height, 3.2, 0.8) if degree == 1 else Box(left, top, width, height)
