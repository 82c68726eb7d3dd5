"""Shots that a cut has parted though the picture runs on, made one again; and parts of a shot counted."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from trackread.core.cut import Handles, Shot
from trackread.core.timebase import Frame, FrameRate


def joined(shots: Sequence[Shot], rate: FrameRate) -> tuple[Shot, ...]:
    """The shots in their order, those that run on joined, and the parts of each code counted."""
    whole: list[Shot] = []
    for shot in shots:
        if whole and runs_on(whole[-1], shot, rate):
            whole[-1] = joined_pair(whole[-1], shot)
        else:
            whole.append(shot)
    counts: Counter[str] = Counter()
    for place, shot in enumerate(whole):
        counts[shot.code] += 1
        whole[place] = replace(shot, part=counts[shot.code])
    return tuple(whole)


def runs_on(former: Shot, shot: Shot, rate: FrameRate) -> bool:
    """Whether the second of two shots shows what the first would have shown had it not been cut."""
    if former.code != shot.code or former.stop != shot.first or former.speed != shot.speed:
        return False
    if former.source is None or shot.fade_in:
        return False
    on = former.source.start + former.speed * former.length / rate.per_second
    return shot.source == replace(former.source, start=on)


def joined_pair(former: Shot, shot: Shot) -> Shot:
    handles = None
    if former.handles and shot.handles:
        handles = Handles(former.handles.head, shot.handles.tail)
    return replace(
        former,
        length=Frame(former.length + shot.length),
        fade_out=shot.fade_out,
        handles=handles,
        notes=tuple(dict.fromkeys([*former.notes, *shot.notes])),
    )
