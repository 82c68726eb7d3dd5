"""A kit of mouths on one page, to hang on the wall where puppets are dressed and animated.

Each mouth has a cell with its picture, and under that its number in the kit, its name, and what it is for. Sizes of
texts are multiples of the type size, which goes with the width of a cell.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from io import BytesIO
from math import ceil

import pypdfium2

from trackread.core.drawing import Look
from trackread.sheets.fitting import Measure, Room, fit
from trackread.sheets.marks import BLACK, Face, Line, Mark, Page, Text
from trackread.sheets.mouths import Sight, in_box
from trackread.sheets.paper import MILLIMETRE, Frame, Paper
from trackread.sheets.pdf import draw, sights_of, width_of

MARGIN = 12 * MILLIMETRE
TITLE, DETAIL = 26.0, 10.0  # points
HEAD, FOOT_OF_HEAD = 54.0, 10.0  # points from the top of the frame to the first cells, and from its texts to these
LEADING = 1.25
GAP = 1.0  # between cells, and round a picture
SMALLEST, LARGEST = 6.5, 14.0  # the type size: what is read near by, and what a wall has use for
LETTERS = 12.5  # the width of a cell, in type sizes
NUMBER, INDENT = 1.8, 2.9  # the size of the number, and the room that it has beside the texts
# The most lines under a picture.
NAME_LINES, SHORT_LINES, SOUND_LINES = 2, 1, 3
RULE = 0.6
TONE = 0.35  # of what matters less
DOTS = 150 / 72  # of a page as a picture


@dataclass(frozen=True, slots=True)
class Cell:
    """A mouth on the page: its name, what it looks like, a few words about it, and the sounds it is for."""

    name: str
    sight: Sight
    short: str
    sounds: str


@dataclass(frozen=True, slots=True)
class Grid:
    """So many columns and rows of cells, each `width` by `height`, with pictures `side` large and their type size."""

    columns: int
    width: float
    height: float
    side: float
    em: float


@dataclass(frozen=True, slots=True)
class KitHead:
    """What stands over the cells: whose mouths they are, and a line about them."""

    title: str
    detail: str


def kit_pdf(head: KitHead, about: Sequence[tuple[str, str, str]], looks: Mapping[str, Look], paper: Paper) -> bytes:
    """The page as a PDF. `about` has for each mouth its name, a few words, and its sounds.

    Raises SheetError for a look that is no picture.
    """
    sights = sights_of(looks)
    cells = [Cell(name, sights[name], short, sounds) for name, short, sounds in about]
    page = kit_page(head, cells, paper=paper, measure=width_of)
    pictures = {sha256(look).hexdigest(): look for look in looks.values() if isinstance(look, bytes)}
    return draw([page], title=f"{head.title}: mouths", pictures=pictures)


def as_png(pdf: bytes) -> bytes:
    """The first page of a PDF as a picture of 150 dots to the inch."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[0].render(scale=DOTS).to_pil()
    finally:
        document.close()
    target = BytesIO()
    picture.save(target, "PNG")
    return target.getvalue()


def kit_page(head: KitHead, cells: Sequence[Cell], *, paper: Paper, measure: Measure) -> Page:
    """The page's marks: the head, and the cells in rows from the left, as large as they all fit."""
    frame = Frame(MARGIN, MARGIN, paper.width - MARGIN, paper.height - MARGIN, DETAIL)
    body = Frame(frame.left, frame.top + HEAD, frame.right, frame.bottom, DETAIL)
    grid = grid_for(cells, body, measure)
    marks = list(_head(head, frame, measure))
    for number, cell in enumerate(cells):
        down, across = divmod(number, grid.columns)
        corner = (body.left + across * grid.width, body.top + down * grid.height)
        marks += _cell(cell, number + 1, corner, grid=grid, measure=measure)
    return Page(paper.width, paper.height, tuple(marks))


def grid_for(cells: Sequence[Cell], body: Frame, measure: Measure) -> Grid:
    """The grid in which the pictures are largest."""
    grids = (_grid(columns, cells, body, measure) for columns in range(1, len(cells) + 1))
    return max(grids, key=lambda grid: (grid.side, -grid.columns))


def _grid(columns: int, cells: Sequence[Cell], body: Frame, measure: Measure) -> Grid:
    width = (body.right - body.left) / columns
    height = (body.bottom - body.top) / ceil(len(cells) / columns)
    em = min(max(width / LETTERS, SMALLEST), LARGEST)
    lines = max(len(_lines(cell, width / em, measure)) for cell in cells)
    side = min(width - GAP * em, height - (lines * LEADING + 2 * GAP) * em)
    return Grid(columns, width, height, side, em)


def _lines(cell: Cell, width: float, measure: Measure) -> list[Text]:
    """The lines of a cell so many type sizes wide, in type of size 1, the first of them at 0."""
    room = max(width - GAP - INDENT, 1.0)
    settings = [(fit(cell.name, Room(room, NAME_LINES), measure, bold=True), BLACK)]
    if cell.short:
        settings.append((fit(cell.short, Room(room, SHORT_LINES), measure), TONE))
    if cell.sounds:
        settings.append((fit(cell.sounds, Room(room, SOUND_LINES), measure), BLACK))
    lines = [(line, setting, tone) for setting, tone in settings for line in setting.lines]
    return [
        Text(INDENT, row * LEADING, line, setting.face, 1.0, setting.stretch, tone)
        for row, (line, setting, tone) in enumerate(lines)
    ]


def _head(head: KitHead, frame: Frame, measure: Measure) -> Iterator[Mark]:
    places = ((head.title, TITLE, frame.top + TITLE), (head.detail, DETAIL, frame.top + HEAD - FOOT_OF_HEAD))
    for text, size, baseline in places:
        setting = fit(text, Room((frame.right - frame.left) / size), measure, bold=size == TITLE)
        yield Text(frame.left, baseline, setting.lines[0], setting.face, size, setting.stretch)


def _cell(cell: Cell, number: int, corner: tuple[float, float], *, grid: Grid, measure: Measure) -> Iterator[Mark]:
    (left, top), em = corner, grid.em
    yield Line(left, top, left + grid.width - GAP * em, top, RULE)
    yield in_box(cell.sight, left + (grid.width - GAP * em - grid.side) / 2, top + GAP / 2 * em, grid.side)
    first = top + grid.side + 1.5 * GAP * em
    yield Text(left, first + (NUMBER - 1) * em, str(number), Face.BOLD, NUMBER * em)
    for line in _lines(cell, grid.width / em, measure):
        yield replace(line, x=left + line.x * em, baseline=first + line.baseline * em, size=em)
