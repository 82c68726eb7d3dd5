"""What is placed by hand, kept within its shot: it plays in the shot of its first frame and never beyond it."""

from collections.abc import Iterable
from dataclasses import replace

from trackread.core.cut import Placement, Remark, Shot, position_at, source_at
from trackread.core.timebase import Frame, FrameRate
from trackread.cutting.spelling import counted
from trackread.cutting.words import sound_name


def is_placed_in(placement: Placement, shot: Shot) -> bool:
    """Whether a person placed it in a shot."""
    return placement.place.by_hand and shot.first <= placement.at < shot.stop


def fitted(placement: Placement, shot: Shot, rate: FrameRate, remarks: list[Remark]) -> Placement | None:
    """What plays of a placement on the frames of a shot, None if nothing does; a remark tells what is cut off."""
    name = f"{sound_name(placement)}, placed by hand in {shot.name},"
    start, stop = max(placement.at, shot.first), min(placement.stop, shot.stop)
    if stop <= start:
        remarks.append(Remark(placement.place, f"{name} would play on none of its frames: left out"))
        return None
    one = part_of(placement, start, stop, rate)
    one = replace(one, fade_out=Frame(min(one.fade_out, shot.stop - stop)))
    for end, frames in {"beginning": start - placement.at, "end": placement.heard_stop - one.heard_stop}.items():
        if frames:
            remarks.append(Remark(placement.place, f"{name} has {counted(frames)} fewer at its {end}, as the shot has"))
    return one


def part_of(placement: Placement, start: int, stop: int, rate: FrameRate) -> Placement:
    """What plays of a placement from one frame of the cut to another; it fades only at an end that it keeps."""
    return replace(
        placement,
        at=Frame(start),
        length=Frame(stop - start),
        source=replace(placement.source, start=source_at(placement, start, rate)),
        start=position_at(placement, start, rate) if placement.sound else None,
        fade_in=Frame(min(placement.fade_in, stop - start) if start == placement.at else 0),
        fade_out=Frame(placement.fade_out if stop == placement.stop else 0),
    )


def in_order(placements: Iterable[Placement]) -> tuple[Placement, ...]:
    """Placements in the order of their first frames."""
    return tuple(sorted(placements, key=lambda one: one.at))
