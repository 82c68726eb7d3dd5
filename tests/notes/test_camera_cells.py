"""The cells of the camera's column: the words are our own."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.notes.makers import a_key, keys_at
from trackread.core.sheet import Cell
from trackread.notes.camera import camera_cells, hundredths_of, position_cells, positions

LENGTH = 24


def cells_of(keys, *, every_frame=False):
    return position_cells(keys, LENGTH) if every_frame else camera_cells(keys, LENGTH)


def moves(*keys):
    return [(cell.first, cell.stop, cell.text) for cell in cells_of(keys)]


@st.composite
def rigs(draw):
    places = st.tuples(st.integers(-12, LENGTH + 12), st.sampled_from(["pan", "tilt"]))
    found = draw(st.lists(places, max_size=8, unique=True))
    return [a_key(frame, draw(st.integers(0, 3)), axis) for frame, axis in found]


def test_a_move_says_from_where_to_where_and_the_frame_after_it_where_it_stays():
    assert moves(*keys_at((0, 0), (12, "12.5"))) == [(0, 12, "pan 0 to 12.5"), (12, 13, "pan at 12.5")]


def test_a_move_that_follows_a_move_needs_no_place_between():
    assert moves(*keys_at((0, 0), (8, 5), (16, -2))) == [
        (0, 8, "pan 0 to 5"),
        (8, 16, "pan 5 to -2"),
        (16, 17, "pan at -2"),
    ]


def test_a_hold_is_told_once_however_many_keys_it_has():
    assert moves(*keys_at((2, 5), (4, 5), (8, 5), (12, 6), (14, 6), (20, 6))) == [
        (2, 3, "pan at 5"),
        (8, 12, "pan 5 to 6"),
        (12, 13, "pan at 6"),
    ]


def test_axes_that_begin_on_one_frame_share_a_cell_as_long_as_the_longest():
    assert moves(*keys_at((0, 0), (12, 3)), *keys_at((0, 1), (6, 2), axis="tilt")) == [
        (0, 12, "pan 0 to 3; tilt 1 to 2"),
        (6, 7, "tilt at 2"),
        (12, 13, "pan at 3"),
    ]


def test_a_move_that_the_shot_has_a_part_of_says_so():
    assert cells_of(keys_at((-6, 0), (6, 3), (30, 9))) == (
        Cell(0, 6, "pan 0 to 3", before=True),
        Cell(6, 24, "pan 3 to 9", beyond=True),
    )


def test_a_move_to_the_frame_after_the_last_is_all_in_the_shot():
    assert cells_of(keys_at((0, 0), (24, 3))) == (Cell(0, 24, "pan 0 to 3"),)


def test_where_the_camera_has_been_since_before_the_shot_is_told_on_its_first_frame():
    assert cells_of(keys_at((-9, 1), (-6, 3))) == (Cell(0, 1, "pan at 3", before=True),)


def test_a_cell_of_which_a_part_begins_in_the_shot_does_not_begin_before_it():
    (cell,) = cells_of([a_key(-6, 1), a_key(0, 2, "tilt")])

    assert (cell.text, cell.before) == ("pan at 1; tilt at 2", False)


def test_a_cell_of_which_a_part_goes_beyond_the_shot_goes_beyond_it():
    cell, _ = cells_of([*keys_at((0, 0), (30, 3)), *keys_at((0, 1), (6, 2), axis="tilt")])

    assert cell == Cell(0, 24, "pan 0 to 3; tilt 1 to 2", beyond=True)


def test_keys_beyond_the_shot_alone_are_no_cells():
    assert cells_of(keys_at((24, 1), (30, 3))) == ()


def test_every_frame_of_a_move_says_where_the_axes_are():
    keys = [*keys_at((0, 0), (4, 32)), *keys_at((2, -1), (5, "-1.5"), axis="tilt")]

    assert [(cell.first, cell.stop, cell.text) for cell in cells_of(keys, every_frame=True)] == [
        (0, 1, "pan 0.00"),
        (1, 2, "pan 5.00"),
        (2, 3, "pan 16.00, tilt -1.00"),
        (3, 4, "pan 27.00, tilt -1.13"),
        (4, 5, "pan 32.00, tilt -1.37"),
        (5, 6, "tilt -1.50"),
    ]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(1, 3), "0.33"),
        (Fraction("1.005"), "1.01"),
        (Fraction("-1.005"), "-1.00"),
        (Fraction("-0.004"), "0.00"),
        (Fraction("-0.25"), "-0.25"),
        (Fraction("-12.999"), "-13.00"),
    ],
)
def test_positions_have_two_decimals_half_up(value, text):
    assert hundredths_of(value) == text


@given(rigs(), st.booleans())
def test_cells_stand_in_order_one_from_a_frame_and_within_the_shot(keys, every_frame):
    cells = cells_of(keys, every_frame=every_frame)
    firsts = [cell.first for cell in cells]

    assert firsts == sorted(set(firsts))
    assert all(0 <= cell.first < cell.stop <= LENGTH for cell in cells)


@given(rigs())
def test_a_cell_begins_on_every_frame_on_which_something_begins_and_on_no_other(keys):
    firsts = {cell.first for cell in cells_of(keys)}

    assert firsts <= {max(0, key.frame) for key in keys}
    for axis in {key.axis for key in keys}:
        first = max(0, min(key.frame for key in keys if key.axis == axis))
        assert first >= LENGTH or any(cell.first == first and axis in cell.text for cell in cells_of(keys))


@given(rigs())
def test_every_frame_on_which_an_axis_is_not_where_it_was_says_where_it_is(keys):
    told = {cell.first: cell.text.split(", ") for cell in cells_of(keys, every_frame=True)}

    for axis, track in positions(keys, LENGTH).items():
        for frame, (before, place) in enumerate(pairwise((None, *track))):
            assert place == before or f"{axis} {hundredths_of(place)}" in told[frame]
