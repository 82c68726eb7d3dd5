"""Texts in order of frames, those that begin on one frame joined, each held until the next begins.

Marks of what goes on say that a text began before the sheet or ends after it.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

from trackread.core.sheet import Beat, Cell

STRONG = 2
# Before what began earlier than it is seen, and behind what ends later.
GOES_ON = "…"
SOUND_GOES_ON = "-"


class Placed(Protocol):
    """Whatever starts on a frame."""

    @property
    def first(self) -> int: ...


Part = TypeVar("Part", bound=Placed)


@dataclass(frozen=True, slots=True)
class Run:
    """One text with the frames it holds, and `free`, the frame up to which no other text begins.

    One that is `unsaid` is no word. One that began `before` the sheet, or goes on `beyond` it, does not begin or end
    there.
    """

    first: int
    stop: int
    free: int
    text: str
    bold: bool = False
    unsaid: bool = False
    before: bool = False
    beyond: bool = False


def runs_of(cells: tuple[Cell, ...], joint: str, length: int, *, goes_on: str = GOES_ON) -> tuple[Run, ...]:
    """The runs of a column of a sheet `length` frames long, with `joint` between joined texts."""
    starting: dict[int, list[Cell]] = {}
    for cell in sorted(cells, key=lambda cell: cell.first):
        starting.setdefault(cell.first, []).append(cell)
    # No text at all has no next one either.
    nexts = (*list(starting)[1:], length)[: len(starting)]
    return tuple(
        _run(together, joint.join(_seen(cell, goes_on) for cell in together), free)
        for together, free in zip(starting.values(), nexts, strict=True)
    )


def _run(together: list[Cell], text: str, free: int) -> Run:
    """What starts on one frame."""
    stop = max(cell.stop for cell in together)
    return Run(
        together[0].first,
        min(stop, free),
        free,
        text,
        before=all(cell.before for cell in together),
        beyond=stop <= free and any(cell.beyond for cell in together),
    )


def _seen(cell: Cell, goes_on: str) -> str:
    return f"{goes_on if cell.before else ''}{cell.text}{goes_on if cell.beyond else ''}"


def touching(parts: tuple[Part, ...], first: int, stop: int) -> tuple[Part, ...]:
    """Those of a column's parts that may hold into the frames from `first` to `stop`, by bisection.

    They are in order of frames and none holds longer than the next begins.
    """
    start = max(bisect_right(parts, first, key=_first_of) - 1, 0)
    return parts[start : bisect_left(parts, stop, key=_first_of)]


def _first_of(part: Placed) -> int:
    return part.first


def weighty(runs: tuple[Run, ...], firsts: Collection[int]) -> tuple[Run, ...]:
    """The runs with those in bold that start on one of the frames."""
    return tuple(replace(run, bold=run.first in firsts) for run in runs)


def spoken(runs: tuple[Run, ...], words: tuple[Cell, ...], beats: tuple[Beat, ...]) -> tuple[Run, ...]:
    """The runs of words and events: those in bold in which a strong syllable begins, those unsaid without a word."""
    strong = sorted(beat.first for beat in beats if beat.degree >= STRONG and not beat.before)
    said = {word.first for word in words}
    return tuple(
        replace(
            run,
            bold=bisect_left(strong, run.first) < bisect_left(strong, run.stop),
            unsaid=run.first not in said,
        )
        for run in runs
    )
