"""The head of a page: the warning where there is one, what the sheet is, and its square code.

The head takes as many lines as its texts need, which is three nearly always; rows share what it leaves.
"""

from dataclasses import dataclass

from trackread.core.sheet import Heading, Sheet
from trackread.core.timebase import NAMED_RATES, FrameRate
from trackread.sheets.fitting import Measure, wrap
from trackread.sheets.marks import WHITE, Box, Face, Mark, SquareCode, Text

GAP = "   "
# Sizes as multiples of the type size, and the space from line to line as a multiple of each.
TITLE, DETAIL = 1.25, 0.74
LEADING = 1.2
# The share of a line that its right text may take.
RIGHT_MOST = 0.6


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of a page that is printed on, and its type size."""

    left: float
    top: float
    right: float
    bottom: float
    em: float


@dataclass(frozen=True, slots=True)
class HeadLine:
    """Two texts on a line, the second against the right edge."""

    left: str
    right: str
    face: Face
    size: float


def length_of(length: int, rate: FrameRate) -> str:
    """How long a sheet is, seconds counted by the timecode base: `84 frames, 3 s 12 fr at 24 fps`."""
    names = {exact: name for name, exact in reversed(NAMED_RATES.items())}
    seconds, over = divmod(length, rate.base)
    rest = f" {over} fr" if over else ""
    drop = " drop-frame" if rate.drop else ""
    return f"{length} frames, {seconds} s{rest} at {names.get(rate.per_second, str(rate))} fps{drop}"


def title_of(heading: Heading) -> str:
    """What a sheet is called: its scene and shot, or else its take."""
    named = _joined(_said("Scene", heading.scene), _said("Shot", heading.shot))
    return named or _said("Take", heading.take) or "Exposure sheet"


def head(sheet: Sheet, frame: Frame, place: str, measure: Measure) -> tuple[tuple[Mark, ...], float]:
    """The head's marks and the height where it ends; `place` says which page of how many this is."""
    heading = sheet.heading
    marks: list[Mark] = []
    top = _warn(heading.warning, frame, measure, marks)
    start = top
    size = sum(line.size for line in _lines(sheet, place, frame.em)) * LEADING if heading.code else 0.0
    right = frame.right - (size + 0.3 * frame.em if heading.code else 0.0)
    for line in _lines(sheet, place, frame.em):
        top = _head_line(line, (frame.left, right, top), measure, marks)
    if heading.code:
        marks.append(SquareCode(frame.right - size, start, size, heading.code))
    return tuple(marks), max(top, start + size)


def _lines(sheet: Sheet, place: str, em: float) -> tuple[HeadLine, ...]:
    heading = sheet.heading
    take = "" if title_of(heading).startswith("Take") else _said("take", heading.take)
    voices = ", ".join(voice.character for voice in sheet.voices)
    verb = "listens" if len(heading.listeners) == 1 else "listen"
    listeners = f"{', '.join(heading.listeners)} {verb}" if heading.listeners else ""
    length = length_of(sheet.length, sheet.rate)
    return (
        HeadLine(title_of(heading), _joined(_said("issue", heading.issue), place), Face.BOLD, TITLE * em),
        HeadLine(
            _joined(heading.production, voices, listeners),
            _joined(_said("Unit", heading.unit), heading.date),
            Face.BOLD,
            DETAIL * em,
        ),
        HeadLine(_joined(length, take), heading.code, Face.REGULAR, DETAIL * em),
    )


def _head_line(line: HeadLine, edges: tuple[float, float, float], measure: Measure, marks: list[Mark]) -> float:
    """Adds a line's marks and says where the next line begins."""
    left, right, top = edges
    width = (right - left) / line.size
    natural = measure(line.right, line.face)
    taken = min(natural, RIGHT_MOST * width)
    room = width - taken - 1.5
    texts = wrap(line.left, room, lambda text: measure(text, line.face))
    if line.right:
        x, baseline = right - taken * line.size, top + 0.95 * line.size
        marks.append(Text(x, baseline, line.right, line.face, line.size, taken / natural))
    for index, text in enumerate(texts):
        baseline = top + (0.95 + index * LEADING) * line.size
        stretch = min(1.0, room / max(measure(text, line.face), 0.01))
        marks.append(Text(left, baseline, text, line.face, line.size, stretch))
    return top + len(texts) * LEADING * line.size


def _warn(warning: str, frame: Frame, measure: Measure, marks: list[Mark]) -> float:
    """White on a black bar across the page; the grey of a bad copy still leaves it the darkest thing there."""
    if not warning:
        return frame.top
    width = (frame.right - frame.left) / frame.em - 1.0
    texts = wrap(warning, width, lambda text: measure(text, Face.BOLD))
    height = (0.35 + len(texts) * LEADING) * frame.em
    marks.append(Box(frame.left, frame.top, frame.right - frame.left, height))
    for index, text in enumerate(texts):
        baseline = frame.top + (1.07 + index * LEADING) * frame.em
        marks.append(Text(frame.left + 0.5 * frame.em, baseline, text, Face.BOLD, frame.em, tone=WHITE))
    return frame.top + height + 0.15 * frame.em


def _said(word: str, text: str) -> str:
    return f"{word} {text}" if text else ""


def _joined(*texts: str) -> str:
    return GAP.join(text for text in texts if text)
