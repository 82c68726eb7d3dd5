"""Where the camera is said to be on each frame: what was said last of an axis holds until more is said of it.

So a shot whose head is trimmed, and whose first row repeats where the camera stands, is the same on every row.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from trackread.changes.aligned import Aligned
from trackread.changes.columns import Column
from trackread.changes.words import column_sentences
from trackread.core.rows import JOINT, Held
from trackread.core.sheet import Cell

# As trackread/notes/camera.py says where an axis is: `pan at 3`, `pan 0 to 12.5`, and of every frame `pan 3, tilt -1`.
SAID = re.compile(r"(?P<axis>.+?) (at )?-?[0-9.]+( to -?[0-9.]+)?")
BETWEEN = re.compile(f"(?<=[0-9])(?:{JOINT}|, )")

Axes = dict[str, list[str]]


def camera_sentences(both: Aligned) -> Iterator[str]:
    """What has changed in where the camera is, axis by axis."""
    lengths = both.before.length, both.after.length
    before, after = axes_of(both.before.camera, lengths[0]), axes_of(both.after.camera, lengths[1])
    for axis in dict.fromkeys([*before, *after]):
        ours = column_of(axis, before, lengths[0], both.kept.start)
        yield from column_sentences(both, "camera", ours, column_of(axis, after, lengths[1], both.kept_now.start))


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
