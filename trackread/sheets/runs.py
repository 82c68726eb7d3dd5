"""Texts in order of frames, those that begin on one frame joined, each held until the next begins."""

from bisect import bisect_left, bisect_right
from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

from trackread.core.sheet import Beat, Cell

STRONG = 2


class Placed(Protocol):
    """Whatever starts on a frame."""

    @property
    def first(self) -> int: ...


Part = TypeVar("Part", bound=Placed)


@dataclass(frozen=True, slots=True)
class Run:
    """One text with the frames it holds, and `free`, the frame up to which no other text begins.

    One that is `unsaid` is no word.
    """

    first: int
    stop: int
    free: int
    text: str
    bold: bool = False
    unsaid: bool = False


def runs_of(cells: tuple[Cell, ...], joint: str, length: int) -> tuple[Run, ...]:
    """The runs of a column of a sheet `length` frames long, with `joint` between joined texts."""
    texts: dict[int, list[str]] = {}
    stops: dict[int, int] = {}
    for cell in sorted(cells, key=lambda cell: cell.first):
        texts.setdefault(cell.first, []).append(cell.text)
        stops[cell.first] = max(cell.stop, stops.get(cell.first, cell.stop))
    # No text at all has no next one either.
    nexts = (*list(texts)[1:], length)[: len(texts)]
    return tuple(
        Run(first, min(stops[first], free), free, joint.join(parts))
        for (first, parts), free in zip(texts.items(), nexts, strict=True)
    )


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
    strong = sorted(beat.first for beat in beats if beat.degree >= STRONG)
    said = {word.first for word in words}
    return tuple(
        Run(
            run.first,
            run.stop,
            run.free,
            run.text,
            bold=bisect_left(strong, run.first) < bisect_left(strong, run.stop),
            unsaid=run.first not in said,
        )
        for run in runs
    )
