"""Work of shots: the days are common practice, no source; list scheduling is held to Graham 1966 (from memory)."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.timebase import NAMED_RATES, FrameRate, parse_rate
from trackread.core.work import (
    ShotWork,
    Tally,
    WorkRule,
    copies_wanted,
    days,
    frames_a_day,
    schedule,
    totals_by_character,
    totals_by_scene,
    totals_by_unit,
)

RULE = WorkRule()
RATES = [FrameRate(rate) for rate in dict.fromkeys(NAMED_RATES.values())]
PUPPETS = ("BRACK", "MISS PELL", "TUM")


def a_shot(name="SH010", length=1, *characters, scene="1", unit="A", frames=48, words=0, beats=0):
    return ShotWork(name, scene, unit, frames, words, beats, characters, Fraction(length))


def in_days(*lengths):
    return [a_shot(f"SH{number:03}0", length) for number, length in enumerate(lengths, 1)]


@st.composite
def shots_of_a_film(draw):
    lengths = st.fractions(Fraction(1, 4), 13, max_denominator=8)
    casts = st.lists(st.sampled_from(PUPPETS), unique=True)
    return [a_shot(f"SH{n:03}0", draw(lengths), *draw(casts)) for n in range(draw(st.integers(0, 25)))]


UNITS = st.integers(1, 8)


class TestDays:
    """Common practice, no source: two seconds a day, shots from half a second to 25 seconds, 40 units."""

    def test_the_longest_shot_takes_twelve_days_and_a_half(self):
        assert days(600, parse_rate("24"), 1, RULE) == Fraction(25, 2)

    def test_the_shortest_shot_takes_a_quarter_of_a_day(self):
        assert days(12, parse_rate("24"), 1, RULE) == Fraction(1, 4)

    def test_forty_units_make_eighty_seconds_a_day(self):
        assert 40 * frames_a_day(parse_rate("24"), RULE) / 24 == 80

    @pytest.mark.parametrize(("rate", "frames"), [("23.976", 48), ("24", 48), ("25", 50), ("29.97df", 60)])
    def test_a_day_is_a_number_of_whole_frames(self, rate, frames):
        assert frames_a_day(parse_rate(rate), RULE) == frames

    @pytest.mark.parametrize(("characters", "factor"), [(0, 1), (1, 1), (2, Fraction(5, 4)), (5, 2)])
    def test_each_further_character_takes_a_quarter_of_the_time_more(self, characters, factor):
        assert days(48, parse_rate("24"), characters, RULE) == factor

    @given(st.integers(1, 10**4), st.integers(1, 10**4), st.sampled_from(RATES), st.integers(0, 9))
    def test_a_shot_parted_in_two_takes_as_long_as_both_parts(self, first, second, rate, characters):
        parts = days(first, rate, characters, RULE) + days(second, rate, characters, RULE)

        assert days(first + second, rate, characters, RULE) == parts


@pytest.mark.parametrize("rule", [{"seconds_a_day": Fraction(0)}, {"each_further_character": Fraction(-1, 4)}])
def test_a_rule_by_which_nothing_gets_done_is_refused(rule):
    with pytest.raises(ValueError, match="company makes nobody quicker"):
        WorkRule(**rule)


@pytest.mark.parametrize("change", [{"frames": 0}, {"length": 0}])
def test_a_shot_has_frames_and_takes_time(change):
    with pytest.raises(ValueError, match="SH010 has frames and takes time"):
        a_shot(**change)


def test_a_shot_has_a_character_once():
    with pytest.raises(ValueError, match="SH010 has a character twice: TUM, TUM"):
        a_shot("SH010", 1, "TUM", "TUM")


class TestTotals:
    SHOTS = (
        a_shot("SH010", 2, "BRACK", "TUM", scene="7", unit="B", frames=96, words=5, beats=3),
        a_shot("SH020", 1, "TUM", scene="7", unit="A", frames=48, words=2, beats=1),
        a_shot("SH030", Fraction(1, 2), scene="6", unit="B", frames=24),
    )

    def test_scenes_add_up_in_the_order_of_the_cut(self):
        assert totals_by_scene(self.SHOTS) == (
            Tally("7", 2, 144, 7, 4, Fraction(3)),
            Tally("6", 1, 24, 0, 0, Fraction(1, 2)),
        )

    def test_units_add_up(self):
        assert totals_by_unit(self.SHOTS) == (
            Tally("B", 2, 120, 5, 3, Fraction(5, 2)),
            Tally("A", 1, 48, 2, 1, Fraction(1)),
        )

    def test_a_shot_counts_for_each_of_its_characters(self):
        assert totals_by_character(self.SHOTS) == (
            Tally("BRACK", 1, 96, 5, 3, Fraction(2)),
            Tally("TUM", 2, 144, 7, 4, Fraction(3)),
        )

    @given(shots_of_a_film())
    def test_scenes_together_are_the_film(self, shots):
        assert sum(tally.days for tally in totals_by_scene(shots)) == sum(shot.days for shot in shots)


class TestSchedule:
    def test_each_unit_takes_the_next_shot_as_soon_as_it_is_free(self):
        booked = schedule(in_days(3, 1, 1, 2), 2).booked

        assert [(one.unit, one.start, one.stop) for one in booked] == [(1, 0, 3), (2, 0, 1), (2, 1, 2), (2, 2, 4)]

    @pytest.mark.parametrize("units", [2, 3, 5])
    def test_the_longest_shot_at_last_is_the_worst_order_there_is(self, units):
        """Graham 1966: m(m - 1) shots of a day and then one of m days take 2m - 1 days, where m would do."""
        shots = in_days(*[1] * units * (units - 1), units)

        assert schedule(shots, units).days == 2 * units - 1
        assert schedule(shots[::-1], units).days == units

    @given(shots_of_a_film(), UNITS)
    def test_every_shot_is_shot_once_for_as_long_as_it_takes(self, shots, units):
        booked = schedule(shots, units).booked

        assert [one.shot for one in booked] == shots
        assert all(one.stop - one.start == one.shot.days and 1 <= one.unit <= units for one in booked)

    @given(shots_of_a_film(), UNITS)
    def test_no_unit_shoots_two_shots_at_once_or_waits(self, shots, units):
        booked = schedule(shots, units).booked

        for unit in range(1, units + 1):
            turns = [(one.start, one.stop) for one in booked if one.unit == unit]
            starts, stops = [start for start, _ in turns], [stop for _, stop in turns]
            assert starts == [0, *stops[:-1]][: len(turns)]

    @given(shots_of_a_film(), UNITS)
    def test_shots_start_in_the_order_given(self, shots, units):
        starts = [one.start for one in schedule(shots, units).booked]

        assert starts == sorted(starts)

    @given(shots_of_a_film(), UNITS)
    def test_the_shoot_is_as_long_as_the_bounds_allow(self, shots, units):
        """Graham 1966: with work W and a longest shot L, m units take from W/m to W/m + L(1 - 1/m)."""
        total = sum(shot.days for shot in shots)
        longest = max((shot.days for shot in shots), default=0)
        lasts = schedule(shots, units).days

        assert max(total / Fraction(units), longest) <= lasts
        assert lasts <= total / Fraction(units) + longest * (1 - Fraction(1, units))

    def test_without_a_unit_nothing_is_shot(self):
        with pytest.raises(ValueError, match="at least one unit shoots, not 0"):
            schedule(in_days(1), 0)


class TestCopies:
    def test_shots_at_one_time_want_a_copy_each(self):
        shots = [a_shot("SH010", 2, "TUM", "BRACK"), a_shot("SH020", 2, "TUM"), a_shot("SH030", 1, "MISS PELL")]

        assert copies_wanted(shots, 3) == {"TUM": 2, "BRACK": 1, "MISS PELL": 1}

    def test_a_puppet_goes_straight_from_one_unit_to_another(self):
        """Unit 1 stops with TUM on day 1 as unit 2 starts with him."""
        shots = [a_shot("SH010", 1, "TUM"), a_shot("SH020", 1), a_shot("SH030", 2), a_shot("SH040", 1, "TUM")]
        first, _, _, last = schedule(shots, 2).booked

        assert (first.unit, first.stop, last.unit, last.start) == (1, 1, 2, 1)
        assert copies_wanted(shots, 2) == {"TUM": 1}

    @given(shots_of_a_film())
    def test_one_unit_wants_one_of_each(self, shots):
        assert copies_wanted(shots, 1) == {name: 1 for shot in shots for name in shot.characters}

    @given(shots_of_a_film(), UNITS)
    def test_no_more_copies_are_wanted_than_units_or_shots(self, shots, units):
        for name, copies in copies_wanted(shots, units).items():
            assert 1 <= copies <= min(units, sum(name in shot.characters for shot in shots))

    @given(shots_of_a_film(), UNITS)
    def test_the_copies_are_those_of_the_busiest_start_of_a_shot(self, shots, units):
        """Counted anew as each shot starts, since at no other time are there more."""
        booked = schedule(shots, units).booked
        for name, copies in copies_wanted(shots, units).items():
            having = [one for one in booked if name in one.shot.characters]

            assert copies == max(sum(one.start <= now.start < one.stop for one in having) for now in having)
