"""What a page is drawn with: a handful of marks that paper and screen draw alike.

Points of 1/72 inch, origin at the top left, y growing down. A tone runs from 0 (black) to 1 (white).
Texts lie above all other marks; among these, later ones lie above earlier ones.
"""

from dataclasses import dataclass
from enum import Enum

from trackread.core.drawing import Drawing

BLACK = 0.0
WHITE = 1.0


class Face(Enum):
    """The four cuts of the one typeface."""

    REGULAR = "regular"
    BOLD = "bold"
    CONDENSED = "condensed"
    CONDENSED_BOLD = "condensed bold"


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text that starts at `x` on its `baseline`.

    `stretch` is the width given to letters, 1 being the face's own. A `turned` text runs down the page from
    `baseline`, its feet on the left, at `x`. Where the text had to be cut, `whole` has all of it, with its place.
    """

    x: float
    baseline: float
    text: str
    face: Face
    size: float
    stretch: float = 1.0
    tone: float = BLACK
    turned: bool = False
    whole: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stroke; `dash` gives the lengths of stroke and gap in turn, empty for unbroken."""

    x1: float
    y1: float
    x2: float
    y2: float
    weight: float
    tone: float = BLACK
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """A filled rectangle."""

    x: float
    y: float
    width: float
    height: float
    tone: float = BLACK


@dataclass(frozen=True, slots=True)
class Hatch:
    """A rectangle in outline, filled with slanting strokes `spacing` apart down its side."""

    x: float
    y: float
    width: float
    height: float
    spacing: float
    weight: float


@dataclass(frozen=True, slots=True)
class Path:
    """A stroke through points, and with a `fill` the closed shape of that tone which it runs round."""

    points: tuple[tuple[float, float], ...]
    weight: float
    fill: float | None = None
    dash: tuple[float, ...] = ()
    tone: float = BLACK


@dataclass(frozen=True, slots=True)
class SquareCode:
    """A square code (ISO/IEC 18004) of `text`, `size` wide with the quiet zone around it."""

    x: float
    y: float
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """The picture whose bytes have this SHA-256, upright, filling the rectangle."""

    x: float
    y: float
    width: float
    height: float
    digest: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing whose unit square is `side` wide and high."""

    x: float
    y: float
    side: float
    drawing: Drawing


Mark = Text | Line | Box | Hatch | Path | SquareCode | Picture | Drawn


@dataclass(frozen=True, slots=True)
class Page:
    """One side of paper."""

    width: float
    height: float
    marks: tuple[Mark, ...]
