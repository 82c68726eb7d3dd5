"""Where samples and frames meet.

Tables marked "exact maths" were computed once with `Fraction` and written down; they hold the
definition, frame k covers [k/r, (k+1)/r), and no other program's opinion.
"""

import math
import random
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.timebase import (
    FrameRate,
    first_sample_of,
    frame_at,
    frames_covering,
    nearest_edge,
    parse_rate,
    resampled,
    sample_at_seconds,
)
from trackread.errors import RateError

FILM = FrameRate(Fraction(24))
PULLED_DOWN = FrameRate(Fraction(24000, 1001))
SAMPLE_RATES = (44100, 48000, 88200, 96000, 192000)

# SMPTE ST 12-1 counts; the exact rates are n/1001 where a name has decimals.
RATES = {
    "23.976": (Fraction(24000, 1001), 24),
    "24": (Fraction(24), 24),
    "25": (Fraction(25), 25),
    "29.97": (Fraction(30000, 1001), 30),
    "30": (Fraction(30), 30),
    "47.952": (Fraction(48000, 1001), 48),
    "48": (Fraction(48), 48),
    "50": (Fraction(50), 50),
    "59.94": (Fraction(60000, 1001), 60),
    "60": (Fraction(60), 60),
}

# Samples to a frame at each of SAMPLE_RATES: exact maths.
SAMPLES_IN_FRAME = {
    "23.976": ("147147/80", "2002", "147147/40", "4004", "8008"),
    "24": ("3675/2", "2000", "3675", "4000", "8000"),
    "25": ("1764", "1920", "3528", "3840", "7680"),
    "29.97": ("1471.47", "8008/5", "2942.94", "3203.2", "6406.4"),
    "30": ("1470", "1600", "2940", "3200", "6400"),
    "47.952": ("919.66875", "1001", "1839.3375", "2002", "4004"),
    "48": ("918.75", "1000", "1837.5", "2000", "4000"),
    "50": ("882", "960", "1764", "1920", "3840"),
    "59.94": ("735.735", "800.8", "1471.47", "1601.6", "3203.2"),
    "60": ("735", "800", "1470", "1600", "3200"),
}

rates = st.sampled_from([FrameRate(exact) for exact, _ in RATES.values()])
sample_rates = st.sampled_from(SAMPLE_RATES)
# Four days at 192 kHz, to either side of the first sample.
samples = st.integers(-(2**36), 2**36)
frames = st.integers(-(2**24), 2**24)


class TestRate:
    @pytest.mark.parametrize(("name", "exact", "base"), [(name, *facts) for name, facts in RATES.items()])
    def test_a_named_rate_is_exact_and_counts_whole_frames_to_the_second(self, name, exact, base):
        rate = parse_rate(name)

        assert rate == FrameRate(exact)
        assert rate.base == base

    @pytest.mark.parametrize(
        ("text", "rate"),
        [
            ("23.98", PULLED_DOWN),
            ("47.95", FrameRate(Fraction(48000, 1001))),
            ("24000/1001", PULLED_DOWN),
            ("25/1", FrameRate(Fraction(25))),
            (" 24 ", FILM),
            ("24ndf", FILM),
            ("29.97ndf", FrameRate(Fraction(30000, 1001))),
            ("29.97df", FrameRate(Fraction(30000, 1001), drop=True)),
            ("29.97 DF", FrameRate(Fraction(30000, 1001), drop=True)),
            ("59.94df", FrameRate(Fraction(60000, 1001), drop=True)),
            ("60000/1001df", FrameRate(Fraction(60000, 1001), drop=True)),
        ],
    )
    def test_a_rate_is_read_in_the_spellings_people_use(self, text, rate):
        assert parse_rate(text) == rate

    @pytest.mark.parametrize("text", [*RATES, "29.97df", "59.94df"])
    def test_a_rate_as_text_reads_back_with_its_way_of_counting(self, text):
        assert parse_rate(str(parse_rate(text))) == parse_rate(text)

    @pytest.mark.parametrize(
        "text",
        [
            "",
            "df",
            "0",
            "-24",
            "24fps",
            "24 25",
            "23.97",
            "120",
            "24/0",
            "48/2",
            "２４",
            "nan",
            "29.97dfndf",
            "29.97dfdf",
        ],
    )
    def test_what_is_no_rate_is_refused_with_the_rates_there_are(self, text):
        with pytest.raises(RateError) as refusal:
            parse_rate(text)

        assert str(refusal.value) == (
            f"{text!r} is not a frame rate: use one of 23.976, 24, 25, 29.97, 30, 47.952, 48, 50, 59.94, 60 "
            "(29.97df and 59.94df for drop-frame)"
        )

    @pytest.mark.parametrize("name", sorted(set(RATES) - {"29.97", "59.94"}))
    def test_drop_frame_exists_at_two_rates_only(self, name):
        """SMPTE ST 12-1; the discussion in OTIO issue #393 says the same of 23.976."""
        with pytest.raises(RateError, match="drop-frame exists at"):
            parse_rate(f"{name}df")
        with pytest.raises(ValueError, match="drop-frame exists at"):
            FrameRate(parse_rate(name).per_second, drop=True)

    @pytest.mark.parametrize("per_second", [0, -24])
    def test_a_rate_is_above_zero(self, per_second):
        with pytest.raises(ValueError, match="above zero"):
            FrameRate(Fraction(per_second))

    @pytest.mark.parametrize(
        ("name", "hours", "drift"),
        [("23.976", 1, 0.086), ("23.976", 24, 2.07), ("23.98", 1, 14.3), ("29.97", 24, 2.59)],
    )
    def test_the_decimals_of_a_name_would_drift(self, name, hours, drift):
        """Why names are a table and not read as decimals: exact maths."""
        frames_adrift = abs(Fraction(name) - parse_rate(name).per_second) * 3600 * hours

        assert float(frames_adrift) == pytest.approx(drift, rel=0.005)


