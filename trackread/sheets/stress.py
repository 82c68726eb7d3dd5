"""What is beside the words for the hand: beats as bars with their turns, in degrees that no copier makes alike.

A phrase has a bracket along its rows. Its main beat is a flag, as high as the row that the hand lands on.
"""

from collections.abc import Iterable, Iterator

from trackread.core.sheet import Beat, Phrase
from trackread.sheets.columns import Lane
from trackread.sheets.field import Field
from trackread.sheets.marks import BLACK, WHITE, Box, Hatch, Line, Mark, Path
from trackread.sheets.runs import Run, touching
from trackread.sheets.tones import ARROWS, TRIANGLES, Sign, turn

OPENING = 1.1
# Shares of the lane: the bracket, the bars, and the signs of turns at their right.
BRACKET = 0.15
BAR_LEFT, BAR_WIDTH = 0.25, 0.32
SIGN_LEFT, SIGN_WIDTH = 0.62, 0.32
FLAG_LEFT, FLAG_POINT, FLAG_SIGN_LEFT = 0.06, 0.25, 0.3
# Of the bars' share, and the points of a weak bar.
HALF_WIDTH, WEAK_WIDTH = 0.72, 1.3
BRACKET_WEIGHT = 1.7
GAP = 0.8
# A bar that comes from before the page runs up out of its rows.
OVER = 3.5


def openings(runs: tuple[Run, ...], left: float, right: float, field: Field) -> Iterator[Mark]:
    """A rule above each word, across its stress and itself: where one word ends and the next begins."""
    for run in touching(runs, field.first, field.stop):
        if field.first <= run.first and not run.unsaid and not run.before:
            yield Line(left, field.top_of(run.first), right, field.top_of(run.first), OPENING)


def stresses(beats: tuple[Beat, ...], phrases: tuple[Phrase, ...], lane: Lane, field: Field) -> Iterator[Mark]:
    """The brackets of the phrases on this page, the bars and flags of its beats, and over them the signs of turns."""
    here, bars = touching(phrases, field.first, field.stop), _part(lane, BAR_LEFT, BAR_WIDTH)
    for phrase in here:
        if phrase.stop > field.first:
            yield _bracket(phrase, lane, field)
    for beat in touching(beats, field.first, field.stop):
        start, stop = max(beat.first, field.first), min(beat.stop, field.stop)
        if start < stop:
            top = field.top_of(start) + (GAP if lands(beat, field.first) else -OVER)
            yield stress(beat.degree, bars, top, field.top_of(stop) - GAP - top)
    landing = [beat for beat in touching(beats, field.first, field.stop) if lands(beat, field.first)]
    flags = {beat.first for beat in landing if beat.main}
    yield from (flag(lane, field.top_of(row), field.row_height) for row in flags)
    for row, sign in signs_on(landing, here, field.first, field.stop).items():
        left, tone = (FLAG_SIGN_LEFT, WHITE) if row in flags else (SIGN_LEFT, BLACK)
        yield turn(sign, _part(lane, left, SIGN_WIDTH), field.top_of(row), field.row_height, tone=tone)


def lands(beat: Beat, first: int) -> bool:
    """Whether a gesture can be timed off a beat on a page from `first` on: it did not begin before."""
    return beat.first >= first and not beat.before


def signs_on(beats: Iterable[Beat], phrases: Iterable[Phrase], first: int, stop: int) -> dict[int, Sign]:
    """The sign on each frame from `first` to `stop` that has one.

    On the frame where a phrase ends the sign of its end says what the beat's would.
    """
    signs: dict[int, Sign] = {beat.first: ARROWS[beat.tone] for beat in beats if beat.degree and beat.tone in ARROWS}
    signs |= {phrase.stop - 1: TRIANGLES[phrase.ending] for phrase in phrases if phrase.ending in TRIANGLES}
    return {row: sign for row, sign in signs.items() if first <= row < stop}


def stress(degree: int, lane: Lane, top: float, height: float) -> Mark:
    """One bar in its lane: solid for strong, narrower and hatched for half, a thin line for weak."""
    width = {0: WEAK_WIDTH, 1: HALF_WIDTH * lane.width}.get(degree, lane.width)
    left = lane.left + (lane.width - width) / 2
    return Hatch(left, top, width, height, 3.2, 0.8) if degree == 1 else Box(left, top, width, height)


def flag(lane: Lane, top: float, height: float) -> Path:
    """The main beat of a phrase, pointing at what is said on the row of that height."""
    left, shoulder, upper, lower = (
        lane.left + FLAG_LEFT * lane.width,
        lane.right - FLAG_POINT * lane.width,
        top,
        top + height,
    )
    corners = ((left, upper), (shoulder, upper), (lane.right, top + height / 2), (shoulder, lower), (left, lower))
    return Path((*corners, corners[0]), 0.4, fill=BLACK)


def bracket(x: float, foot: float, top: float, end: float) -> Path:
    """The line down a phrase at `x`, with feet out to `foot` at its first and last row."""
    return Path(((foot, top), (x, top), (x, end), (foot, end)), BRACKET_WEIGHT)


def _bracket(phrase: Phrase, lane: Lane, field: Field) -> Path:
    start, stop = max(phrase.first, field.first), min(phrase.stop, field.stop)
    whole = bracket(
        lane.left + BRACKET * lane.width, lane.right - 0.6, field.top_of(start) + 1.2, field.top_of(stop) - 1.2
    )
    # It has no foot where it goes on from another page, or on another.
    kept = whole.points[start != phrase.first : 3 + (stop == phrase.stop)]
    return Path(kept, BRACKET_WEIGHT)


def _part(lane: Lane, left: float, width: float) -> Lane:
    return Lane(lane.left + left * lane.width, width * lane.width)
