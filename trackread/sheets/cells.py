"""What stands on frames: words, sounds, events and notes in their columns, with the lines that hold them.

A text begins in the row of its frame. Texts that begin on one frame stand in that row together.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from trackread.core.sheet import Beat, Cell
from trackread.sheets.columns import Lane
from trackread.sheets.field import BASELINE, Field
from trackread.sheets.fitting import Measure, Room, Setting, fit
from trackread.sheets.marks import WHITE, Box, Hatch, Line, Mark, Text

PAD = 0.28
# Above and below a turned text together.
TURNED_PAD = 0.3
HOLD_INDENT = 0.3
HOLD_WEIGHT = 1.2
STRONG = 2
# Text set before what began on an earlier page.
GOES_ON = "…"


@dataclass(frozen=True, slots=True)
class Run:
    """One text with the frames it holds, and `free`, the frame up to which no other text begins."""

    first: int
    stop: int
    free: int
    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A column to write in: what it is called in full, and whether texts may use free rows after their span."""

    name: str
    lane: Lane
    flows: bool = False
    turned: bool = False


def runs_of(cells: tuple[Cell, ...], joint: str, length: int) -> tuple[Run, ...]:
    """Cells in order of frames, those on one frame joined into a text, each held until the next begins."""
    texts: dict[int, list[str]] = {}
    stops: dict[int, int] = {}
    for cell in sorted(cells, key=lambda cell: cell.first):
        texts.setdefault(cell.first, []).append(cell.text)
        stops[cell.first] = max(cell.stop, stops.get(cell.first, cell.stop))
    # No text at all has no next one either.
    nexts = (*list(texts)[1:], length)[: len(texts)]
    return tuple(
        Run(first, min(stops[first], free), free, joint.join(parts))
        for (first, parts), free in zip(texts.items(), nexts, strict=True)
    )


def spoken(words: tuple[Run, ...], beats: tuple[Beat, ...]) -> tuple[Run, ...]:
    """The words with those in bold in which a strong syllable begins."""
    strong = [beat.first for beat in beats if beat.degree >= STRONG]
    return tuple(
        Run(run.first, run.stop, run.free, run.text, any(run.first <= first < run.stop for first in strong))
        for run in words
    )


def write(runs: tuple[Run, ...], column: Column, field: Field, measure: Measure) -> Iterator[Mark]:
    """The runs that touch this page, each from its first row, with a line to the end of its hold."""
    for run in runs:
        stop = min(run.free if column.flows else run.stop, field.stop)
        start = max(run.first, field.first)
        if start < min(run.stop, field.stop):
            yield from _write_run(run, (start, stop), column, field, measure=measure)


def _write_run(run: Run, span: tuple[int, int], column: Column, field: Field, *, measure: Measure) -> Iterator[Mark]:
    start, stop = span
    text = run.text if run.first >= field.first else GOES_ON + run.text
    inner = column.lane.width / field.em - 2 * PAD
    rows = stop - start
    room = Room(rows * field.row_height / field.em - TURNED_PAD) if column.turned else Room(inner, rows)
    setting = fit(text, room, measure, bold=run.bold)
    whole = f"Frame {field.number_of(run.first)}, {column.name}: {run.text}" if setting.cut else ""
    if column.turned:
        length = (measure(setting.lines[0], setting.face) * setting.stretch + TURNED_PAD) * field.em
        taken = length / field.row_height
        yield from _turned_text(setting, (field.top_of(start), length), column.lane, field, whole=whole)
    else:
        taken = float(len(setting.lines))
        yield from _lines(setting, start, column.lane, field, whole=whole)
    yield from _hold(start + taken, run.stop, column, field)


def _lines(setting: Setting, start: int, lane: Lane, field: Field, *, whole: str) -> Iterator[Mark]:
    x = lane.left + PAD * field.em
    for index, line in enumerate(setting.lines):
        baseline = field.baseline_of(start + index)
        last = index == len(setting.lines) - 1
        yield Text(x, baseline, line, setting.face, field.em, setting.stretch, whole=whole if last else "")


def _turned_text(
    setting: Setting, place: tuple[float, float], lane: Lane, field: Field, *, whole: str
) -> Iterator[Mark]:
    top, length = place
    # Rules of the rows would strike the letters through.
    yield Box(lane.left + 0.5, top + 0.6, lane.width - 1.0, length - 1.2, WHITE)
    x = lane.left + lane.width / 2 - BASELINE * field.em
    yield Text(
        x,
        top + TURNED_PAD / 2 * field.em,
        setting.lines[0],
        setting.face,
        field.em,
        setting.stretch,
        turned=True,
        whole=whole,
    )


def _hold(start: float, stop: int, column: Column, field: Field) -> Iterator[Mark]:
    """A line from below the text to the end of its hold, with a foot where the hold ends on this page."""
    x = column.lane.left + (column.lane.width / 2 if column.turned else (PAD + HOLD_INDENT) * field.em)
    top = field.top + (start - field.first) * field.row_height + 0.1 * field.em
    end = field.top_of(min(stop, field.stop)) - 0.16 * field.em
    if end - top < 0.3 * field.em:
        return
    yield Line(x, top, x, end, HOLD_WEIGHT)
    if stop <= field.stop:
        yield Line(x - 0.2 * field.em, end, x + 0.2 * field.em, end, HOLD_WEIGHT)


def openings(runs: tuple[Run, ...], left: float, right: float, field: Field) -> Iterator[Mark]:
    """A rule above each word, across its stress and itself: where one word ends and the next begins."""
    for run in runs:
        if field.first <= run.first < field.stop:
            yield Line(left, field.top_of(run.first), right, field.top_of(run.first), 1.1)


def stresses(beats: tuple[Beat, ...], lane: Lane, field: Field) -> Iterator[Mark]:
    """Degrees of stress that differ in width and filling, so that no copier makes them alike."""
    for beat in beats:
        start, stop = max(beat.first, field.first), min(beat.stop, field.stop)
        if start < stop:
            top = field.top_of(start) + 0.8
            yield stress(beat.degree, lane, top, field.top_of(stop) - 0.8 - top)


def stress(degree: int, lane: Lane, top: float, height: float) -> Mark:
    """One bar in the middle of its lane: solid for strong, narrower and hatched for half, a thin line for weak."""
    width = lane.width * (0.8 if degree >= STRONG else 0.5) if degree else 1.3
    left = lane.left + (lane.width - width) / 2
    if degree == 1:
        return Hatch(left, top, width, height, 3.2, 0.8)
    return Box(left, top, width, height)
