"""The head of a page: the warning where there is one, what the sheet is, its board and its square code.

The head takes as many lines as its texts need, which is three nearly always, and after them up to two that tell what
happens; rows share what it leaves.
"""

from dataclasses import dataclass

from trackread.core.sheet import Heading, Sheet
from trackread.core.timebase import FrameRate
from trackread.sheets.board import framed
from trackread.sheets.fitting import Measure, Room, fit, wrap
from trackread.sheets.marks import WHITE, Box, Face, Mark, SquareCode, Text
from trackread.sheets.paper import Frame

GAP = "   "
# Sizes as multiples of the type size, and the space from line to line as a multiple of each.
TITLE, DETAIL = 1.25, 0.74
LEADING = 1.2
# A text that is too long for its line is set narrower before it is broken.
SQUEEZED = 0.85
NARROW = {Face.BOLD: Face.CONDENSED_BOLD, Face.REGULAR: Face.CONDENSED}
# The share of a line that its right text may take.
RIGHT_MOST = 0.6
ABOUT_LINES = 2
# The shape of the widest screens; a board that is wider still stands lower.
BOARD_WIDEST = 2.4


@dataclass(frozen=True, slots=True)
class Head:
    """The marks of a head and the height where it ends; `cut` is what happens where it had no room."""

    marks: tuple[Mark, ...]
    bottom: float
    cut: str


@dataclass(frozen=True, slots=True)
class HeadLine:
    """Two texts on a line, the second against the right edge."""

    left: str
    right: str
    face: Face
    size: float


def length_of(length: int, rate: FrameRate) -> str:
    """How long a sheet is, seconds counted by the timecode base: `84 frames, 3 s 12 fr at 24 fps`."""
    seconds, over = divmod(length, rate.base)
    rest = f" {over} fr" if over else ""
    drop = " drop-frame" if rate.drop else ""
    return f"{length} frames, {seconds} s{rest} at {rate.name.removesuffix('df')} fps{drop}"


def title_of(heading: Heading) -> str:
    """What a sheet is called: its scene and shot, or else its take."""
    named = _joined(_said("Scene", heading.scene), _said("Shot", heading.shot))
    return named or _said("Take", heading.take) or "Exposure sheet"


def head(sheet: Sheet, frame: Frame, place: str, measure: Measure, *, lowest: float, shape: float | None) -> Head:
    """The head of a page; `place` says which page of how many this is.

    What happens in the shot goes no lower than `lowest`; `shape` is that of the board, None for no board.
    """
    heading = sheet.heading
    marks: list[Mark] = []
    start = _warn(heading.warning, frame, measure, marks)
    lines = _lines(sheet, place, frame.em)
    signs = Frame(frame.left, start, frame.right, start + sum(line.size for line in lines) * LEADING, frame.em)
    top, right = start, _signs(heading, signs, shape, marks)
    for line in lines:
        top = _head_line(line, (frame.left, right, top), measure, marks)
    top = max(top, signs.bottom) if right < frame.right else top
    return _about(heading.about, Frame(frame.left, top, frame.right, lowest, frame.em), measure, marks)


def _signs(heading: Heading, frame: Frame, shape: float | None, marks: list[Mark]) -> float:
    """Adds the square code and the board at its left, as high as the frame, and says where the texts must end."""
    right, height = frame.right, frame.bottom - frame.top
    if heading.code:
        right -= height
        marks.append(SquareCode(right, frame.top, height, heading.code))
    if shape:
        # The quiet zone of the code keeps the two apart.
        left = right - min(shape, BOARD_WIDEST) * height
        marks.extend(framed(Frame(left, frame.top, right, frame.bottom, frame.em), shape, heading.board))
        right = left
    return right if right == frame.right else right - 0.3 * frame.em


def _about(about: str, frame: Frame, measure: Measure, marks: list[Mark]) -> Head:
    """Adds what happens, in the lines that there is room for: nothing is cut without being said in full elsewhere."""
    size = DETAIL * frame.em
    lines = min(ABOUT_LINES, int((frame.bottom - frame.top) / (LEADING * size)))
    if not about or lines < 1:
        return Head(tuple(marks), frame.top, about)
    setting = fit(about, Room((frame.right - frame.left) / size, lines), measure)
    for index, text in enumerate(setting.lines):
        baseline = frame.top + (0.95 + index * LEADING) * size
        marks.append(Text(frame.left, baseline, text, setting.face, size, setting.stretch))
    return Head(tuple(marks), frame.top + len(setting.lines) * LEADING * size, about if setting.cut else "")


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
    face = line.face if measure(line.left, line.face) <= room else NARROW[line.face]
    squeezed = measure(line.left, face) * SQUEEZED <= room
    texts = (line.left,) if squeezed else wrap(line.left, room, lambda text: measure(text, face))
    if line.right:
        x, baseline = right - taken * line.size, top + 0.95 * line.size
        marks.append(Text(x, baseline, line.right, line.face, line.size, taken / natural))
    for index, text in enumerate(texts):
        baseline = top + (0.95 + index * LEADING) * line.size
        stretch = min(1.0, room / max(measure(text, face), 0.01))
        marks.append(Text(left, baseline, text, face, line.size, stretch))
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
