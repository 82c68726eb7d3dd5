"""Pauses: dots down the middle of the words' column between two short rules, and how many frames they last.

A word's hold is a solid line at the left with its word above it, so that the two are never mixed up.
"""

from collections.abc import Iterator

from trackread.sheets.cells import PAD, TURNED_PAD, Column
from trackread.sheets.field import BASELINE
from trackread.sheets.fitting import Room, fit
from trackread.sheets.marks import WHITE, Box, Face, Line, Mark, Text
from trackread.sheets.runs import Run, touching

DOTS = (1.6, 3.0)
DOT_WEIGHT, RULE_WEIGHT = 1.8, 1.2
# In ems: half of each short rule, and from it to the edge of its row.
HALF_RULE, INSET = 0.38, 0.14
UNIT = " fr"


def pauses(runs: tuple[Run, ...], column: Column) -> Iterator[Mark]:
    """The pauses that touch a page, each with its length in the middle of its rows there."""
    field = column.field
    for run in touching(runs, field.first, field.stop):
        start, stop = max(run.first, field.first), min(run.stop, field.stop)
        if start < stop:
            yield from _pause(run, start, stop, column)


def dots(x: float, top: float, end: float) -> Line:
    """The dotted line of a pause."""
    return Line(x, top, x, end, DOT_WEIGHT, dash=DOTS)


def _pause(run: Run, start: int, stop: int, column: Column) -> Iterator[Mark]:
    field, inset = column.field, INSET * column.field.em
    x, half = column.lane.left + column.lane.width / 2, HALF_RULE * field.em
    top, end = field.top_of(start) + inset, field.top_of(stop) - inset
    yield dots(x, top, end)
    for y, is_edge in ((top, start == run.first and not run.before), (end, stop == run.stop and not run.beyond)):
        if is_edge:
            yield Line(x - half, y, x + half, y, RULE_WEIGHT)
    if run.text:
        yield from _number(run, start, stop, column)


def _number(run: Run, start: int, stop: int, column: Column) -> Iterator[Mark]:
    """The length of the pause, on white so that neither dots nor rules strike it through."""
    field, lane, em = column.field, column.lane, column.field.em
    text = f"{column.goes_on if run.before else ''}{run.text}{UNIT}{column.goes_on if run.beyond else ''}"
    text = text if run.first >= field.first or run.before else column.goes_on + text
    long = column.measure(text, Face.REGULAR) * em
    if column.turned and long + TURNED_PAD * em <= (stop - start) * field.row_height:
        top = (field.top_of(start) + field.top_of(stop) - long) / 2
        yield Box(lane.left + 0.5, top - 1.0, lane.width - 1.0, long + 2.0, WHITE)
        yield Text(lane.left + lane.width / 2 - BASELINE * em, top, text, Face.REGULAR, em, turned=True)
        return
    room = Room(lane.width / em - 2 * PAD)
    setting = fit(text, room, column.measure)
    if setting.cut:
        setting = fit(run.text, room, column.measure)
    row = (start + stop - 1) // 2
    wide = column.measure(setting.lines[0], setting.face) * setting.stretch * em
    x, whole = lane.left + (lane.width - wide) / 2, f"Frame {field.number_of(run.first)}, {column.name}: {text}"
    yield Box(x - 1.5, field.top_of(row) + 0.6, wide + 3.0, field.row_height - 1.2, WHITE)
    yield Text(
        x,
        field.baseline_of(row),
        setting.lines[0],
        setting.face,
        em,
        setting.stretch,
        whole=whole if setting.cut else "",
    )
