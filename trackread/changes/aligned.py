"""Two sheets of one shot laid beside each other by the shot's picture, whose head may have been trimmed in between."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from trackread.core.sheet import Cell, Sheet
from trackread.core.timebase import Frame


@dataclass(frozen=True, slots=True)
class Told:
    """A change in words, and the frames of the sheet after on which it is."""

    text: str
    frames: frozenset[int]


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
        start = max(0, self.lost)
        return range(start, max(start, min(self.before.length, self.was(self.after.length))))

    @property
    def kept_now(self) -> range:
        """The frames of the sheet after that were on the sheet before."""
        return range(self.now(self.kept.start), self.now(self.kept.stop))

    @property
    def tail(self) -> int:
        """How many frames the end has gained; below 0, lost."""
        return self.was(self.after.length) - self.before.length

    def number_before(self, frame: int) -> int:
        """What is printed beside a frame of the sheet before."""
        return self.before.first_number + frame

    def number_after(self, frame: int) -> int:
        """What is printed beside a frame of the sheet after."""
        return self.after.first_number + frame

    def seen_before(self, cell: Cell) -> Cell:
        """What of a text of the sheet before is on frames of both sheets, on the frames of the sheet after."""
        return seen(replace(cell, first=Frame(self.now(cell.first)), stop=Frame(self.now(cell.stop))), self.kept_now)

    def seen_after(self, cell: Cell) -> Cell:
        """What of a text of the sheet after is on frames of both sheets."""
        return seen(cell, self.kept_now)


def seen(cell: Cell, window: range) -> Cell:
    first, stop = max(cell.first, window.start), min(cell.stop, window.stop)
    return replace(cell, first=Frame(first), stop=Frame(stop), before=cell.before or first > cell.first)


def overlaps(cell: Cell, window: range) -> bool:
    return cell.first < window.stop and window.start < cell.stop


def runs_of(frames: Sequence[int]) -> Iterator[range]:
    """Frames in their order as runs without a gap."""
    for _, run in groupby(enumerate(frames), key=lambda pair: pair[1] - pair[0]):
        some = [frame for _, frame in run]
        yield range(some[0], some[-1] + 1)
