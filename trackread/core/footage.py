"""Footage: frames counted as feet of film and frames over, `2+07` being two feet and seven frames.

Frames count from 0 at `0+00`, and the frames over have two digits. A foot is a count of frames and
not a length: film of real pitch has 16.04 frames of 35 mm in twelve inches, and no one counts those.
"""

import re
from enum import StrEnum

from trackread.core.timebase import Frame
from trackread.errors import FootageError


class Gauge(StrEnum):
    """A width of film, with the frames that pass in a foot of it."""

    FOUR_PERFORATION_35 = "35 mm"
    SINGLE_PERFORATION_16 = "16 mm"

    @property
    def frames_in_foot(self) -> int:
        """16 or 40: a foot of 35 mm film has 64 perforations, four to a frame; one of 16 mm has 40, one to a frame."""
        return FRAMES_IN_FOOT[self]


FRAMES_IN_FOOT = {Gauge.FOUR_PERFORATION_35: 16, Gauge.SINGLE_PERFORATION_16: 40}

# Six digits of feet are more than a day at any rate.
FOOTAGE = re.compile("([0-9]{1,6})[+]([0-9]{2})")


def footage_of(frame: int, gauge: Gauge) -> str:
    """The footage of a frame.

    Raises ValueError below frame 0, which no counter shows.

    >>> footage_of(39, Gauge.FOUR_PERFORATION_35)
    '2+07'
    """
    if frame < 0:
        raise ValueError(f"footage counts from frame 0, not {frame}")
    feet, over = divmod(frame, gauge.frames_in_foot)
    return f"{feet}+{over:02}"


def frame_of_footage(text: str, gauge: Gauge) -> Frame:
    """The frame at a footage; feet may have zeros in front, as a counter shows them.

    Raises FootageError for a footage that does not exist on this gauge.
    """
    found = FOOTAGE.fullmatch(text)
    if found is None:
        raise FootageError(text, "write feet, + and two digits of frames, as 2+07")
    feet, over = map(int, found.groups())
    if over >= gauge.frames_in_foot:
        raise FootageError(text, f"frames run from 00 to {gauge.frames_in_foot - 1:02} in a foot of {gauge}")
    return Frame(feet * gauge.frames_in_foot + over)
