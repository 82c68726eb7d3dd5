"""Two sheets of one shot laid beside each other by the shot's picture, whose head may have been trimmed in between."""

from dataclasses import dataclass

from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame


@dataclass(frozen=True, slots=True)
class Aligned:
    """A sheet before and after; frame f after shows what frame f + `lost` showed before."""

    before: Sheet
    after: Sheet
    lost: int

    def now(self, frame: int) -> int:
        """Where a frame of the sheet before is now, on the sheet or outside of it."""
        return frame - self.lost

    def was(self, frame: int) -> int:
        """Where a frame of the sheet after was."""
        return frame + self.lost

    @property
    def kept(self) -> range:
        """The frames of the sheet before that are still on the sheet."""
        return range(max(0, self.lost), max(0, self.lost, min(self.before.length, self.was(self.after.length))))

    def number_before(self, frame: int) -> int:
        """What is printed beside a frame of the sheet before."""
        return self.before.first_number + frame

    def number_after(self, frame: int) -> int:
        """What is printed beside a frame of the sheet after."""
        return self.after.first_number + frame

    def expected(self, first: int, stop: int) -> tuple[Frame, Frame]:
        """Where a span of the sheet before would be after if nothing but the ends of the shot had changed."""
        return Frame(max(0, self.now(first))), Frame(min(self.after.length, self.now(stop)))
