"""Camera positions: where the axes of a move stand, mostly one on every frame, in a column of their own.

All positions of a page are set alike, smaller than other texts if they must be, so that digits stand under digits.
"""

from collections.abc import Iterator

from trackread.sheets.cells import PAD, Column, continued, hold
from trackread.sheets.fitting import NARROWEST, Measure
from trackread.sheets.grid import COUNT_SIZE
from trackread.sheets.marks import Face, Mark, Text
from trackread.sheets.runs import GOES_ON, Run, touching

CAUTION = "Positions are a plan, not a motion-control program: keep clear of moving rigs, follow your stage's rules."
# The face and the share of the type size of each setting, the first that fits being taken.
SETTINGS = ((Face.REGULAR, 1.0), (Face.CONDENSED, 1.0), (Face.CONDENSED, COUNT_SIZE))


def room_for(runs: tuple[Run, ...], first: int, stop: int, measure: Measure) -> tuple[float, float]:
    """The ems that positions on the frames from `first` to `stop` take at the least and at the most."""
    widths = _widths([text for _, text in _shown(runs, first, stop)], measure)
    return (NARROWEST * widths[-1] + 2 * PAD, widths[0] + 2 * PAD) if widths else (0.0, 0.0)


def positions(runs: tuple[Run, ...], column: Column) -> Iterator[Mark]:
    """The positions that touch the column's page, in a lane that has at least the room they need."""
    field, lane = column.field, column.lane
    shown = _shown(runs, field.first, field.stop)
    widths = _widths([text for _, text in shown], column.measure)
    room = lane.width / field.em - 2 * PAD
    chosen = next((number for number, width in enumerate(widths) if width <= room), len(SETTINGS) - 1)
    face, size = SETTINGS[chosen]
    for run, text in shown:
        start = max(run.first, field.first)
        stretch = min(1.0, room / widths[chosen])
        yield Text(lane.left + PAD * field.em, field.baseline_of(start), text, face, size * field.em, stretch)
        yield from hold(run, start + 1, column)


def _shown(runs: tuple[Run, ...], first: int, stop: int) -> list[tuple[Run, str]]:
    """The runs on the frames of a page, each with its text as it stands there."""
    return [(run, continued(run, first, GOES_ON)) for run in touching(runs, first, stop) if run.stop > first]


def _widths(texts: list[str], measure: Measure) -> list[float]:
    """The ems of the longest text in each setting, none for no texts."""
    return [size * max(measure(text, face) for text in texts) for face, size in SETTINGS if texts]
