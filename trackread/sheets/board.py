"""The board of a shot on its pages: small in every head, and once more as large as the last page has room for.

Of the picture only its shape is known here, its width as a multiple of its height.
"""

from collections.abc import Iterator

from trackread.sheets.marks import Mark, Path, Picture
from trackread.sheets.paper import MILLIMETRE, Frame

# Less than this below the last row would show no more than the head does.
LEAST_HEIGHT = 45 * MILLIMETRE
# Dark boards end in a line, and pale ones too.
EDGE_WEIGHT = 0.6


def large(frame: Frame, shape: float, digest: str) -> Iterator[Mark]:
    """The picture in the upper left of a frame, if that is high enough for it to be worth its place."""
    if frame.bottom - frame.top >= LEAST_HEIGHT:
        yield from framed(frame, shape, digest)


def framed(frame: Frame, shape: float, digest: str) -> Iterator[Mark]:
    """The picture with a line round it, as large as fits."""
    height = min(frame.bottom - frame.top, (frame.right - frame.left) / shape)
    x, y, width = frame.left, frame.top, height * shape
    yield Picture(x, y, width, height, digest)
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y))
    yield Path(corners, EDGE_WEIGHT)
