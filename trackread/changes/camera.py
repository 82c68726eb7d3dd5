"""Where the camera is said to be on each frame: what was said last of an axis holds until more is said of it.

So a shot whose head is trimmed, and whose first row repeats where the camera stands, is the same on every row. Its
positions count only where both sheets have them: whether they are wanted is told for the whole shot.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from trackread.changes.aligned import Aligned, Told
from trackread.changes.columns import Column
from trackread.changes.words import changed_on, changes_in
from trackread.core.rows import JOINT, Held
from trackread.core.sheet import Cell

# As trackread/notes/camera.py says where an axis is: `pan at 3`, `pan 0 to 12.5`, and of every frame `pan 3, tilt -1`.
SAID = re.compile(r"(?P<axis>.+?) (at )?-?[0-9.]+( to -?[0-9.]+)?")
BETWEEN = re.compile(f"(?<=[0-9])(?:{JOINT}|, )")

Axes = dict[str, list[str]]


def camera_sentences(both: Aligned) -> Iterator[str]:
    """What has changed in what the camera does, axis by axis, and in its positions where that does not tell it."""
    before, after = axes_of(both.before.camera, both.before.length), axes_of(both.after.camera, both.after.length)
    told: list[Told] = []
    for axis in dict.fromkeys([*before, *after]):
        ours = column_of(axis, before, both.before.length, both.kept.start)
        theirs = column_of(axis, after, both.after.length, both.kept_now.start)
        told += changes_in(both, "camera", ours, theirs)[1]
    yield from (one.text for one in told)
    explained = frozenset[int]().union(*(one.frames for one in told))
    frames = [both.now(frame) for frame in positions_differing(both)]
    yield from (one.text for one in changed_on(both, "camera: positions", frames, explained))


def camera_differing(both: Aligned) -> set[int]:
    """The frames of the sheet before, still on the sheet after, on which the camera does something else or stands
    elsewhere now.
    """
    return {*frames_differing(both, both.before.camera, both.after.camera), *positions_differing(both)}


def positions_differing(both: Aligned) -> list[int]:
    """The frames on which both sheets have positions, and others."""
    before, after = both.before.positions, both.after.positions
    return frames_differing(both, before, after) if before and after else []


def frames_differing(both: Aligned, before: Sequence[Cell], after: Sequence[Cell]) -> list[int]:
    """The frames of the sheet before, still on the sheet after, on which an axis has something else said of it."""
    ours, theirs = axes_of(before, both.before.length), axes_of(after, both.after.length)
    return [frame for frame in both.kept if state_on(ours, frame) != state_on(theirs, both.now(frame))]


def axes_of(cells: Sequence[Cell], length: int) -> Axes:
    """What is said of each axis, frame by frame, "" where nothing has been said yet."""
    found: Axes = {}
    for cell in sorted(cells, key=lambda cell: cell.first):
        for text in BETWEEN.split(cell.text):
            said = SAID.fullmatch(text)
            track = found.setdefault(said["axis"] if said else "", [""] * length)
            track[cell.first :] = [text] * (length - cell.first)
    return found


def column_of(axis: str, axes: Axes, length: int, start: int) -> Column:
    """A column of what is said of an axis; on frame `start`, with which both sheets begin, nothing starts."""
    track = axes.get(axis, [""] * length)
    changed = [True, *(was != now for was, now in pairwise(track))]
    return [Held(text, starts=changed[frame] and frame != start) if text else None for frame, text in enumerate(track)]


def state_on(axes: Axes, frame: int) -> dict[str, str]:
    """What holds for every axis on a frame."""
    return {axis: track[frame] for axis, track in axes.items() if track[frame]}
