"""Footage against the count that the gauges have."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.footage import Gauge, footage_of, frame_of_footage
from trackread.core.timebase import parse_rate
from trackread.core.timecode import label_of
from trackread.errors import FootageError

FILM_35, FILM_16 = Gauge.FOUR_PERFORATION_35, Gauge.SINGLE_PERFORATION_16

# 16 frames of 35 mm 4-perf film to a foot, 40 of 16 mm: encyclopaedia pages "film foot" and "35 mm film",
# which cite ISO 491, ISO 69 and SMPTE. The rows follow by exact maths.
TABLE = [
    (0, "0+00", "0+00"),
    (15, "0+15", "0+15"),
    (16, "1+00", "0+16"),
    (24, "1+08", "0+24"),
    (39, "2+07", "0+39"),
    (40, "2+08", "1+00"),
    (90, "5+10", "2+10"),
    (100, "6+04", "2+20"),
    (1440, "90+00", "36+00"),
    (14400, "900+00", "360+00"),
    (16000, "1000+00", "400+00"),
    (86400, "5400+00", "2160+00"),
]

# What has not the shape of a footage: the last of the miscounted is longer than Python turns into a number.
MISCOUNTED = ["", "2", "+07", "2+", "2+7", "2+007", "1000000+00", "9" * 5000 + "+00"]
SIGNED = ["-2+07", "2-07", "2+-7", "++2+07"]
WITH_JUNK = ["2.5+07", "2+07.5", "2 + 07", " 2+07", "2+07 ", "2+07\n", "2'07", "2:07", "2+07 ft"]
NOT_ASCII = ["２+０７", "٢+٠٧", "2²+07"]


@pytest.mark.parametrize(("frame", "film_35", "film_16"), TABLE)
def test_a_frame_has_a_footage_on_each_gauge_and_comes_back(frame, film_35, film_16):
    assert footage_of(frame, FILM_35) == film_35
    assert footage_of(frame, FILM_16) == film_16
    assert frame_of_footage(film_35, FILM_35) == frame
    assert frame_of_footage(film_16, FILM_16) == frame


def test_a_thousand_feet_of_35_mm_are_eleven_minutes():
    """Exact maths: 00:11:06:16 at 24."""
    assert label_of(frame_of_footage("1000+00", FILM_35), parse_rate("24")) == "00:11:06:16"


@pytest.mark.parametrize(
    ("text", "gauge", "right"),
    [
        ("2+16", FILM_35, "frames run from 00 to 15 in a foot of 35 mm"),
        ("2+40", FILM_16, "frames run from 00 to 39 in a foot of 16 mm"),
        ("0+99", FILM_16, "frames run from 00 to 39 in a foot of 16 mm"),
    ],
)
def test_frames_beyond_the_foot_are_refused(text, gauge, right):
    with pytest.raises(FootageError) as refusal:
        frame_of_footage(text, gauge)

    assert str(refusal.value) == f"{text!r} is not a footage: {right}"


@pytest.mark.parametrize("text", [*MISCOUNTED, *SIGNED, *WITH_JUNK, *NOT_ASCII])
def test_what_is_no_footage_is_refused_with_how_to_write_one(text):
    with pytest.raises(FootageError) as refusal:
        frame_of_footage(text, FILM_35)

    assert str(refusal.value) == f"{text!r} is not a footage: write feet, + and two digits of frames, as 2+07"


def test_zeros_in_front_of_the_feet_are_read():
    """Common practice, no source: counters show feet with zeros in front."""
    assert frame_of_footage("0002+07", FILM_35) == 39


def test_there_is_no_footage_before_frame_zero():
    with pytest.raises(ValueError, match="counts from frame 0, not -1"):
        footage_of(-1, FILM_35)


@given(st.integers(0, 24 * 60 * 60 * 60), st.sampled_from(Gauge))
def test_every_frame_of_a_day_comes_back(frame, gauge):
    assert frame_of_footage(footage_of(frame, gauge), gauge) == frame


@given(st.integers(0, 10**6), st.integers(0, 1000), st.sampled_from(Gauge))
def test_a_shift_by_feet_leaves_the_frames_over(frame, feet, gauge):
    before, over = footage_of(frame, gauge).split("+")

    assert footage_of(frame + feet * gauge.frames_in_foot, gauge) == f"{int(before) + feet}+{over}"
