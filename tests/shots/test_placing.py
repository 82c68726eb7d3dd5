"""Shots and placements by hand."""

import pytest

from tests.shots.test_adding_cut import heard
from trackread.core.timebase import parse_rate
from trackread.errors import BookError, CutError
from trackread.workflow.current_cut import current_cut
from trackread.workflow.decisions import circle
from trackread.workflow.placing import add_shot, length_of, place, remove_shot, take_away, trim_shot


@pytest.mark.parametrize(
    ("rate", "text", "frames"),
    [
        ("24", "84", 84),
        ("24", "3.5s", 84),
        ("24", "0.51 s", 13),
        ("24", "00:00:03:12", 84),
        ("24", "5+04", 84),  # 16 frames to the foot of 35 mm: checked against ISO's count in tests/core
        ("25", "00:00:03:12", 87),
        ("23.976", "3.5s", 84),  # 3.5 s are 83.9 frames
        ("29.97df", "00:01:00;02", 1800),  # SMPTE ST 12-1
    ],
)
def test_a_length_may_be_frames_seconds_timecode_or_footage(rate, text, frames):
    assert length_of(text, parse_rate(rate)) == frames


@pytest.mark.parametrize("text", ["", "x", "3,5s", "1e3", "-1s"])
def test_what_is_no_length_is_refused(text):
    with pytest.raises(CutError, match=r"is no length: write frames \(84\), seconds"):
        length_of(text, parse_rate("24"))


def test_a_line_is_heard_by_its_circled_take_whichever_that_is(film):
    add_shot(film, "SH010", "48", author="ANN")
    place(film, "l0001", "sh010", 11, author="ANN")
    circle(film, ["L0001-1"], "ANN", on=True)
    assert heard(film) == {"SH010": [("L0001-1", 10, 30)]}
    circle(film, ["L0001-1"], "ANN", on=False)
    circle(film, ["L0001-2"], "ANN", on=True)

    assert heard(film) == {"SH010": [("L0001-2", 10, 31)]}


def test_a_take_stays_itself(film):
    add_shot(film, "SH010", "48", author="ANN")
    place(film, "L0001-1", "SH010", 1, author="ANN")
    circle(film, ["L0001-2"], "ANN", on=True)

    assert heard(film) == {"SH010": [("L0001-1", 0, 20)]}


def test_what_is_placed_ends_with_its_shot(film):
    add_shot(film, "SH010", "20", author="ANN")
    add_shot(film, "SH020", "20", author="ANN")
    told = place(film, "L0001-1", "SH010", 11, author="ANN")

    assert heard(film) == {"SH010": [("L0001-1", 10, 20)], "SH020": []}
    (remark,) = told.remarks
    assert remark.text == "L0001-1, placed by hand in SH010, has 10 frames fewer at its end, as the shot has"


def test_a_trim_of_the_head_leaves_the_voice_with_its_picture(film):
    add_shot(film, "SH010", "48", author="ANN")
    place(film, "L0001", "SH010", 11, author="ANN")
    trim_shot(film, "SH010", head=5, tail=0, author="ANN")
    assert heard(film) == {"SH010": [("L0001-2", 5, 26)]}
    trim_shot(film, "SH010", head=8, tail=0, author="ANN")

    # Three frames of the voice went with the picture.
    assert heard(film) == {"SH010": [("L0001-2", 0, 18)]}
    assert current_cut(film).cut.shots[0].length == 35


def test_what_was_placed_can_be_taken_out_again(film):
    add_shot(film, "SH010", "48", author="ANN")
    place(film, "L0001", "SH010", 1, author="ANN")
    take_away(film, "L0001", "SH010", None, author="ANN")
    assert heard(film) == {"SH010": []}

    remove_shot(film, "SH010", author="ANN")
    assert current_cut(film).cut.shots == ()


@pytest.mark.parametrize(
    ("what", "code", "at", "error", "told"),
    [
        ("L0001", "SH011", 1, CutError, "the shot 'SH011' is not in the cut: is SH010 meant?"),
        ("L0001", "SH010", 0, CutError, "SH010 has no frame 0: it has frames 1 to 48"),
        ("L0001", "SH010", 49, CutError, "SH010 has no frame 49"),
        ("L0099", "SH010", 1, BookError, "there is no line L0099"),
        ("L0001-9", "SH010", 1, BookError, "there is no take L0001-9"),
        ("S1-006", "SH010", 1, CutError, "S1-006 is chatter, no take"),
    ],
)
def test_what_cannot_be_placed_is_refused_and_nothing_changes(film, what, code, at, error, told):
    add_shot(film, "SH010", "48", author="ANN")

    with pytest.raises(error, match=told):
        place(film, what, code, at, author="ANN")
    assert current_cut(film).number == 1
