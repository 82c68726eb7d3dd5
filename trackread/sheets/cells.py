"""What is written in a column on its frames, with the lines that hold it.

A text begins in the row of its frame, and in every row stands on the one baseline of that row.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trackread.sheets.columns import Lane
from trackread.sheets.field import BASELINE, Field
from trackread.sheets.fitting import Measure, Room, Setting, fit
from trackread.sheets.marks import WHITE, Box, Line, Mark, Text
from trackread.sheets.runs import GOES_ON, Run, touching

# In ems: on each side of a text in its column, and above and below a turned text together.
PAD, TURNED_PAD = 0.24, 0.3
HOLD_INDENT = 0.3
HOLD_WEIGHT = 1.2
# What is no word holds along a broken line.
UNSAID_DASH = (6.0, 3.0)


@dataclass(frozen=True, slots=True)
class Column:
    """A column to write in on a page: what it is called in full, and how its texts stand.

    They may break over the rows of their span, use free rows after it (`flows`), or run down it (`turned`).
    """

    name: str
    lane: Lane
    field: Field
    measure: Measure
    breaks: bool = True
    flows: bool = False
    turned: bool = False
    # Set before what began on an earlier page.
    goes_on: str = GOES_ON


def write(runs: tuple[Run, ...], column: Column) -> Iterator[Mark]:
    """The runs that touch the column's page, each from its first row there, with a line to the end of its hold."""
    for run in touching(runs, column.field.first, column.field.stop):
        start = max(run.first, column.field.first)
        if start < min(run.stop, column.field.stop):
            setting = _set(run, start, column)
            lost = setting.cut and not _stands_elsewhere(run, column)
            whole = f"Frame {column.field.number_of(run.first)}, {column.name}: {run.text}" if lost else ""
            put = _turned if column.turned else _upright
            yield from put(setting, start, column, whole)
            yield from hold(run, start + _rows_taken(setting, column), column)


def continued(run: Run, first: int, goes_on: str) -> str:
    """A run's text as it stands on a page from frame `first` on, marked if it began on an earlier one."""
    if run.first >= first or run.text.startswith(goes_on):
        return run.text
    return goes_on + run.text


def _set(run: Run, start: int, column: Column) -> Setting:
    field = column.field
    text = continued(run, field.first, column.goes_on)
    rows = min(run.free if column.flows else run.stop, field.stop) - start
    if column.turned:
        room = Room(rows * field.row_height / field.em - TURNED_PAD)
    else:
        room = Room(column.lane.width / field.em - 2 * PAD, rows if column.breaks else 1)
    marked = fit(text, room, column.measure, bold=run.bold)
    if not marked.cut:
        return marked
    # Rather the whole text than the mark that it goes on: its hold shows that too.
    plain = fit(text.strip(column.goes_on), room, column.measure, bold=run.bold)
    return marked if plain.cut else plain


def _stands_elsewhere(run: Run, column: Column) -> bool:
    """Whether a run that is cut on the column's page has room for all of it on another, where it goes on or began."""
    rows = column.field.rows
    for first in range(run.first - run.first % rows, run.stop, rows):
        there = replace(column, field=replace(column.field, first=first, stop=first + rows))
        if not _set(run, max(run.first, first), there).cut:
            return True
    return False


def _rows_taken(setting: Setting, column: Column) -> float:
    if not column.turned:
        return len(setting.lines)
    return _length(setting, column) / column.field.row_height


def _length(setting: Setting, column: Column) -> float:
    return (column.measure(setting.lines[0], setting.face) * setting.stretch + TURNED_PAD) * column.field.em


def _upright(setting: Setting, start: int, column: Column, whole: str) -> Iterator[Mark]:
    field = column.field
    x = column.lane.left + PAD * field.em
    for index, line in enumerate(setting.lines):
        ending = whole if index == len(setting.lines) - 1 else ""
        yield Text(x, field.baseline_of(start + index), line, setting.face, field.em, setting.stretch, whole=ending)


def _turned(setting: Setting, start: int, column: Column, whole: str) -> Iterator[Mark]:
    field, lane = column.field, column.lane
    top = field.top_of(start)
    # Rules of the rows would strike the letters through.
    yield Box(lane.left + 0.5, top + 0.6, lane.width - 1.0, _length(setting, column) - 1.2, WHITE)
    x, y = lane.left + lane.width / 2 - BASELINE * field.em, top + TURNED_PAD / 2 * field.em
    line, face, stretch = setting.lines[0], setting.face, setting.stretch
    yield Text(x, y, line, face, field.em, stretch, turned=True, whole=whole)


def hold(run: Run, start: float, column: Column) -> Iterator[Mark]:
    """A line from `start`, below the text, to the end of its hold, with a foot where the hold ends on this page."""
    field = column.field
    x = column.lane.left + (column.lane.width / 2 if column.turned else (PAD + HOLD_INDENT) * field.em)
    top = field.top + (start - field.first) * field.row_height + 0.1 * field.em
    end = field.top_of(min(run.stop, field.stop)) - 0.16 * field.em
    if end - top < 0.3 * field.em:
        return
    yield Line(x, top, x, end, HOLD_WEIGHT, dash=UNSAID_DASH if run.unsaid else ())
    if run.stop <= field.stop and not run.beyond:
        yield Line(x - 0.2 * field.em, end, x + 0.2 * field.em, end, HOLD_WEIGHT)
