"""What is marked beside the words for how they are said: another manner, or other words than the script's.

What the mark stands for is said in the action column, where there is room, under the character's name if
several speak.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from operator import attrgetter

from trackread.core.sheet import Cell, Sheet, Voice
from trackread.core.timebase import Frame
from trackread.sheets.columns import VoiceLanes
from trackread.sheets.field import Field
from trackread.sheets.marks import Line, Mark, Path

WAVE_WEIGHT, WAVE_HALF, WAVE_STEP = 1.6, 1.7, 3.2
# From the edge between words and sounds: clear of the sounds, or of the letters of words that run down the page.
WAVE_SHIFT, TURNED_SHIFT = -0.7, 0.7
CARET_WEIGHT, CARET_HALF, CARET_LEFT, CARET_RIGHT = 2.2, 5.5, 1.5, 2.8
MANNER_WEIGHT, MANNER_DASH = 1.8, (4.0, 2.2)
# Of the lane's edge, in points.
MANNER_INSET = 2.2


def beside_words(voice: Voice, lanes: VoiceLanes, field: Field) -> Iterator[Mark]:
    """A wave along words that are not the script's, a caret where some are left out, a dashed line along a manner."""
    if not (lanes.word and lanes.sound):
        return
    edge = lanes.word.right
    for cell in voice.missing:
        if field.first <= cell.first < field.stop:
            yield caret(edge, field.top_of(cell.first))
    for cell in voice.departures:
        start, stop = max(cell.first, field.first), min(cell.stop, field.stop)
        if start < stop:
            shift = TURNED_SHIFT if lanes.turned else WAVE_SHIFT
            yield wave(edge + shift, field.top_of(start), field.top_of(stop))
    for cell in voice.manners:
        start, stop = max(cell.first, field.first), min(cell.stop, field.stop)
        if start < stop:
            yield manner(lanes.sound.right - MANNER_INSET, field.top_of(start) + 1.0, field.top_of(stop) - 1.0)


def wave(x: float, top: float, end: float) -> Path:
    """A zigzag down from `top`."""
    count = max(int((end - top) / WAVE_STEP), 2)
    step = (end - top) / count
    sides = (x - WAVE_HALF, x + WAVE_HALF)
    return Path(tuple((sides[number % 2], top + number * step) for number in range(count + 1)), WAVE_WEIGHT)


def caret(x: float, y: float) -> Path:
    """A caret whose point lies on the edge between two rows."""
    right = x + CARET_RIGHT
    return Path(((right, y - CARET_HALF), (x - CARET_LEFT, y), (right, y + CARET_HALF)), CARET_WEIGHT)


def manner(x: float, top: float, end: float) -> Line:
    """The line along words that are said in another manner."""
    return Line(x, top, x, end, MANNER_WEIGHT, dash=MANNER_DASH)


def remarks(sheet: Sheet) -> tuple[Cell, ...]:
    """The texts of departures, manners and paces for the action column, named where several voices are on the sheet."""
    return tuple(
        cell if len(sheet.voices) == 1 else replace(cell, text=f"{voice.character}: {cell.text}")
        for voice in sheet.voices
        for cell in _remarks(voice)
    )


def _remarks(voice: Voice) -> Iterator[Cell]:
    """A voice's remarks, those that start on one frame in one."""
    paces = (Cell(phrase.first, Frame(phrase.first + 1), phrase.pace) for phrase in voice.phrases if phrase.pace)
    found = sorted((*voice.departures, *voice.missing, *voice.manners, *paces), key=attrgetter("first"))
    for first, cells in groupby(found, key=attrgetter("first")):
        together = tuple(cells)
        yield Cell(
            first,
            max(cell.stop for cell in together),
            ", ".join(cell.text for cell in together),
            before=all(cell.before for cell in together),
            beyond=any(cell.beyond for cell in together),
        )
