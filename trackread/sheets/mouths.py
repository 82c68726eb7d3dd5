"""The mouths that a puppet wears: called on the row where each is put on, and drawn there if there is room.

A mouth is called by its name where that has room on its rows in whole words, and else by its number in the order of
its kit, in bold, which a list of mouths explains. A corner in the upper left marks where a mouth is changed; a clamp,
which has a foot as well, is round one that a person set. What goes on from the page before has no corner. Sizes are
in ems.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter

from trackread.core.drawing import Drawing
from trackread.core.mouth import Worn
from trackread.sheets.cells import HOLD_INDENT, PAD, Column, hold
from trackread.sheets.columns import Lane
from trackread.sheets.fitting import Measure, Room, Setting, fit, fit_whole
from trackread.sheets.marks import Drawn, Mark, Path, Picture, Text
from trackread.sheets.paper import MILLIMETRE
from trackread.sheets.runs import GOES_ON, Run, touching

# The corner and the clamp, and how far down a row the corner comes and a foot goes across.
WEIGHT, DOWN, FOOT = 0.15, 0.62, 0.42
# How far they are above the row, so that what stands in it is clear of them.
RAISED = 0.05
# At the right of a text, less than in other columns: six voices at once leave two figures hardly the room.
RIGHT_PAD = 0.08
# A name that runs down more rows than this is looked up as quickly, and so is one in a lane as narrow as this: one or
# two short names among figures would only be read twice.
MOST_LINES, NARROW_LANE = 3, 2.0
# The sides of pictures, in points: smaller ones show nothing at arm's length, larger ones no more.
LEAST_SIDE, MOST_SIDE = 8.5 * MILLIMETRE, 18 * MILLIMETRE


@dataclass(frozen=True, slots=True)
class Printed:
    """A picture by the SHA-256 of its bytes; its `shape` is its width as a multiple of its height."""

    digest: str
    shape: float


Sight = Drawing | Printed
# What the mouths of a puppet look like, by their names.
Sights = Mapping[str, Sight]


@dataclass(frozen=True, slots=True)
class MouthRun:
    """A mouth worn on some frames, with its number in its kit, from 1.

    It `changes` if another was worn before, and is `last` if nothing is worn after it.
    """

    first: int
    stop: int
    name: str
    number: int
    pinned: bool
    changes: bool
    last: bool


@dataclass(frozen=True, slots=True)
class Called:
    """How a mouth is called on a page."""

    setting: Setting
    by_number: bool


def mouth_runs(mouths: Iterable[Worn], kit: Iterable[str]) -> tuple[MouthRun, ...]:
    """What is worn, in order of frames; a mouth that the kit does not have is numbered after all that it has."""
    worn = sorted(mouths, key=attrgetter("first"))
    names = dict.fromkeys((*kit, *(one.mouth for one in worn)))
    numbers = {name: number for number, name in enumerate(names, 1)}
    return tuple(
        MouthRun(
            one.first,
            one.stop,
            one.mouth,
            numbers[one.mouth],
            one.pinned,
            changes=before is None or before.mouth != one.mouth or before.stop != one.first,
            last=after is None or after.first != one.stop,
        )
        for before, one, after in zip((None, *worn), worn, (*worn[1:], None), strict=False)
    )


def mouths(runs: tuple[MouthRun, ...], column: Column, sights: Sights) -> Iterator[Mark]:
    """The mouths on the column's page."""
    field, lane = column.field, column.lane
    for run in on_page(runs, field.first, field.stop):
        start, stop = max(run.first, field.first), min(run.stop, field.stop)
        how = called_on(run, field.first, field.stop, lane.width / field.em, column.measure)
        yield from _sign(run, start, stop, column)
        yield from _text(run, how, start, column)
        taken = len(how.setting.lines)
        # Where another mouth follows, its corner ends the line, and a foot would only blur it.
        yield from hold(Run(run.first, run.stop, run.stop, run.name, beyond=not run.last), start + taken, column)
        if run.name in sights:
            yield from _picture(sights[run.name], how, range(start, stop), column)


def on_page(runs: tuple[MouthRun, ...], first: int, stop: int) -> Sequence[MouthRun]:
    """The runs on the frames from `first` to `stop`."""
    return [run for run in touching(runs, first, stop) if run.stop > first]


