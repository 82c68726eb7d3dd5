"""What stands where on pages of marks, found from the marks alone, with widths that Pillow takes from the fonts."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path as FilePath

from PIL import ImageFont

from tests.sheets.boards import board_of
from tests.sheets.examples import EXAMPLES
from trackread.core.sheet import Sheet
from trackread.sheets.columns import Lane
from trackread.sheets.counts import count_for
from trackread.sheets.layout import lay_out
from trackread.sheets.marks import Face, Line, Page, Path, Text
from trackread.sheets.mouths import Sights
from trackread.sheets.paper import paper_for
from trackread.sheets.pdf import FONTS, width_of
from trackread.sheets.pictures import shape_of

FOLDER = FilePath(__file__).parents[2] / "trackread" / "fonts"


def pages_of(
    sheet: Sheet,
    paper: str = "A4",
    rows: int = 48,
    count: str = "none",
    sights: Mapping[str, Sights] | None = None,
) -> tuple[Page, ...]:
    """A sheet laid out."""
    counted, board = count_for(count, sheet.rate), board_of(sheet)
    shape = None if board is None else shape_of(board)
    form = paper_for(paper, rows)
    return lay_out(sheet, form, measure=width_of, count=counted, board_shape=shape, sights=sights or {})


@cache
def example(name: str) -> tuple[Page, ...]:
    """The pages of an example that have rows."""
    return tuple(page for page in pages_of(*EXAMPLES[name]) if has_rows(page))


@cache
def _font(face: Face) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(FOLDER / f"{FONTS[face]}.ttf", 1000)


@cache
def length_in_ems(text: str, face: Face) -> float:
    """How long a text is, by Pillow."""
    return _font(face).getlength(text) / 1000


def capital_height(face: Face) -> float:
    """The height of a capital H in ems, by Pillow."""
    _, top, _, bottom = _font(face).getbbox("H", anchor="ls")
    return (bottom - top) / 1000


@dataclass(frozen=True)
class Extent:
    """The part of the page that a text's letters take."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Extent") -> bool:
        """Whether the two overlap by more than a hair."""
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > 0.3 and min(self.bottom, other.bottom) - max(self.top, other.top) > 0.3


def extent(text: Text) -> Extent:
    """From the foot of a text's letters to the height of its capitals."""
    length = length_in_ems(text.text.strip(), text.face) * text.size * text.stretch
    if text.turned:
        return Extent(text.x, text.baseline, text.x + 0.73 * text.size, text.baseline + length)
    return Extent(text.x, text.baseline - 0.73 * text.size, text.x + length, text.baseline)


def texts(page: Page) -> list[Text]:
    """All texts of a page."""
    return [mark for mark in page.marks if isinstance(mark, Text)]


def whole_text(page: Page) -> str:
    """All that a page says."""
    return " ".join(text.text for text in texts(page))


def uprights(page: Page) -> list[Line]:
    """The rules between columns, from left to right."""
    rules = [mark for mark in page.marks if isinstance(mark, Line) and mark.x1 == mark.x2]
    left = min(rule.x1 for rule in rules)
    frame = next(rule for rule in rules if rule.x1 == left)
    return sorted((rule for rule in rules if (rule.y1, rule.y2) == (frame.y1, frame.y2)), key=lambda rule: rule.x1)


def levels(page: Page) -> list[Line]:
    """The rules across all columns, from the top down."""
    edges = uprights(page)
    across = (edges[0].x1, edges[-1].x1)
    rules = [mark for mark in page.marks if isinstance(mark, Line) and (mark.x1, mark.x2) == across]
    return sorted(rules, key=lambda rule: rule.y1)


def in_rows(page: Page) -> list[Text]:
    """The texts that stand in rows."""
    top, bottom = uprights(page)[0].y1, uprights(page)[0].y2
    return [text for text in texts(page) if top < text.baseline < bottom]


def above_rows(page: Page) -> list[Text]:
    """The texts of the head and the headings."""
    top = uprights(page)[0].y1
    return [text for text in texts(page) if text.baseline < top]


def below_rows(page: Page) -> list[Text]:
    """The texts of the foot."""
    bottom = uprights(page)[0].y2
    return [text for text in texts(page) if text.baseline > bottom]


def row_tops(page: Page) -> list[float]:
    """The upper edge of each row, and the lower edge of the last."""
    return sorted({rule.y1 for rule in levels(page)})


def lanes(page: Page, character: str) -> tuple[Lane, Lane, Lane]:
    """The stress, word and sound columns under a character's name, with or without where the voice comes from."""
    edges = sorted({rule.x1 for rule in uprights(page)})
    (name,) = (text for text in above_rows(page) if text.text.partition(" (")[0] == character)
    place = max(index for index, edge in enumerate(edges) if edge < name.x)
    return tuple(Lane(edges[at], edges[at + 1] - edges[at]) for at in range(place, place + 3))


def paths(page: Page, lane: Lane) -> list[Path]:
    """The paths that lie in a lane of the rows, from the top down."""
    top, bottom = uprights(page)[0].y1, uprights(page)[0].y2
    found = [
        mark
        for mark in page.marks
        if isinstance(mark, Path)
        and all(lane.left - 1 < x < lane.right + 1 and top - 6 < y < bottom + 6 for x, y in mark.points)
    ]
    return sorted(found, key=lambda path: min(y for _, y in path.points))


def in_column(page: Page, heading: str) -> list[Text]:
    """The texts in rows that stand in the columns with this heading."""
    edges = [rule.x1 for rule in uprights(page)]
    heads = [text for text in above_rows(page) if text.text == heading]
    found = []
    for head in heads:
        left = max(edge for edge in edges if edge <= head.x)
        right = min(edge for edge in edges if edge > head.x)
        found += [text for text in in_rows(page) if left <= text.x < right]
    return found


def has_rows(page: Page) -> bool:
    """Whether a page has rows, which all have but those with what had no room in its rows."""
    return any(text.text == "frame" for text in texts(page))


def numbers(page: Page) -> dict[str, float]:
    """The baseline of each frame number on the page, in the order drawn."""
    return {text.text: text.baseline for text in in_column(page, "frame")}
