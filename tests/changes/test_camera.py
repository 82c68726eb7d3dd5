"""Where the camera is, before and after: the keys decide, and not on which rows the sheet repeats them."""

from fractions import Fraction

from tests.changes.makers import a_sheet, brack, filmed, trimmed
from trackread.changes.sheets import compare_sheets
from trackread.core.timebase import Frame
from trackread.notes.camera import Key

SHEET = a_sheet(brack())


def keys(*places):
    """Keys of a pan, each a frame and a value."""
    return tuple(Key(Frame(frame), "pan", Fraction(value)) for frame, value in places)


PAN = keys((0, 0), (10, 0), (30, 12))


def change(after, before=PAN, every_frame=False):
    return compare_sheets(
        filmed(SHEET, before, every_frame=every_frame), filmed(SHEET, after, every_frame=every_frame), 0
    )


def test_a_trimmed_shot_whose_first_row_repeats_where_the_camera_stands_has_no_row_that_differs():
    after = keys((-5, 0), (5, 0), (25, 12))
    for every_frame in (False, True):
        before, cut = filmed(SHEET, PAN, every_frame=every_frame), filmed(trimmed(SHEET, 5), after)
        found = compare_sheets(before, filmed(cut, after, every_frame=every_frame), 5)

        assert cut.camera[0].text == "pan at 0"
        assert (found.redo, found.spans, len(found.told)) == (None, (), 1)


def test_a_move_that_starts_later_is_told_with_the_hold_behind_it():
    found = change(keys((0, 0), (13, 0), (33, 12)))

    assert found.told == ("camera: “pan 0 to 12” to “pan at 12” (2) move 3 later, from 11 to 14",)
    assert (found.redo, found.spans) == (10, ((10, 13), (30, 33)))


def test_a_move_to_another_place_is_told_in_place_of_the_one_that_was():
    found = change(keys((0, 0), (10, 0), (30, 15)))

    sentence = "camera: “pan 0 to 15” to “pan at 15” (2) from 11 in place of “pan 0 to 12” to “pan at 12” (2)"
    assert found.told == (sentence,)
    assert (found.redo, found.spans) == (10, ((10, 60),))


def test_positions_that_the_move_explains_are_not_told_of_frame_by_frame():
    assert len(change(keys((0, 0), (10, 0), (30, 15)), every_frame=True).told) == 1


def test_positions_that_the_move_does_not_explain_are_told_by_their_rows():
    found = change(keys((10, 0), (90, 12)), keys((10, 0), (80, 12)), every_frame=True)

    assert found.told == ("camera: positions changed on 13 to 60",)
    assert found.redo == 12


def test_positions_that_are_wanted_now_make_a_sheet_stale_and_nothing_is_done_again():
    plain, every = filmed(SHEET, PAN), filmed(SHEET, PAN, every_frame=True)
    found, back = compare_sheets(plain, every, 0), compare_sheets(every, plain, 0)

    assert (found.told, found.first, found.redo) == (("the camera's positions are on it now",), 0, None)
    assert back.told == ("the camera's positions are no longer on it",)


def test_an_axis_that_moves_now_is_new_and_the_other_stays():
    tilt = (*PAN, Key(Frame(20), "tilt", Fraction(3)))

    assert change(tilt).told == ("camera: “tilt at 3” is new on 21",)
    assert change(PAN, tilt).told == ("camera: “tilt at 3” is gone from 21",)