class TestTables:
    @pytest.mark.parametrize("name", SAMPLES_IN_FRAME)
    def test_frames_begin_where_the_samples_to_a_frame_say(self, name):
        rate = parse_rate(name)
        for sample_rate, text in zip(SAMPLE_RATES, SAMPLES_IN_FRAME[name], strict=True):
            length = Fraction(text)
            starts = [first_sample_of(frame, sample_rate, rate) for frame in range(1000)]

            assert starts == [math.ceil(frame * length) for frame in range(1000)]
            assert first_sample_of(length.denominator, sample_rate, rate) == length.numerator

    def test_the_frame_on_screen_is_the_floor(self):
        """Exact maths: 2000 samples of 48 kHz to a frame of 24."""
        assert [frame_at(sample, 48000, FILM) for sample in (-1, 0, 1999, 2000)] == [-1, 0, 0, 1]

    def test_half_a_frame_goes_to_the_later_edge(self):
        """Exact maths: 1/48 s at 24. Python's own round() takes halves to even, and so to 0."""
        assert nearest_edge(999, 48000, FILM) == 0
        assert nearest_edge(1000, 48000, FILM) == 1
        assert round(Fraction(1000) * 24 / 48000) == 0
        assert nearest_edge(-1000, 48000, FILM) == 0

    @pytest.mark.parametrize(
        ("samples", "length"), [(0, 0), (1, 1), (2000, 1), (2001, 2), (504_000, 252), (480_048, 241)]
    )
    def test_a_sound_needs_the_frame_that_it_ends_in(self, samples, length):
        """Exact maths: 504000 samples are 10.5 s, 480048 are 10.001 s."""
        assert frames_covering(samples, 48000, FILM) == length

    def test_pull_down_loses_a_frame_in_41_seconds(self):
        """Exact maths: 24 and 24000/1001 lie half a frame apart after 20.854 s, a frame after 41.708 s."""
        half, whole = 48000 * 1001 // 48, 48000 * 1001 // 24

        assert (nearest_edge(half, 48000, FILM), nearest_edge(half, 48000, PULLED_DOWN)) == (501, 500)
        assert (frame_at(whole - 1, 48000, FILM), frame_at(whole - 1, 48000, PULLED_DOWN)) == (1000, 999)
        assert (frame_at(whole, 48000, FILM), frame_at(whole, 48000, PULLED_DOWN)) == (1001, 1000)

    @pytest.mark.parametrize(
        ("minutes", "at_24", "behind"), [(1, 1440, 1.43856), (10, 14400, 14.386), (60, 86400, 86.314)]
    )
    def test_pull_down_falls_behind_film(self, minutes, at_24, behind):
        """Exact maths: 60 s hold 1440 frames of 24 and 1438.5614 of 24000/1001."""
        samples = minutes * 60 * 48000

        assert frame_at(samples, 48000, FILM) == at_24
        assert frame_at(samples, 48000, PULLED_DOWN) == math.floor(at_24 - behind)
        assert frames_covering(samples, 48000, PULLED_DOWN) == math.ceil(at_24 - behind)

    def test_a_pulled_down_minute_of_film_lasts_60_06_seconds(self):
        """Exact maths: 1440 frames at 24000/1001."""
        assert first_sample_of(1440, 48000, PULLED_DOWN) == Fraction("60.06") * 48000


class TestWhyExact:
    @pytest.mark.parametrize(
        ("rate", "wrong", "first"),
        [
            (PULLED_DOWN, 11541, [27, 49, 54]),
            (FrameRate(Fraction(30000, 1001)), 3860, [61, 121]),
            (FILM, 0, []),
        ],
    )
    def test_frames_come_back_where_floats_lose_them(self, rate, wrong, first):
        """The floats are IEEE 754 doubles: floor((k/r)*r) is not k for so many of the first 200000 frames."""
        inexact = float(rate.per_second)
        lost = [frame for frame in range(200_000) if math.floor((frame / inexact) * inexact) != frame]

        assert len(lost) == wrong
        assert lost[: len(first)] == first
        assert [frame_at(first_sample_of(frame, 48000, rate), 48000, rate) for frame in lost] == lost

    def test_rounded_positions_keep_the_length_that_rounded_durations_lose(self):
        """Exact maths: 1000 phones of 30 to 180 ms, seed 1, lose 12 frames when each is rounded alone."""
        chance = random.Random(1)
        phones = [48 * chance.randint(30, 180) for _ in range(1000)]
        edges = [nearest_edge(sum(phones[:count]), 48000, FILM) for count in range(1001)]

        assert sum(nearest_edge(phone, 48000, FILM) for phone in phones) == 2532
        assert sum(stop - start for start, stop in pairwise(edges)) == 2544


