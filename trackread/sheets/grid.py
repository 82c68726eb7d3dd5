"""The ground a page is written on: rules, bands, frame numbers, counts, and the bars beside changed frames."""

from collections.abc import Iterator

from trackread.core.timebase import FrameRate
from trackread.sheets.columns import Lane, Plan
from trackread.sheets.counts import Count
from trackread.sheets.field import Field, begins_half_second, begins_second
from trackread.sheets.fitting import Measure
from trackread.sheets.marks import Box, Face, Line, Mark, Text

BAND = 0.95
SECOND_RULE = 2.0
HALF_SECOND_RULE = 1.1
ROW_RULE = 0.35
# Counts are looked up between set-ups, not read while animating.
COUNT_SIZE = 0.66


def ground(field: Field, plan: Plan, rate: FrameRate) -> Iterator[Mark]:
    """Bands on every other half second, a rule above each row, and a rule between columns."""
    left, width = plan.number.left, plan.right - plan.number.left
    for frame in range(field.first, field.stop):
        if 2 * frame // rate.base % 2:
            yield Box(left, field.top_of(frame), width, field.row_height, BAND)
    for frame in range(field.first + 1, field.stop):
        weight, tone = _rule(frame, rate)
        yield Line(left, field.top_of(frame), plan.right, field.top_of(frame), weight, tone)
    for y in (field.top, field.bottom):
        yield Line(left, y, plan.right, y, HALF_SECOND_RULE)
    yield from _uprights(field, plan)


def _rule(frame: int, rate: FrameRate) -> tuple[float, float]:
    if begins_second(frame, rate):
        return SECOND_RULE, 0.0
    if begins_half_second(frame, rate):
        return HALF_SECOND_RULE, 0.0
    # Every other rule is darker: much animation is shot on twos.
    return ROW_RULE, 0.25 if frame % 2 == 0 else 0.6


def _uprights(field: Field, plan: Plan) -> Iterator[Mark]:
    inner = (plan.pitch, plan.camera, plan.positions, plan.notes)
    light = [plan.number.right, *(lane.left for lane in inner if lane)]
    heavy = [plan.number.left, plan.right, (plan.count or plan.number).right, plan.action.left]
    for lanes in plan.voices:
        heavy.append(lanes.whole.left)
        light.extend(lane.left for lane in (lanes.word, lanes.sound, lanes.mouth) if lane and lane != lanes.whole)
    for x in light:
        yield Line(x, field.top, x, field.bottom, 0.4, 0.3)
    for x in heavy:
        yield Line(x, field.top, x, field.bottom, 1.0)


def numbers(field: Field, lane: Lane, rate: FrameRate, measure: Measure) -> Iterator[Mark]:
    """The number of each frame in its row, bold where a half second begins."""
    right = lane.right - 0.3 * field.em
    for frame in range(field.first, field.stop):
        text = str(field.number_of(frame))
        face = Face.BOLD if begins_half_second(frame, rate) else Face.REGULAR
        x = right - measure(text, face) * field.em
        yield Text(x, field.baseline_of(frame), text, face, field.em)


def counts(field: Field, lane: Lane, count: Count, measure: Measure) -> Iterator[Mark]:
    """The footage or timecode on the rows that carry one, and on the page's first."""
    size = COUNT_SIZE * field.em
    for frame in range(field.first, field.stop):
        if frame == field.first or count.shows(frame):
            text = count.label(frame)
            x = lane.right - 0.25 * field.em - measure(text, Face.CONDENSED) * size
            yield Text(x, field.baseline_of(frame), text, Face.CONDENSED, size)


def changes(field: Field, plan: Plan, spans: tuple[tuple[int, int], ...]) -> Iterator[Mark]:
    """A bar in the right margin beside frames that changed since the issue before."""
    for first, stop in spans:
        start, end = max(first, field.first), min(stop, field.stop)
        if start < end:
            top = field.top_of(start)
            yield Box(plan.right + 0.3 * field.em, top, 0.32 * field.em, field.top_of(end) - top)
