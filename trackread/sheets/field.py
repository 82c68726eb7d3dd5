"""The rows of one page: which frames they are and where on the page each lies.

Frames count from 0 and `stop` is not included; only `number_of` speaks the production's numbers.
"""

from dataclasses import dataclass

from trackread.core.timebase import FrameRate

# Half of what DejaVu's letters rise above the baseline, less half of what they hang below it, in ems:
# set so low, both stay inside the row.
BASELINE = 0.28


@dataclass(frozen=True, slots=True)
class Field:
    """The frames from `first` to `stop`, each a row `row_height` high from `top` on, in type of `em` points.

    A page that is full has `rows` of them.
    """

    first: int
    stop: int
    top: float
    row_height: float
    em: float
    first_number: int
    rows: int

    @property
    def bottom(self) -> float:
        return self.top_of(self.stop)

    def top_of(self, frame: int) -> float:
        """The upper edge of a frame's row, or the lower edge of the last row for `stop`."""
        return self.top + (frame - self.first) * self.row_height

    def baseline_of(self, frame: int) -> float:
        """The one baseline of everything that is written in a frame's row."""
        return self.top_of(frame) + self.row_height / 2 + BASELINE * self.em

    def number_of(self, frame: int) -> int:
        return self.first_number + frame


def begins_second(frame: int, rate: FrameRate) -> bool:
    """Whether a second of the rate's timecode base begins with the frame."""
    return frame % rate.base == 0


def begins_half_second(frame: int, rate: FrameRate) -> bool:
    """Whether a half second begins with the frame, or within the one before it where the base is odd."""
    return 2 * frame // rate.base != 2 * (frame - 1) // rate.base
