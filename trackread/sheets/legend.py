"""The mouths of each puppet with their numbers: in the foot of the pages that call them so, or all at the end.

At the end stands every mouth that is worn on the sheet, with what it looks like if that is known, on how many frames
it is worn, and from which on first. Sizes are multiples of the head's type size.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from trackread.sheets.draft import Draft
from trackread.sheets.fitting import Measure, Room, Setting, fit
from trackread.sheets.marks import Drawn, Face, Mark, Picture, Text
from trackread.sheets.mouths import MouthRun, Sight, in_box
from trackread.sheets.overflow import Appendix
from trackread.sheets.paper import MILLIMETRE, Frame

TITLE, NAME, COUNT = 1.0, 0.82, 0.66
LEADING = 1.2
# Mouths are told apart at 12 mm.
PICTURE = 12 * MILLIMETRE
COLUMNS = 4
# In the head's type size: between rows, and beside a picture or a text.
GAP, BESIDE = 0.35, 0.5
# As many as a name ever needs: nothing is cut here.
MOST_LINES = 9

Part = Text | Drawn | Picture


@dataclass(frozen=True, slots=True)
class Listed:
    """A mouth of the list: its name and number, how often it is worn, and the printed number of its first frame."""

    name: str
    number: int
    frames: int
    first: int

    @property
    def told(self) -> str:
        return f"{self.frames} frame{'s' * (self.frames != 1)}, first on {self.first}"


@dataclass(frozen=True, slots=True)
class Row:
    """Marks that stand side by side, drawn as if their top were 0, and how high they are."""

    marks: tuple[Part, ...]
    height: float


def at_the_end(draft: Draft, below: Frame, page: Frame) -> Appendix:
    """The mouths of everybody, `below` what is on a page already if there is room for all, else on pages."""
    rows = [row for number in range(len(draft.voices)) for row in _rows(draft, number, page)]
    if sum(row.height for row in rows) <= below.bottom - below.top:
        return Appendix(_stacked(rows, below.top), ())
    return Appendix((), tuple(_stacked(some, page.top) for some in _paged(rows, page.bottom - page.top)))


def listed(runs: Sequence[MouthRun], first_number: int) -> list[Listed]:
    """The mouths that are worn, in the order of their kit."""
    ordered = sorted(runs, key=lambda run: (run.number, run.first))
    groups = [(key, list(some)) for key, some in groupby(ordered, key=lambda run: (run.name, run.number))]
    return [
        Listed(name, number, sum(run.stop - run.first for run in some), first_number + some[0].first)
        for (name, number), some in groups
    ]


def _rows(draft: Draft, number: int, page: Frame) -> Iterator[Row]:
    """A title and the mouths of a voice, none if it has none."""
    character, sheet = draft.sheet.voices[number].character, draft.sheet
    found = listed(draft.voices[number].mouths, sheet.first_number)
    sights, wide = draft.sights.get(character, {}), (page.right - page.left) / COLUMNS
    for start in range(0, len(found), COLUMNS):
        cells = []
        for place, one in enumerate(found[start : start + COLUMNS]):
            box = replace(page, left=page.left + place * wide, top=0.0, right=page.left + (place + 1) * wide)
            cells.append(_cell(one, box, draft.measure, sights.get(one.name), pictured=bool(sights)))
        row = Row(tuple(mark for cell in cells for mark in cell.marks), max(cell.height for cell in cells))
        # A title never stands alone at the foot of a page.
        yield _titled(f"Mouths of {character}", row, page) if start == 0 else row


def _titled(text: str, row: Row, page: Frame) -> Row:
    height = 1.5 * TITLE * page.em
    title = Text(page.left, TITLE * page.em, text, Face.BOLD, TITLE * page.em)
    return Row((title, *(moved(mark, height) for mark in row.marks)), height + row.height)


def _cell(one: Listed, box: Frame, measure: Measure, sight: Sight | None, *, pictured: bool) -> Row:
    """A mouth in its place; where some are `pictured`, the texts of all leave room for it."""
    em, size = box.em, NAME * box.em
    left = box.left + (PICTURE + BESIDE * em if pictured else 0.0)
    figures = str(one.number)
    indent = left + (measure(figures, Face.BOLD) + BESIDE) * size
    width = box.right - BESIDE * em - indent
    name = fit(one.name, Room(width / size, MOST_LINES), measure)
    told = fit(one.told, Room(width / (COUNT * em)), measure)
    marks: list[Part] = [in_box(sight, box.left, 0.0, PICTURE)] if sight else []
    marks.append(Text(left, size, figures, Face.BOLD, size))
    marks.extend(_lines(name, indent, size, size))
    under = size + (len(name.lines) - 1) * LEADING * size + LEADING * COUNT * em
    marks.extend(_lines(told, indent, under, COUNT * em))
    return Row(tuple(marks), max(PICTURE if pictured else 0.0, under) + GAP * em)


def _lines(setting: Setting, x: float, baseline: float, size: float) -> Iterator[Text]:
    for number, line in enumerate(setting.lines):
        yield Text(x, baseline + number * LEADING * size, line, setting.face, size, setting.stretch)


def _paged(rows: Sequence[Row], height: float) -> Iterator[list[Row]]:
    """The rows on as few pages as have room for them."""
    page: list[Row] = []
    for row in rows:
        if page and sum(one.height for one in (*page, row)) > height:
            yield page
            page = []
        page.append(row)
    if page:
        yield page


def _stacked(rows: Sequence[Row], top: float) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for row in rows:
        marks.extend(moved(mark, top) for mark in row.marks)
        top += row.height
    return tuple(marks)


def moved(mark: Part, down: float) -> Part:
    """A text or a picture lower down."""
    if isinstance(mark, Text):
        return replace(mark, baseline=mark.baseline + down)
    return replace(mark, y=mark.y + down)
