"""SMPTE ST 12-1 timecode: the label that names a frame, and the frame that a label names.

Frames count from 0 at 00:00:00:00, as everywhere. A day has 24 hours of labels and then begins
again, so frames a whole day apart share a label, and frame -1 is the last one of the day before.
A label is `HH:MM:SS:FF`; at a drop-frame rate `label_of` writes `HH:MM:SS;FF`. To read, `;` is a
claim that the count is drop-frame and is refused where it is not; `:` claims nothing, since cut
lists and recorders write it for both counts and name the count elsewhere, as the rate does here.
Dropped numbers are refused with either. No other separator is read: `.` and `,` before the frames
mean different things to different machines.

Drop-frame leaves out the first two numbers of every minute (four at 59.94) but the tenth ones
(SMPTE ST 12-1), so that an hour of labels lasts an hour to within 3.6 ms.
"""

import re
from fractions import Fraction

from trackread.core.timebase import Frame, FrameRate, frame_at
from trackread.errors import TimecodeError

LABEL = re.compile("([0-9]{2}):([0-9]{2}):([0-9]{2})([:;])([0-9]{2})")


def frames_in_day(rate: FrameRate) -> Frame:
    """How many labels there are before they begin again: 2589408 at 29.97 drop-frame."""
    base, dropped = _count(rate)
    return Frame(24 * 6 * (600 * base - 9 * dropped))


def label_of(frame: int, rate: FrameRate) -> str:
    """The label of a frame.

    >>> label_of(1800, FrameRate(Fraction(30000, 1001), drop=True))
    '00:01:00;02'
    """
    base, dropped = _count(rate)
    tens, rest = divmod(frame, 600 * base - 9 * dropped)
    # The first minute of ten is whole; each one begun after it has left out `dropped` numbers more.
    short_minutes = max(0, (rest - dropped) // (60 * base - dropped))
    seconds, frames = divmod(600 * base * tens + rest + dropped * short_minutes, base)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    separator = ";" if rate.drop else ":"
    return f"{hours % 24:02}:{minutes:02}:{seconds:02}{separator}{frames:02}"


def label_of_sample(sample: int, sample_rate: int, rate: FrameRate) -> tuple[str, Fraction]:
    """The label on the clock at a sample counted from midnight, and the samples since that frame began.

    The samples left over lie from 0 to below a frame. So the TimeReference of a Broadcast Wave file
    (EBU Tech 3285), which counts at the file's own sample rate, becomes timecode.
    """
    frame = frame_at(sample, sample_rate, rate)
    return label_of(frame, rate), sample - frame * sample_rate / rate.per_second


def frame_of(text: str, rate: FrameRate) -> Frame:
    """The frame that a label names, in the first day.

    Raises TimecodeError for a label that does not exist at this rate.
    """
    found = LABEL.fullmatch(text)
    if found is None:
        shape = "HH:MM:SS;FF" if rate.drop else "HH:MM:SS:FF"
        raise TimecodeError(text, f"write two digits each of hours, minutes, seconds and frames, as {shape}")
    hours, minutes, seconds, frames = map(int, found.group(1, 2, 3, 5))
    base, dropped = _count(rate)
    fields = {"hours": (hours, 24), "minutes": (minutes, 60), "seconds": (seconds, 60), "frames": (frames, base)}
    for name, (field, count) in fields.items():
        if field >= count:
            raise TimecodeError(text, f"{name} run from 00 to {count - 1:02}")
    if found[4] == ";" and not rate.drop:
        raise TimecodeError(text, f"';' says drop-frame, which this rate is not: write {text.replace(';', ':')}")
    if minutes % 10 and seconds == 0 and frames < dropped:
        raise TimecodeError(text, f"drop-frame begins this minute with {text[:8]};{dropped:02}")
    minutes += 60 * hours
    return Frame((60 * minutes + seconds) * base + frames - dropped * (minutes - minutes // 10))


def _count(rate: FrameRate) -> tuple[int, int]:
    """Numbers in a second, and how many of them a minute leaves out: two of 30, four of 60."""
    base = rate.base
    return base, base // 15 if rate.drop else 0
