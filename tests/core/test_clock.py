"""A clock: on which frames the samples of a recording are heard, and which sample a frame begins with.

It is held against the placements of the cut, which tests/core/test_cut.py holds against counting, and whole takes
against `frame_at`; the rates are those of SMPTE ST 12-1, the figures exact maths.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_cut import a_placement
from trackread.core.clock import Clock, clock_of_placement, clock_of_take
from trackread.core.cut import frame_of_sample, position_at, samples_of_frame
from trackread.core.timebase import NAMED_RATES, first_sample_of, frame_at, parse_rate

RATES = [parse_rate(name) for name in (*NAMED_RATES, "29.97df", "59.94df")]
SPEEDS = [Fraction(text) for text in ("1", "2", "1/2", "-1", "-1/2", "24/25", "1001/1000", "-48/25")]

rates = st.sampled_from(RATES)
placements = st.builds(
    a_placement,
    at=st.integers(-50, 5000),
    length=st.integers(1, 40),
    start=st.builds(Fraction, st.integers(0, 10**7), st.sampled_from([1, 2, 5, 80])),
    sample_rate=st.sampled_from([441, 8000, 44100, 48000]),
    speed=st.sampled_from(SPEEDS),
    fade_out=st.integers(0, 5),
)


@given(placements, rates, st.data())
def test_a_sample_is_on_the_frame_on_which_the_cut_has_it(one, rate, data):
    frame = data.draw(st.integers(one.at, one.heard_stop - 1))
    samples = samples_of_frame(one, frame, rate)
    clock = clock_of_placement(one, rate)

    for sample in (samples.start - 1, samples.start, samples.stop - 1, samples.stop):
        heard = frame_of_sample(one, sample, rate)
        assert clock.frame(sample) == heard or (heard is None and not one.at <= clock.frame(sample) < one.heard_stop)


@given(placements, rates, st.data())
def test_a_frame_begins_with_the_sample_that_the_cut_has_there_first(one, rate, data):
    frame = data.draw(st.integers(one.at, one.heard_stop - 1))
    samples = samples_of_frame(one, frame, rate)

    first = clock_of_placement(one, rate).sample(frame, 1)
    assert first == (samples.start if one.speed > 0 else samples.stop - 1)


@given(placements, rates, st.integers(-(10**6), 10**6), st.integers(1, 32))
def test_of_the_samples_that_do_not_begin_before_a_part_of_a_frame_the_first_is_told(one, rate, part, parts):
    clock = clock_of_placement(one, rate)
    sample, later = clock.sample(part, parts), 1 if clock.forwards else -1

    def begins(number):
        edge = number + (not clock.forwards)
        return one.at + (edge - one.start) / one.speed / one.sound.sample_rate * rate.per_second

    assert begins(sample - later) < Fraction(part, parts) <= begins(sample)


@given(placements, rates, st.integers(-(10**5), 10**5), st.integers(1, 10**5))
def test_a_stretch_is_heard_on_the_frames_of_its_first_and_its_last_sample_and_all_between(one, rate, start, length):
    clock = clock_of_placement(one, rate)
    first, stop = clock.frames(start, start + length)
    ends = (clock.frame(start), clock.frame(start + length - 1))

    assert (first, stop - 1) == (ends if clock.forwards else ends[::-1])
    assert first < stop


@given(placements, rates, st.integers(0, 10**7), st.integers(0, 10**6))
def test_the_clock_of_a_part_counts_samples_from_the_start_of_the_part(one, rate, start, sample):
    clock = clock_of_placement(one, rate)

    assert clock.from_sample(start).frame(sample) == clock.frame(start + sample)


@given(st.sampled_from([8000, 44100, 48000, 96000]), rates, st.integers(0, 10**9))
def test_a_whole_take_is_heard_as_frame_at_has_it(sample_rate, rate, sample):
    clock = clock_of_take(sample_rate, rate)
    frame = frame_at(sample, sample_rate, rate)

    assert clock.frame(sample) == frame
    assert clock.sample(frame, 1) == first_sample_of(frame, sample_rate, rate)


@given(st.integers(0, 10**4), st.sampled_from([8000, 44100, 48000]), rates, st.integers(0, 10**8))
def test_a_take_that_is_placed_from_its_first_sample_is_heard_as_the_take_alone_so_much_later(
    at, sample_rate, rate, sample
):
    placed = clock_of_placement(a_placement(at=at, sample_rate=sample_rate), rate)

    assert placed.frame(sample) == clock_of_take(sample_rate, rate).frame(sample) + at


@given(placements, rates, st.integers(0, 40))
def test_the_line_of_the_clock_is_the_line_of_the_cut(one, rate, since):
    clock, frame = clock_of_placement(one, rate), one.at + since

    assert Fraction(frame * clock.scale - clock.offset, clock.per) == position_at(one, frame, rate)


def test_backwards_the_last_sample_is_heard_first():
    """2000 samples a frame at 48 kHz and 24 a second, in exact maths: samples 2000 to 3999 are on the first frame."""
    clock = clock_of_placement(a_placement(start=4000, length=2, speed=Fraction(-1)), parse_rate("24"))

    assert [clock.frame(sample) for sample in (3999, 2000, 1999, 0)] == [0, 0, 1, 1]
    assert (clock.sample(0, 1), clock.sample(1, 1), clock.sample(1, 2)) == (3999, 1999, 2999)
    assert clock.frames(0, 4000) == (0, 2)


def test_a_start_between_two_samples_is_kept_exactly():
    """At 441 Hz and 24 a second a frame has 18.375 samples; what begins at 0.5 has 0.5 to 18.875 on frame 0."""
    clock = clock_of_placement(a_placement(start=Fraction(1, 2), sample_rate=441), parse_rate("24"))

    assert [clock.frame(sample) for sample in (0, 1, 18, 19)] == [-1, 0, 0, 1]


def test_a_clock_that_stands_still_is_not_born():
    with pytest.raises(ValueError, match="a clock runs, not 0/1"):
        Clock(0, 0, 1)
    with pytest.raises(ValueError, match="a clock runs, not 1/0"):
        Clock(1, 0, 0)
