"""A mouth drawn from what its face does: a few shapes that show an animator which one to take, on paper or on a screen.

A drawing fills a unit square, x to the right and y down, with one neutral style for every puppet; `weight` is in the
same unit. A tone runs from 0 (black) to 1 (white). Later shapes lie over earlier ones. It is seen from the front, and
is made to be told apart in grey at 12 mm: the inside is dark, teeth are white with gaps, a tongue has a furrow.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import sqrt

from trackread.core.drawing import LINE, Drawing, Shape
from trackread.core.mouth import Face

Curve = Callable[[float], float]

BLACK, INSIDE, TONGUE, LIP, WHITE = 0.0, 0.12, 0.55, 0.78, 1.0
THIN = 0.012
MIDDLE = 0.5  # of the square
SEAM = 0.47  # how low closed lips meet
STEPS = 24  # a curve is this many straight pieces
SMILE = 0.16  # how far the corners go up when the lips are spread as wide as they go
UPPER_SHARE = 0.35  # the jaw does most of the opening
FURTHEST = 0.54  # between the lips when they are as far apart as they go
OUTSIDE = 0.5  # with the mouth open less than this, a tongue comes out of it
TEETH = 0.11  # how far upper teeth come down
GAPS = (-0.5, -0.17, 0.17, 0.5)  # between teeth, in halves of the mouth's width


@dataclass(frozen=True, slots=True)
class Lips:
    """Where the lips are: `half` the width between the corners, and how far each edge is from the seam in the middle.

    `lift` is how far the upper lip is drawn off teeth that lie on the lower one, `smile` how far the corners go up.
    """

    half: float
    up: float
    down: float
    thick: float
    rounding: float
    lift: float
    smile: float

    def outwards(self, x: float) -> float:
        """How far `x` is from the middle: 0 there and 1 at the corners."""
        return min(1.0, abs(x - MIDDLE) / self.half)

    def seam(self, x: float) -> float:
        """Where the lips meet when they are closed."""
        return SEAM - self.smile * self.outwards(x) ** 2

    def bulge(self, x: float) -> float:
        """How much of its height an edge has at `x`: 1 in the middle and 0 at the corners.

        Rounded lips run as an ellipse does; others come to a point at the corners.
        """
        t = self.outwards(x)
        return (1 - self.rounding) * (1 - t * t) + self.rounding * sqrt(1 - t * t)

    def upper(self, x: float) -> float:
        """The lower edge of the upper lip."""
        return self.seam(x) - (self.up + self.lift) * self.bulge(x)

    def lower(self, x: float) -> float:
        """The upper edge of the lower lip."""
        return self.seam(x) + self.down * self.bulge(x)


def lips_of(face: Face) -> Lips:
    """The lips of a face: spread ones are thin, rounded ones thick and close together at the corners."""
    apart = FURTHEST * face.opening
    return Lips(
        half=(0.16 + 0.29 * face.width) * (1 - 0.45 * face.rounding),
        up=apart * UPPER_SHARE,
        down=apart * (1 - UPPER_SHARE),
        thick=0.085 - 0.03 * face.width + 0.045 * face.rounding,
        rounding=face.rounding,
        lift=0.07 * face.bite,
        smile=SMILE * max(0.0, face.width - 0.5) * (1 - face.rounding),
    )


def drawing_of(face: Face) -> Drawing:
    """The drawing of a face."""
    lips = lips_of(face)
    inside = between(lips, lips.upper, lips.lower, fill=INSIDE)
    return Drawing((*lip_shapes(lips), inside, *tongue_shapes(lips, face), *teeth_shapes(lips, face), seam(lips)))


def lip_shapes(lips: Lips) -> tuple[Shape, ...]:
    """Both lips as one shape, which what is inside will lie on; they go on a little beyond the corners."""
    beyond = replace(lips, half=lips.half + 0.035)
    power = 0.5 + 0.5 * lips.rounding  # so that both edges of a round mouth are round
    outer = between(
        beyond,
        lambda x: beyond.upper(x) - lips.thick * beyond.bulge(x) ** power,
        lambda x: beyond.lower(x) + 1.2 * lips.thick * beyond.bulge(x) ** power,
        fill=LIP,
    )
    return (outer,)


def tongue_shapes(lips: Lips, face: Face) -> tuple[Shape, ...]:
    """A tongue that rises from the floor of the mouth, and comes over the lower lip if the mouth is nearly closed."""
    if face.tongue < 0.05:
        return ()
    out = 1.3 * max(0.0, 1 - face.opening / OUTSIDE) * face.tongue * lips.thick
    narrow = replace(lips, half=0.62 * lips.half, rounding=1.0)
    gap = lips.lower(MIDDLE) - lips.upper(MIDDLE)
    top = lips.lower(MIDDLE) - 0.85 * face.tongue * gap

    def floor(x: float) -> float:
        return lips.lower(x) + out * narrow.bulge(x)

    tongue = between(narrow, lambda x: floor(x) - (floor(MIDDLE) - top) * narrow.bulge(x), floor, fill=TONGUE)
    furrow = Shape(((MIDDLE, top + 0.35 * (floor(MIDDLE) - top)), (MIDDLE, floor(MIDDLE))), LINE)
    return tongue, furrow


def teeth_shapes(lips: Lips, face: Face) -> tuple[Shape, ...]:
    """The upper teeth: as low as they come or lips and tongue let them, with gaps; on the lower lip if they bite."""
    edge = lips.upper(MIDDLE) + TEETH * (1 - 0.8 * face.rounding) * (1 - 0.6 * face.tongue) * (1 + 0.5 * face.bite)
    on_lip = 0.9 * face.bite * lips.thick
    row = replace(lips, half=(1 - 0.45 * face.bite) * lips.half)

    def foot(x: float) -> float:
        return max(lips.upper(x), min(edge, lips.lower(x) + on_lip))

    if foot(MIDDLE) - lips.upper(MIDDLE) < 1.7 * LINE:  # less is covered by the strokes around it
        return ()
    gaps = (MIDDLE + part * row.half for part in GAPS)
    teeth = between(row, lips.upper, foot, fill=WHITE)
    return teeth, *(Shape(((x, lips.upper(x)), (x, foot(x))), THIN) for x in gaps if foot(x) - lips.upper(x) > LINE)


def seam(lips: Lips) -> Shape:
    """The edge of the upper lip, from corner to corner: where lips that are closed meet."""
    return Shape(tuple((x, lips.upper(x)) for x in across(lips)), 1.5 * LINE)


def between(lips: Lips, top: Curve, bottom: Curve, *, fill: float) -> Shape:
    """What lies between two curves, from corner to corner."""
    xs = across(lips)
    upper, lower = [(x, top(x)) for x in xs], [(x, bottom(x)) for x in reversed(xs)]
    return Shape((*upper, *lower), LINE, fill)


def across(lips: Lips) -> list[float]:
    """Places from corner to corner."""
    return [MIDDLE + lips.half * (2 * k / STEPS - 1) for k in range(STEPS + 1)]


def svg_of(drawing: Drawing) -> str:
    """The drawing as an SVG 1.1 picture of one unit, which fills whatever box it is put in."""
    shapes = "".join(map(svg_shape, drawing.shapes))
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1">{shapes}</svg>'


def svg_shape(shape: Shape) -> str:
    name, fill = ("polyline", "none") if shape.fill is None else ("polygon", grey(shape.fill))
    points = " ".join(f"{x:.4f},{y:.4f}" for x, y in shape.points)
    return (
        f'<{name} points="{points}" fill="{fill}" stroke="{grey(BLACK)}" stroke-width="{shape.weight}" '
        'stroke-linejoin="round" stroke-linecap="round"/>'
    )


def grey(tone: float) -> str:
    """A tone as SVG has it."""
    return f"#{f'{min(255, int(256 * tone)):02x}' * 3}"
