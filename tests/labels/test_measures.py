"""The figures of a score, against numbers worked out by hand and the definitions of music analysis.

Deviations and hits are as in MIREX and its reference implementations: Turnbull et al. (ISMIR 2007) for the median
deviation of boundaries, Raffel et al. (ISMIR 2014) for errors within a window, its edge included. From memory.
"""

from dataclasses import astuple
from fractions import Fraction
from statistics import median, quantiles

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.timebase import FrameRate, parse_rate
from trackread.labels.marks import Mark
from trackread.labels.measures import LIMITS_MS, measure

FILM = parse_rate("24")


def pair(reference, estimated):
    """Two marks that start at these microseconds."""
    return Mark("AH", reference, reference + 50_000), Mark("AH", estimated, estimated + 50_000)


def pairs_with(*errors, start=1_000_000):
    return [pair(start, start + error) for error in errors]


def test_figures_worked_out_by_hand():
    # Errors of -30, -10, 0, 20 and 60 ms on one boundary at 1 s, which is the first edge of frame 24.
    figures = measure(pairs_with(-30_000, -10_000, 0, 20_000, 60_000), FILM)

    assert figures.n == 5
    assert (figures.bias, figures.median) == (0.0, 20.0)
    # Of 0, 10, 20, 30, 60 the 90th percentile lies six tenths of the way from 30 to 60.
    assert figures.p90 == pytest.approx(48.0)
    assert LIMITS_MS == (10, 20, 25)
    assert figures.within == (0.4, 0.6, 0.6)
    # -30 and -10 fall on frame 23, 60 on frame 25 (1.06 * 24 = 25.44); only 60 is more than 41.67 ms off.
    assert (figures.same_frame, figures.within_frame) == (0.4, 0.8)


def test_bias_is_signed_and_estimated_minus_reference():
    assert measure([pair(1_000_000, 1_008_000)], FILM).bias == 8.0
    assert measure([pair(1_000_000, 992_000)], FILM).bias == -8.0


@pytest.mark.parametrize(("error", "within"), [(10_000, (1, 1, 1)), (10_001, (0, 1, 1)), (25_001, (0, 0, 0))])
def test_a_limit_counts_as_within_it(error, within):
    assert measure(pairs_with(error), FILM).within == within
    assert measure(pairs_with(-error), FILM).within == within


@pytest.mark.parametrize(
    ("rate", "error", "within"),
    [
        # A frame lasts 41666.67, 40000 and 41708.33 microseconds.
        ("24", 41_666, 1),
        ("24", 41_667, 0),
        ("25", 40_000, 1),
        ("25", 40_001, 0),
        ("23.976", 41_708, 1),
        ("23.976", 41_709, 0),
    ],
)
def test_within_a_frame_is_within_its_length(rate, error, within):
    assert measure(pairs_with(error), parse_rate(rate)).within_frame == within


@pytest.mark.parametrize(
    ("reference", "estimated", "same"),
    [
        # Frame 1 is heard from 41666.67 to 83333.33 microseconds.
        (41_667, 83_333, 1),
        (41_666, 41_667, 0),
        (83_333, 83_334, 0),
        (0, 41_666, 1),
    ],
)
def test_the_same_frame_is_that_on_screen_while_both_are_heard(reference, estimated, same):
    assert measure([pair(reference, estimated)], FILM).same_frame == same


def test_without_pairs_there_are_no_figures():
    assert measure([], FILM) is None


boundaries = st.lists(st.tuples(st.integers(0, 5_000_000), st.integers(0, 5_000_000)), min_size=2, max_size=40)


@given(boundaries, st.fractions(1, 120))
def test_every_figure_is_as_it_is_defined(times, per_second):
    figures = measure([pair(a, b) for a, b in times], FrameRate(per_second))
    errors = [Fraction(b - a, 1000) for a, b in times]
    far = sorted(map(abs, errors))

    assert figures.bias == pytest.approx(float(median(errors)))
    assert figures.median == pytest.approx(float(median(far)))
    assert figures.p90 == pytest.approx(float(quantiles(far, n=10, method="inclusive")[8]))
    shares = [sum(each <= limit for each in far) / len(far) for limit in (*LIMITS_MS, 1000 / per_second)]
    assert [*figures.within, figures.within_frame] == pytest.approx(shares)
    same = sum(a * per_second // 1_000_000 == b * per_second // 1_000_000 for a, b in times)
    assert figures.same_frame == pytest.approx(same / len(far))


@given(boundaries)
def test_the_order_of_pairs_is_nothing_and_twice_the_pairs_have_the_same_shares(times):
    pairs = [pair(a, b) for a, b in times]

    assert astuple(measure(pairs[::-1], FILM)) == astuple(measure(pairs, FILM))
    assert measure(pairs * 2, FILM).within == pytest.approx(measure(pairs, FILM).within)


@given(boundaries)
def test_exchanging_the_sides_turns_the_bias_and_nothing_else(times):
    there = measure([pair(a, b) for a, b in times], FILM)
    back = measure([pair(b, a) for a, b in times], FILM)

    assert back.bias == -there.bias
    assert astuple(back)[2:] == astuple(there)[2:]
