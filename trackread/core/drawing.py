"""A drawing of a few shapes in a unit square, x to the right and y down: what can be drawn on paper and on a screen.

`weight` is in the same unit; a tone runs from 0 (black) to 1 (white). Later shapes lie over earlier ones.
"""

from dataclasses import dataclass

Point = tuple[float, float]

LINE = 0.022


@dataclass(frozen=True, slots=True)
class Shape:
    """A stroke through points, closed and filled with a tone if it has a `fill`."""

    points: tuple[Point, ...]
    weight: float = LINE
    fill: float | None = None


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is drawn in the unit square."""

    shapes: tuple[Shape, ...]


# A mouth to look at: drawn, or a picture as PNG.
Look = Drawing | bytes