def called_on(run: MouthRun, first: int, stop: int, width: float, measure: Measure) -> Called:
    """How a mouth is called on the page with the frames from `first` to `stop`, in a lane of such a width."""
    rows = min(run.stop, stop) - max(run.first, first)
    room = Room(width - PAD - RIGHT_PAD, min(rows, MOST_LINES))
    return _called(run.name, run.number, room, measure, goes_on=run.first < first)


@lru_cache(maxsize=4096)
def _called(name: str, number: int, room: Room, measure: Measure, *, goes_on: bool) -> Called:
    # Rather the whole name than the mark that it goes on: that there is no corner says so too.
    names = (GOES_ON + name, name) if goes_on else (name,)
    wide = room.width + PAD + RIGHT_PAD >= NARROW_LANE
    whole = next((setting for text in names if wide and (setting := fit_whole(text, room, measure))), None)
    return Called(whole, by_number=False) if whole else Called(fit_number(number, room.width, measure), by_number=True)


def fit_number(number: int, width: float, measure: Measure) -> Setting:
    return fit(str(number), Room(width), measure, bold=True)


def corner(lane: Lane, top: float, height: float, em: float) -> Path:
    """Where a mouth is changed: across the lane, and down the row of that height."""
    x, top = _side(lane, em), top - RAISED * em
    return Path(((lane.right, top), (x, top), (x, top + DOWN * height)), WEIGHT * em)


def clamp(lane: Lane, top: float, end: float, em: float) -> Path:
    """Round a mouth that a person set."""
    x, top, foot = _side(lane, em), top - RAISED * em, end - (RAISED + 1.6 * WEIGHT) * em
    return Path(((lane.right, top), (x, top), (x, foot), (x + FOOT * em, foot)), WEIGHT * em)


def _side(lane: Lane, em: float) -> float:
    return lane.left + 0.4 + WEIGHT / 2 * em


def _sign(run: MouthRun, start: int, stop: int, column: Column) -> Iterator[Mark]:
    field, lane = column.field, column.lane
    begins, ends = start == run.first, stop == run.stop
    if not run.pinned:
        if begins and run.changes:
            yield corner(lane, field.top_of(start), field.row_height, field.em)
        return
    whole = clamp(lane, field.top_of(start), field.top_of(stop), field.em)
    yield Path(whole.points[not begins : len(whole.points) - (not ends)], whole.weight)


def _text(run: MouthRun, how: Called, start: int, column: Column) -> Iterator[Mark]:
    field, setting = column.field, how.setting
    # A number that has no room even so, among hundreds of mouths.
    lost = f"Frame {field.number_of(run.first)}, {column.name}: {run.name}" if setting.cut else ""
    for row, line in enumerate(setting.lines):
        x, baseline = column.lane.left + PAD * field.em, field.baseline_of(start + row)
        yield Text(x, baseline, line, setting.face, field.em, setting.stretch, whole=lost)


def _picture(sight: Sight, how: Called, rows: range, column: Column) -> Iterator[Mark]:
    """What a mouth looks like, below what it is called or beside it, if there is room for it to be seen."""
    field, lane, taken = column.field, column.lane, len(how.setting.lines)
    widths = (column.measure(line, how.setting.face) * how.setting.stretch for line in how.setting.lines)
    beside = lane.width - (PAD + max(widths) + RIGHT_PAD) * field.em
    below = lane.width - (PAD + 2 * HOLD_INDENT + RIGHT_PAD) * field.em
    places = ((rows.start, beside), (rows.start + taken, below))
    sides = [min(wide, (rows.stop - row) * field.row_height - 2 * WEIGHT * field.em, MOST_SIDE) for row, wide in places]
    side = max(sides)
    if side >= LEAST_SIDE:
        first, _ = places[sides.index(side)]
        left = lane.right - RIGHT_PAD * field.em - side
        yield in_box(sight, left, field.top_of(first) + WEIGHT * field.em, side)


def in_box(sight: Sight, x: float, y: float, side: float) -> Drawn | Picture:
    """A picture in the middle of a square."""
    if isinstance(sight, Drawing):
        return Drawn(x, y, side, sight)
    width, height = side * min(sight.shape, 1.0), side / max(sight.shape, 1.0)
    return Picture(x + (side - width) / 2, y + (side - height) / 2, width, height, sight.digest)
