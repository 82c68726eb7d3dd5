"""The headings above the columns, and the line at the foot that explains the marks.

Their sizes are multiples of the head's type size, which is the same for all numbers of rows on a paper.
"""

from collections.abc import Iterator

from trackread.core.sheet import POINTS, Sheet
from trackread.sheets.columns import Lane, Plan, VoiceLanes
from trackread.sheets.counts import Count
from trackread.sheets.field import Field
from trackread.sheets.fitting import Measure, Room, Setting, fit
from trackread.sheets.header import Frame
from trackread.sheets.marks import Face, Line, Mark, Text
from trackread.sheets.stress import stress
from trackread.sheets.waveform import stroke_of

NAME, SMALL_NAME, LABEL, FOOT = 0.86, 0.58, 0.6, 0.58
LEADING = 1.1
PAD = 0.2
# Below the baseline of the labels, and all of the foot.
UNDER, FOOT_HEIGHT = 0.2, 0.85
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


def _aside_heading(plan: Plan) -> str:
    return "action" if plan.notes else "action, notes" if plan.camera else "action, camera"


def _names(plan: Plan, sheet: Sheet, measure: Measure, em: float) -> Iterator[tuple[float, Setting]]:
    """Each voice's name as it is set: on a line, or smaller on two."""
    for lanes in plan.voices:
        name = sheet.voices[lanes.number].character
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
    setting = fit(text, Room((lane.width - 2 * PAD * size) / size), measure)
    baseline = frame.bottom - UNDER * frame.em
    return Text(lane.left + PAD * size, baseline, setting.lines[0], setting.face, size, setting.stretch)


def foot(sheet: Sheet, field: Field, frame: Frame, measure: Measure) -> tuple[Mark, ...]:
    """Which frames these are, and what the bars and strokes mean; `frame.bottom` is the foot's lower edge."""
    writer = _Writer(frame, measure)
    _explain(sheet, field, writer)
    if writer.x > frame.right:
        writer = _Writer(frame, measure, stretch=(frame.right - frame.left) / (writer.x - frame.left))
        _explain(sheet, field, writer)
    return tuple(writer.marks)


def _explain(sheet: Sheet, field: Field, writer: "_Writer") -> None:
    last = field.number_of(sheet.length - 1)
    writer.say(f"Frames {field.number_of(field.first)}–{field.number_of(field.stop - 1)} of {last}.   Stress: ")
    for degree, word in ((2, "strong"), (1, "half"), (0, "weak")):
        writer.show_stress(degree)
        writer.say(f"{word}  ")
    heard = [
        (number, voice.character)
        for number, voice in enumerate(sheet.voices)
        if any(value is not None for value in voice.pitch[field.first * POINTS : field.stop * POINTS])
    ]
    if heard:
        writer.say(" Pitch (high at the right): ")
    for number, name in heard:
        writer.show_stroke(number)
        writer.say(f"{name}  ")
    if any(first < field.stop and field.first < stop for first, stop in sheet.changed):
        writer.say(" Bar at the edge: changed since the last issue.")


class _Writer:
    """Sets marks one after another along the foot, all of them at `stretch` of their width."""

    def __init__(self, frame: Frame, measure: Measure, *, stretch: float = 1.0) -> None:
        self.x = frame.left
        self.size = FOOT * frame.em
        self.baseline = frame.bottom - 0.25 * self.size
        self.measure = measure
        self.stretch = stretch
        self.marks: list[Mark] = []

    def say(self, text: str) -> None:
        self.marks.append(Text(self.x, self.baseline, text, Face.CONDENSED, self.size, self.stretch))
        self._pass(self.measure(text, Face.CONDENSED))

    def show_stress(self, degree: int) -> None:
        lane = Lane(self.x, self.size * self.stretch)
        self.marks.append(stress(degree, lane, self.baseline - 0.95 * self.size, 1.1 * self.size))
        self._pass(1.2)

    def show_stroke(self, number: int) -> None:
        weight, dash = stroke_of(number)
        y = self.baseline - 0.3 * self.size
        self.marks.append(Line(self.x, y, self.x + 2.4 * self.size * self.stretch, y, weight, dash=dash))
        self._pass(2.7)

    def _pass(self, ems: float) -> None:
        self.x += ems * self.size * self.stretch
