"""A sheet's values: what cannot be is our own bug, and is found at birth."""

from fractions import Fraction

import pytest

from trackread.core.sheet import Beat, Cell, Heading, Sheet, Voice
from trackread.core.timebase import Frame, FrameRate


def a_sheet(*voices: Voice, length: int = 10, action: tuple[Cell, ...] = ()) -> Sheet:
    return Sheet(Heading(), FrameRate(Fraction(24)), Frame(length), 1, voices, action=action)


def a_voice(words: tuple[Cell, ...] = (), beats: tuple[Beat, ...] = (), level: tuple[float, ...] = ()) -> Voice:
    return Voice("BRACK", words, (), beats, level, ())


def test_a_sheet_has_a_frame_at_least():
    with pytest.raises(ValueError, match="a frame at least, not 0"):
        a_sheet(length=0)


def test_a_cell_lasts_a_frame_at_least():
    with pytest.raises(ValueError, match="at least a frame, not 4 to 4"):
        Cell(Frame(4), Frame(4), "Mind")


def test_nothing_lies_outside_the_sheet():
    late = Cell(Frame(9), Frame(11), "Mind")

    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(a_voice(words=(late,)))
    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(action=(late,))
    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(a_voice(beats=(Beat(Frame(-1), Frame(3), 1),)))


def test_level_has_eight_points_for_each_frame_or_none():
    with pytest.raises(ValueError, match="BRACK has 79 points for 10 frames"):
        a_sheet(a_voice(level=(0.5,) * 79))

    assert a_sheet(a_voice(level=(0.5,) * 80)).voices[0].level
    assert not a_sheet(a_voice()).voices[0].level
