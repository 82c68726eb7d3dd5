"""Where things stand in a frame of the check movie, in pixels from its upper left corner.

The foot has the frame's number; above it each voice has a panel, all of one size.
"""

from dataclasses import dataclass
from typing import NamedTuple

from trackread.film.film import MOST_VOICES

WIDTH, HEIGHT = 1280, 720
FOOT = 128
GAP = 8
PAD = 12  # between what stands in the foot
NUMBER_SIZE = 118  # of the digits' typeface
NUMBER_WIDTH = 510  # six digits
COUNT_WIDTH = 300
LENGTH = 46  # of the foot, below the count


class Place(NamedTuple):
    """A rectangle, as Pillow has its boxes: `right` and `bottom` are not included."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def width(self) -> int:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> int:
        """From top to bottom."""
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """The middle of both."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


@dataclass(frozen=True, slots=True)
class Letters:
    """How large the texts of a panel are."""

    name: int
    mouth: int
    word: int


# Of one row of panels, and of two.
TALL, LOW = Letters(30, 24, 60), Letters(20, 18, 36)


@dataclass(frozen=True, slots=True)
class Panel:
    """The places of one voice: `mouth` is a square, what is said stands below it and has its `beat` for a foot."""

    whole: Place
    name: Place
    mouth: Place
    mouth_name: Place
    word: Place
    beat: Place
    letters: Letters


def panels(count: int) -> tuple[Panel, ...]:
    """The panels of `count` voices, row after row from the left. Raises ValueError unless there are 1 to 8."""
    if not 1 <= count <= MOST_VOICES:
        raise ValueError(f"a frame has 1 to {MOST_VOICES} panels, not {count}")
    rows = 1 if count <= 4 else 2
    columns = -(-count // rows)
    width, height = (WIDTH - GAP) // columns, (HEIGHT - FOOT - GAP) // rows
    corners = ((GAP + width * (k % columns), GAP + height * (k // columns)) for k in range(count))
    letters = TALL if rows == 1 else LOW
    return tuple(_panel(Place(x, y, x + width - GAP, y + height - GAP), letters) for x, y in corners)


def mouth_place(count: int, index: int) -> Place:
    """The square in which the mouth of voice `index` of `count` is seen."""
    return panels(count)[index].mouth


def number_place() -> Place:
    """Where the number of the frame is seen, from its left edge, in the middle of its height."""
    return Place(PAD, HEIGHT - FOOT, PAD + NUMBER_WIDTH, HEIGHT)


def count_place() -> Place:
    """Where seconds and frames are seen."""
    left = number_place().right + PAD
    return Place(left, HEIGHT - FOOT, left + COUNT_WIDTH, HEIGHT - LENGTH)


def length_place() -> Place:
    """Where the length of the film is seen."""
    count = count_place()
    return Place(count.left, count.bottom, count.right, HEIGHT - PAD)


def titles_place() -> Place:
    """Where the film says what it is."""
    return Place(count_place().right + PAD, HEIGHT - FOOT, WIDTH - PAD, HEIGHT)


def _panel(whole: Place, letters: Letters) -> Panel:
    left, right = whole.left + GAP, whole.right - GAP
    name = Place(left, whole.top + GAP // 2, right, whole.top + GAP // 2 + 4 * letters.name // 3)
    bar = whole.bottom - GAP - letters.word // 2
    foot = bar - 6 * letters.word // 5
    below = foot - 4 * letters.mouth // 3
    side = min(below - name.bottom, right - left)
    middle, top = (left + right - side) // 2, name.bottom + (below - name.bottom - side) // 2
    return Panel(
        whole=whole,
        name=name,
        mouth=Place(middle, top, middle + side, top + side),
        mouth_name=Place(left, below, right, foot),
        word=Place(left, foot, right, bar),
        beat=Place(left, bar, right, whole.bottom - GAP),
        letters=letters,
    )
