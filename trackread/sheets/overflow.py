"""Texts that had to be cut on the sheet, in full on pages after it: nothing is dropped."""

from collections.abc import Sequence

from trackread.sheets.fitting import Measure, wrap
from trackread.sheets.header import Frame
from trackread.sheets.marks import Face, Mark, Text

LEADING = 1.3


def in_full(texts: Sequence[str], frame: Frame, measure: Measure) -> tuple[tuple[Mark, ...], ...]:
    """The texts one below another within `frame`, on as many pages as they take: none for no texts."""
    width = (frame.right - frame.left) / frame.em
    lines = [line for text in texts for line in wrap(text, width, lambda part: measure(part, Face.REGULAR))]
    most = int((frame.bottom - frame.top) / (LEADING * frame.em)) - 2
    return tuple(_page(lines[start : start + most], frame) for start in range(0, len(lines), most))


def _page(lines: Sequence[str], frame: Frame) -> tuple[Mark, ...]:
    step = LEADING * frame.em
    title = Text(frame.left, frame.top + step, "In full, what had no room in its rows:", Face.BOLD, frame.em)
    rows = (
        Text(frame.left, frame.top + (number + 2) * step, line, Face.REGULAR, frame.em)
        for number, line in enumerate(lines)
    )
    return (title, *rows)
