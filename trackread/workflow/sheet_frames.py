"""Spans of a recording on the frames of its sheet, no two of which share a frame.

A span starts on the frame in which it is first heard and holds to the frame of its last sample, but gives
way where the next one starts. Those that start on one frame share it.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import TypeVar

from trackread.core.clock import Clock
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame, Sample

Part = TypeVar("Part")
Span = tuple[Sample, Sample, Part]


def cells(spans: Iterable[Span[str]], clock: Clock, *, joint: str) -> tuple[Cell, ...]:
    """Texts on their frames, with `joint` between those that share one."""
    return tuple(Cell(first, stop, joint.join(texts)) for first, stop, texts in on_frames(spans, clock))


def on_frames(spans: Iterable[Span[Part]], clock: Clock) -> list[tuple[Frame, Frame, list[Part]]]:
    """Spans in the order of the recording to frames: first, stop, and the parts that share them."""
    found: list[tuple[Frame, Frame, list[Part]]] = []
    for start, stop, part in spans if clock.forwards else reversed(list(spans)):
        first, after = clock.frames(start, stop)
        if found and found[-1][0] == first:
            found[-1] = (first, max(found[-1][1], after), [*found[-1][2], part])
            continue
        if found:
            found[-1] = (found[-1][0], min(found[-1][1], first), found[-1][2])
        found.append((first, after, [part]))
    return found


def longest_free(first: int, stop: int, taken: set[int]) -> tuple[Frame, Frame] | None:
    """The longest row of frames from `first` to `stop` of which none is taken, the earliest of several."""
    return max(free(first, stop, taken), key=lambda span: span[1] - span[0], default=None)


def free(first: int, stop: int, taken: set[int]) -> Iterator[tuple[Frame, Frame]]:
    """Every row of frames from `first` to `stop` of which none is taken."""
    for is_taken, group in groupby(range(first, stop), key=taken.__contains__):
        if not is_taken:
            frames = list(group)
            yield Frame(frames[0]), Frame(frames[-1] + 1)


def frames_of(parts: Iterable[Cell]) -> set[int]:
    """All frames that the cells hold."""
    return {frame for part in parts for frame in range(part.first, part.stop)}
