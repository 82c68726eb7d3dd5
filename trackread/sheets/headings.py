"""The headings above the columns.

Their sizes are multiples of the head's type size, which is the same for all numbers of rows on a paper.
"""

from collections.abc import Iterator

from trackread.core.sheet import Sheet, Voice
from trackread.sheets.columns import Lane, Plan, VoiceLanes
from trackread.sheets.counts import Count
from trackread.sheets.fitting import Measure, Room, Setting, fit
from trackread.sheets.marks import Line, Mark, Text
from trackread.sheets.paper import Frame

NAME, SMALL_NAME, LABEL = 0.86, 0.58, 0.6
LEADING = 1.1
PAD = 0.2
# Below the baseline of the labels.
UNDER = 0.2
OVER = 0.15


def names_height(plan: Plan, sheet: Sheet, measure: Measure, em: float) -> float:
    """What the headings take above the rows: more where a name needs two lines."""
    sizes = [(size, len(setting.lines)) for size, setting in _names(plan, sheet, measure, em)]
    names = max((size * lines for size, lines in sizes), default=NAME)
    return (OVER + names * LEADING + LABEL + UNDER) * em


def headings(plan: Plan, sheet: Sheet, frame: Frame, measure: Measure, *, count: Count | None) -> Iterator[Mark]:
    """Each voice's name above its columns, and every column's heading; `frame.bottom` is where the rows begin."""
    labels: list[tuple[str, Lane | None]] = [
        ("frame", plan.number),
        (count.heading if count else "", plan.count),
        ("level", plan.level),
        ("pitch", plan.pitch),
        (_aside_heading(plan), plan.action),
        ("camera", plan.camera),
        ("positions", plan.positions),
        ("notes", plan.notes),
    ]
    named = zip(plan.voices, _names(plan, sheet, measure, frame.em), strict=True)
    for lanes, (size, setting) in named:
        yield Line(lanes.whole.left, frame.top + OVER * frame.em, lanes.whole.left, frame.bottom, 1.0)
        yield from _name(lanes, size * frame.em, setting, frame)
        labels.extend((("sound", lanes.sound), ("mouth", lanes.mouth)))
    for text, lane in labels:
        if lane:
            yield _label(text, lane, frame, measure)


def named(voice: Voice) -> str:
    """A character's name, with where the voice comes from if not from a mouth that is seen."""
    return f"{voice.character} ({voice.extension})" if voice.extension else voice.character


def _aside_heading(plan: Plan) -> str:
    return "action" if plan.notes else "action, notes" if plan.camera else "action, camera"


def _names(plan: Plan, sheet: Sheet, measure: Measure, em: float) -> Iterator[tuple[float, Setting]]:
    """Each voice's name as it is set: on a line, or smaller on two."""
    for lanes in plan.voices:
        name = named(sheet.voices[lanes.number])
        width = lanes.whole.width / em - 2 * PAD
        setting = fit(name, Room(width / NAME), measure, bold=True)
        if setting.cut:
            yield SMALL_NAME, fit(name, Room(width / SMALL_NAME, 2), measure, bold=True)
        else:
            yield NAME, setting


def _name(lanes: VoiceLanes, size: float, setting: Setting, frame: Frame) -> Iterator[Mark]:
    lowest = frame.bottom - (LABEL + UNDER) * frame.em - 0.2 * size
    for index, line in enumerate(reversed(setting.lines)):
        baseline = lowest - index * LEADING * size
        yield Text(lanes.whole.left + PAD * frame.em, baseline, line, setting.face, size, setting.stretch)


def _label(text: str, lane: Lane, frame: Frame, measure: Measure) -> Mark:
    size = LABEL * frame.em
    room = Room((lane.width - 2 * PAD * size) / size)
    setting = fit(text, room, measure)
    baseline = frame.bottom - UNDER * frame.em
    return Text(lane.left + PAD * size, baseline, setting.lines[0], setting.face, size, setting.stretch)
