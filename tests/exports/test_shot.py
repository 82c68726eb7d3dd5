"""Which shots make a film."""

import pytest

from tests.exports.makers import a_film, a_sheet, a_shot, a_voice
from trackread.core.timebase import Frame, parse_rate
from trackread.exports.shot import Film


@pytest.mark.parametrize(
    ("first", "second", "why"),
    [
        (a_shot("SH010", 24), a_shot("SH020", 24), "SH010 is not before SH020"),
        (a_shot("SH010", 0), a_shot("SH020", 4, a_sheet(length=19)), "SH010 is not before SH020"),
        (a_shot("SH010", 0), a_shot("SH020", 24, a_sheet(rate="25")), "SH020 runs at 25/1, the film at 24/1"),
    ],
)
def test_shots_of_a_film_follow_each_other_at_its_rate(first, second, why):
    with pytest.raises(ValueError, match=why):
        a_film(first, second)


def test_a_film_has_a_shot():
    with pytest.raises(ValueError, match="a film has a shot at least"):
        Film("The Late Tram", parse_rate("24"), Frame(0), ())


def test_timecode_of_a_film_counts_from_0():
    with pytest.raises(ValueError, match="timecode counts from 0, not -1"):
        a_film(start=-1)


def test_a_shot_may_be_seen_as_long_as_the_next_one():
    assert len(a_film(a_shot("SH010", 0), a_shot("SH020", 4, a_sheet(length=20))).shots) == 2


@pytest.mark.parametrize(
    ("first", "sheet", "why"),
    [
        (-1, a_sheet(), "SH010 starts on frame -1, and the frames of a cut count from 0"),
        (0, a_sheet(a_voice("TUM"), a_voice(), a_voice("TUM")), "a character has two voices in SH010"),
    ],
)
def test_a_shot_lies_in_the_cut_with_one_voice_a_character(first, sheet, why):
    with pytest.raises(ValueError, match=why):
        a_shot("SH010", first, sheet)
