"""Texts that are held over frames, from the rows of a sheet: where each begins, and how long it stands."""

from collections.abc import Iterable
from dataclasses import dataclass

from trackread.core.rows import Held
from trackread.core.timebase import Frame

# Set before what goes on: it began before the shot, or another stood in its place.
GOES_ON = "…"


@dataclass(frozen=True, slots=True)
class Run:
    """A text from frame `first` to `stop`, that `starts` there or goes on."""

    first: Frame
    stop: Frame
    text: str
    starts: bool

    @property
    def shown(self) -> str:
        return self.text if self.starts else GOES_ON + self.text


def runs_of(column: Iterable[Held | None]) -> tuple[Run, ...]:
    """The texts of a column that has a place for every frame from 0 on."""
    found: list[Run] = []
    last: Held | None = None
    for frame, here in enumerate(column):
        if here is not None:
            goes_on = last is not None and not here.starts and here.text == last.text
            begun = found.pop() if goes_on else Run(Frame(frame), Frame(frame), here.text, here.starts)
            found.append(Run(begun.first, Frame(frame + 1), begun.text, begun.starts))
        last = here
    return tuple(found)
