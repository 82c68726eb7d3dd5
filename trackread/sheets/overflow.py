"""Texts that had to be cut on the sheet, in full after its last frame: nothing is dropped."""

from collections.abc import Sequence
from dataclasses import dataclass

from trackread.sheets.fitting import Measure, wrap
from trackread.sheets.marks import Face, Mark, Text
from trackread.sheets.paper import Frame

LEADING = 1.3


@dataclass(frozen=True, slots=True)
class Appendix:
    """What goes below the last row, and what goes on pages of its own: texts stand in one or the other."""

    below: tuple[Mark, ...]
    pages: tuple[tuple[Mark, ...], ...]


def in_full(texts: Sequence[str], below: Frame, page: Frame, measure: Measure) -> Appendix:
    """The texts one under another, `below` the last row if there is room for all, else on pages."""
    width = (page.right - page.left) / page.em
    lines = [line for text in texts for line in wrap(text, width, lambda part: measure(part, Face.REGULAR))]
    if len(lines) <= _most(below):
        return Appendix(_block(lines, below) if lines else (), ())
    most = _most(page)
    starts = range(0, len(lines), most)
    return Appendix((), tuple(_block(lines[start : start + most], page) for start in starts))


def _most(frame: Frame) -> int:
    """How many lines there is room for, below the heading of the block."""
    return int((frame.bottom - frame.top) / (LEADING * frame.em)) - 1


def _block(lines: Sequence[str], frame: Frame) -> tuple[Mark, ...]:
    step = LEADING * frame.em
    title = Text(frame.left, frame.top + step, "In full, what had no room in its rows:", Face.BOLD, frame.em)
    rows = (
        Text(frame.left, frame.top + (number + 2) * step, line, Face.REGULAR, frame.em)
        for number, line in enumerate(lines)
    )
    return (title, *rows)