class TestLaws:
    @given(samples, sample_rates, rates)
    def test_frame_k_covers_k_to_k_plus_one(self, sample, sample_rate, rate):
        frame, seconds = frame_at(sample, sample_rate, rate), Fraction(sample, sample_rate)

        assert frame / rate.per_second <= seconds < (frame + 1) / rate.per_second

    @given(frames, sample_rates, rates)
    def test_the_first_sample_is_the_least_one_on_the_frame(self, frame, sample_rate, rate):
        first = first_sample_of(frame, sample_rate, rate)

        assert frame_at(first, sample_rate, rate) == frame
        assert frame_at(first - 1, sample_rate, rate) == frame - 1

    @given(samples, sample_rates, rates)
    def test_the_nearest_edge_is_at_most_half_a_frame_off_and_half_goes_up(self, sample, sample_rate, rate):
        position = Fraction(sample, sample_rate) * rate.per_second
        edge = nearest_edge(sample, sample_rate, rate)

        assert edge - Fraction(1, 2) <= position < edge + Fraction(1, 2)

    @given(frames, sample_rates, rates)
    def test_the_edge_nearest_to_a_frames_first_sample_is_its_own(self, frame, sample_rate, rate):
        assert nearest_edge(first_sample_of(frame, sample_rate, rate), sample_rate, rate) == frame

    @given(st.integers(0, 2**36), sample_rates, rates)
    def test_the_frames_covering_a_sound_are_enough_and_no_more(self, length, sample_rate, rate):
        count = frames_covering(length, sample_rate, rate)

        assert (count - 1) / rate.per_second < Fraction(length, sample_rate) <= count / rate.per_second

    @given(samples, st.integers(-1000, 1000), sample_rates, rates)
    def test_a_shift_by_frames_of_whole_samples_shifts_every_answer(self, sample, times, sample_rate, rate):
        length = sample_rate / rate.per_second
        later, shift = sample + times * length.numerator, times * length.denominator

        assert frame_at(later, sample_rate, rate) == frame_at(sample, sample_rate, rate) + shift
        assert nearest_edge(later, sample_rate, rate) == nearest_edge(sample, sample_rate, rate) + shift

    @given(samples, samples, sample_rates, rates)
    def test_order_is_kept(self, one, other, sample_rate, rate):
        sooner, later = sorted((one, other))

        assert frame_at(sooner, sample_rate, rate) <= frame_at(later, sample_rate, rate)
        assert nearest_edge(sooner, sample_rate, rate) <= nearest_edge(later, sample_rate, rate)


class TestSeconds:
    @pytest.mark.parametrize(("seconds", "sample"), [(-0.5, 0), (0.0, 0), (0.49, 0), (0.5, 1), (1.5, 2), (2.5, 3)])
    def test_half_a_sample_goes_up(self, seconds, sample):
        assert sample_at_seconds(seconds, 1) == sample

    @given(st.integers(-(2**36), 2**36), sample_rates)
    def test_a_sample_survives_being_seconds(self, sample, sample_rate):
        """IEEE 754: a quotient of doubles is within half a unit in the last place, far below half a sample."""
        assert sample_at_seconds(sample / sample_rate, sample_rate) == sample


class TestResampled:
    @pytest.mark.parametrize(
        ("sample", "sample_rate", "new_rate", "same"),
        [
            (44100, 44100, 48000, 48000),
            (147, 44100, 48000, 160),
            (1, 2, 1, 1),
            (3, 2, 1, 2),
            (-1, 2, 1, 0),
            (1, 3, 1, 0),
        ],
    )
    def test_an_instant_is_counted_at_another_rate_half_up(self, sample, sample_rate, new_rate, same):
        """Exact maths; 147 samples at 44.1 kHz last as long as 160 at 48 kHz."""
        assert resampled(sample, sample_rate, new_rate) == same

    @given(samples, sample_rates, sample_rates)
    def test_a_finer_count_there_and_back_loses_nothing(self, sample, one, other):
        coarse, fine = sorted((one, other))

        assert resampled(resampled(sample, coarse, fine), fine, coarse) == sample

    @given(samples, sample_rates, sample_rates)
    def test_no_instant_moves_by_more_than_half_a_new_sample(self, sample, sample_rate, new_rate):
        moved = resampled(sample, sample_rate, new_rate) - Fraction(sample * new_rate, sample_rate)

        assert -Fraction(1, 2) < moved <= Fraction(1, 2)
