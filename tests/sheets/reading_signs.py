"""The signs of what a voice does on pages of marks, found from the marks alone."""

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from trackread.core.sheet import Voice
from trackread.sheets.columns import Lane
from trackread.sheets.marks import BLACK, Box, Hatch, Page, Path
from trackread.sheets.mouths import WEIGHT
from trackread.sheets.stress import BRACKET_WEIGHT

# The examples in which voices do all that they can.
ACTED = tuple(name for name in EXAMPLES if name.startswith("acted"))


def voices_on(page: Page, name: str) -> list[Voice]:
    """Each voice of an example whose columns stand on the page."""
    named = {text.text.partition(" (")[0] for text in read.above_rows(page)}
    return [voice for voice in EXAMPLES[name][0].voices if voice.character in named]


def first_of(page: Page) -> int:
    """The frame of a page's first row, counted from 0."""
    return int(next(iter(read.numbers(page)))) - 1


def rows_of(page: Page) -> dict[int, tuple[float, float]]:
    """The frames of a page, each with the upper and lower edge of its row."""
    tops, first = read.row_tops(page), first_of(page)
    return {first + row: (top, tops[row + 1]) for row, top in enumerate(tops[:-1])}


def heights(path: Path) -> tuple[float, float]:
    """The upper and lower end of a path."""
    return (min(y for _, y in path.points), max(y for _, y in path.points))


def flags(page: Page, lane: Lane) -> list[Path]:
    """The main beats in a stress column."""
    return [path for path in read.paths(page, lane) if path.fill == BLACK and len(path.points) == 6]


def brackets(page: Page, lane: Lane) -> list[Path]:
    """The phrases in a stress column."""
    return [path for path in read.paths(page, lane) if path.weight == BRACKET_WEIGHT]


def signs(page: Page, lane: Lane) -> list[Path]:
    """The signs of turns in a stress column: arrows and triangles."""
    others = (*flags(page, lane), *brackets(page, lane), *mouth_marks(page))
    return [path for path in read.paths(page, lane) if path not in others]


def mouth_marks(page: Page) -> list[Path]:
    """The corners and clamps at mouths, from the top down: the only open paths whose weight goes with the type size."""
    (size,) = {text.size for text in read.in_column(page, "frame")}
    found = [mark for mark in page.marks if isinstance(mark, Path) and mark.weight == WEIGHT * size]
    return sorted(found, key=lambda mark: heights(mark))


def climbs(sign: Path) -> bool:
    """Whether an arrow's tip, its second point, lies above its tail, or a triangle's tip above its base."""
    tip = sign.points[1] if sign.fill is None else sign.points[2]
    return tip[1] < sign.points[0][1]


def bars(page: Page, lane: Lane, kind: type[Box] | type[Hatch]) -> list[Box | Hatch]:
    """The bars of a kind in a stress column."""
    bottom = read.uprights(page)[0].y2
    return [
        mark
        for mark in page.marks
        if isinstance(mark, kind) and lane.left < mark.x < lane.right and mark.y < bottom and mark.width < lane.width
    ]


def beside(page: Page, character: str) -> list[Path]:
    """The waves and carets at the right edge of a voice's words."""
    return read.paths(page, Lane(read.lanes(page, character)[1].right - 4, 8))
