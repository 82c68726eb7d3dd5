"""The column beside the frame number: footage or timecode, as a production counts.

Only some rows carry a label, since the number on every row already says which frame it is.
"""

from collections.abc import Callable
from dataclasses import dataclass

from trackread.core.footage import Gauge, footage_of
from trackread.core.timebase import FrameRate
from trackread.core.timecode import label_of
from trackread.errors import SheetError
from trackread.sheets.field import begins_half_second

# Labels in a foot of film: every 8 frames of 35 mm, every 10 of 16 mm.
LABELS_IN_FOOT = {Gauge.FOUR_PERFORATION_35: 2, Gauge.SINGLE_PERFORATION_16: 4}


@dataclass(frozen=True, slots=True)
class Count:
    """A column headed `heading` that says `label` of a frame on each row where `shows` is true."""

    heading: str
    label: Callable[[int], str]
    shows: Callable[[int], bool]


def count_for(kind: str, rate: FrameRate) -> Count | None:
    """The column of a kind: `footage35`, `footage16`, `timecode`, or `none` for no such column.

    Raises SheetError for another kind.
    """
    match kind:
        case "footage35":
            return _footage(Gauge.FOUR_PERFORATION_35)
        case "footage16":
            return _footage(Gauge.SINGLE_PERFORATION_16)
        case "timecode":
            return Count("time", lambda frame: _short_label(frame, rate), lambda frame: begins_half_second(frame, rate))
        case "none":
            return None
        case _:
            raise SheetError(f"{kind!r} is not a count for sheets: use footage35, footage16, timecode or none")


def _footage(gauge: Gauge) -> Count:
    step = gauge.frames_in_foot // LABELS_IN_FOOT[gauge]
    return Count("foot", lambda frame: footage_of(frame, gauge), lambda frame: frame % step == 0)


def _short_label(frame: int, rate: FrameRate) -> str:
    """The label without hours and minutes while they are nothing: a shot begins at zero and is soon over."""
    return label_of(frame, rate).removeprefix("00:").removeprefix("00:")
