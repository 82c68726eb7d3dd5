"""How loud and how high the voices are, drawn down the page beside the rows.

One level for the sound as a whole, and one line of pitch for each voice, low on the left.
"""

from collections.abc import Iterator

from trackread.core.sheet import POINTS, Voice
from trackread.sheets.columns import Lane
from trackread.sheets.field import Field
from trackread.sheets.marks import Mark, Path

FILL = 0.62
# Weight, and lengths of stroke and gap: voices that overlap stay apart without colour.
STROKES: tuple[tuple[float, tuple[float, ...]], ...] = (
    (2.2, ()),
    (2.2, (5.5, 2.2)),
    (2.4, (1.8, 1.8)),
    (2.2, (8.0, 1.8, 1.8, 1.8)),
    (0.9, ()),
    (0.9, (4.0, 1.5)),
)


def stroke_of(number: int) -> tuple[float, tuple[float, ...]]:
    """The stroke of the voice with this number."""
    return STROKES[number % len(STROKES)]


def level(field: Field, lane: Lane, voices: tuple[Voice, ...]) -> Iterator[Mark]:
    """The loudest voice's level, as a shape that is wide where the sound is loud."""
    start, stop = field.first * POINTS, field.stop * POINTS
    levels = [max(values) for values in zip(*(voice.level[start:stop] for voice in voices if voice.level), strict=True)]
    middle, half = lane.left + lane.width / 2, lane.width / 2 - 1.5
    widths = [(_y(field, start + index), 0.25 + half * min(value, 1.0)) for index, value in enumerate(levels)]
    right = [(middle + width, y) for y, width in widths]
    left = [(middle - width, y) for y, width in reversed(widths)]
    if widths:
        # The outline keeps the shape when a copier drops the grey.
        yield Path((*right, *left, right[0]), 0.5, fill=FILL)


def pitch(field: Field, lane: Lane, voice: Voice, number: int) -> Iterator[Mark]:
    """A voice's pitch, a line for each stretch that is voiced."""
    left, width = lane.left + 2.5, lane.width - 5
    weight, dash = stroke_of(number)
    start, stop = field.first * POINTS, field.stop * POINTS
    stretch: list[tuple[float, float]] = []
    for index, value in enumerate((*voice.pitch[start:stop], None), start):
        if value is not None:
            stretch.append((left + width * min(max(value, 0.0), 1.0), _y(field, index)))
            continue
        if len(stretch) > 1:
            yield Path(_smooth(stretch), weight, dash=dash)
        stretch = []


def _smooth(points: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """The points of a stretch, each brought to the mean of the half frame around it; its ends stand for more."""
    xs = [x for x, _ in points]
    padded = [xs[0], xs[0], *xs, xs[-1], xs[-1]]
    around = zip(*(padded[shift:] for shift in range(5)), strict=False)
    return tuple(((a + b + c + d + e) / 5, y) for (a, b, c, d, e), (_, y) in zip(around, points, strict=True))


def _y(field: Field, point: int) -> float:
    return field.top + (point / POINTS + 0.5 / POINTS - field.first) * field.row_height
