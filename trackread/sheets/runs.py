"""Texts in order of frames, those that begin on one frame joined, each held until the next begins."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass

from trackread.core.sheet import Beat, Cell

STRONG = 2


@dataclass(frozen=True, slots=True)
class Run:
    """One text with the frames it holds, and `free`, the frame up to which no other text begins."""

    first: int
    stop: int
    free: int
    text: str
    bold: bool = False


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


def touching(runs: tuple[Run, ...], first: int, stop: int) -> tuple[Run, ...]:
    """Those of a column's runs that may hold into the frames from `first` to `stop`, by bisection."""
    start = max(bisect_right(runs, first, key=_first_of) - 1, 0)
    return runs[start : bisect_left(runs, stop, key=_first_of)]


def _first_of(run: Run) -> int:
    return run.first


def spoken(words: tuple[Run, ...], beats: tuple[Beat, ...]) -> tuple[Run, ...]:
    """The words with those in bold in which a strong syllable begins."""
    strong = [beat.first for beat in beats if beat.degree >= STRONG]
    return tuple(
        Run(run.first, run.stop, run.free, run.text, any(run.first <= first < run.stop for first in strong))
        for run in words
    )
