"""The camera's keys as a table, and where it is between them.

The ease is held to SciPy's cubic Hermite interpolation with level ends, which knows nothing of ours.
"""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicHermiteSpline

from tests.notes.makers import a_key, keys_at, problems_of
from trackread.notes.camera import Key, decimal_of, number_of, positions, read_camera

LENGTH = 48
VALUES = st.integers(-(10**6), 10**6).map(lambda count: Fraction(count, 1000))
FRAMES = st.lists(st.integers(-30, LENGTH + 30), min_size=1, max_size=6, unique=True)


@st.composite
def tracks(draw):
    return [a_key(frame, draw(VALUES)) for frame in draw(FRAMES)]


class TestTable:
    def test_axes_stand_in_any_order_and_values_are_exact(self):
        keys = read_camera("frame,axis,value\n25,pan,12.5\n1,tilt,-0.1\n1,Pan,+0\n25,TILT,3\n", "camera.csv", 1)

        assert keys == (
            Key(0, "tilt", Fraction(-1, 10)),
            Key(0, "pan", Fraction(0)),
            Key(24, "pan", Fraction(25, 2)),
            Key(24, "tilt", Fraction(3)),
        )

    def test_a_row_that_is_there_twice_is_one_key(self):
        assert read_camera("frame,axis,value\n1,pan,3\n1,pan,3.0\n", "camera.csv", 1) == (a_key(0, 3),)

    def test_every_problem_is_told_at_once_in_order_of_lines(self):
        table = "frame;axis;value\n0;;left\n1;pan;-3,5\n1;pan;3\n1;tilt;4\n1;Pan;3.25\n2;pan;1e3\n3;pan;\n"
        number = "write a number, as 12.5 or -3, of 9 digits at most before and after the point"

        assert problems_of(read_camera, table) == [
            "notes.csv:2: frame is 0, and the first frame of the shot is 1",
            "notes.csv:2: axis is empty: name what moves, as pan",
            f"notes.csv:2: value is 'left': {number}",
            "notes.csv:3: value is '-3,5': write it with a point, as -3.5",
            "notes.csv:6: pan is at 3.25, and on the same frame at 3 in line 4: keep one",
            f"notes.csv:7: value is '1e3': {number}",
            f"notes.csv:8: value is '': {number}",
        ]

    def test_a_table_without_a_heading_is_told_what_it_must_be(self):
        rule = "name the columns frame, axis, value in the first row"

        assert problems_of(read_camera, "1,pan,3\n") == [
            f"notes.csv:1: there is no column {column}: {rule}" for column in ("frame", "axis", "value")
        ]

    @given(VALUES)
    def test_a_value_comes_back_as_it_is_written(self, value):
        assert number_of(decimal_of(value)) == value

    @pytest.mark.parametrize(
        ("written", "value"),
        [("12.5", "12.5"), ("007.50", "7.5"), ("100", "100"), ("-0.0", "0"), ("-999999999.000000001",) * 2],
    )
    def test_a_value_is_written_as_short_as_it_can_be(self, written, value):
        assert decimal_of(number_of(written)) == value

    @pytest.mark.parametrize("value", [Fraction(1, 3), Fraction(10**9), Fraction(1, 10**10)])
    def test_a_key_that_no_table_could_write_is_refused(self, value):
        with pytest.raises(ValueError, match="pan is at a number of 9 digits"):
            a_key(0, value)

    def test_a_key_has_an_axis(self):
        with pytest.raises(ValueError, match="a key has an axis"):
            a_key(0, 1, axis="")


class TestPositions:
    def test_before_the_first_key_nothing_is_known_and_after_the_last_it_stays(self):
        assert positions(keys_at((2, 5), (4, 9)), 7) == {"pan": (None, None, 5, 7, 9, 9, 9)}

    def test_a_quarter_of_the_way_is_five_thirty_seconds_of_the_move(self):
        """3/16 - 2/64 = 5/32."""
        assert positions(keys_at((0, 0), (4, 32)), 5)["pan"] == (0, 5, 16, 27, 32)

    def test_axes_move_alone(self):
        keys = [a_key(0, 0), a_key(1, 3, "tilt"), a_key(2, 8)]

        assert positions(keys, 3) == {"pan": (0, 4, 8), "tilt": (None, 3, 3)}

    def test_keys_outside_of_the_shot_steer_what_is_seen(self):
        whole = positions(keys_at((0, 0), (20, 7)), 20)["pan"]

        assert positions(keys_at((-5, 0), (15, 7)), 10)["pan"] == whole[5:15]

    def test_no_keys_are_no_axes(self):
        assert positions([], 24) == {}

    def test_two_keys_of_an_axis_on_one_frame_are_refused(self):
        with pytest.raises(ValueError, match="pan has two keys on one frame"):
            positions(keys_at((3, 1), (3, 2)), 24)

    @given(tracks())
    def test_the_ease_is_a_cubic_hermite_with_level_ends(self, keys):
        keys = sorted([*keys, a_key(-40, 1)], key=lambda key: key.frame)
        frames, values = [key.frame for key in keys], [float(key.value) for key in keys]
        spline = CubicHermiteSpline(frames, values, [0.0] * len(keys)) if len(keys) > 1 else None

        for frame, position in enumerate(positions(keys, LENGTH)["pan"]):
            assert float(position) == pytest.approx(float(spline(min(frame, frames[-1]))), abs=1e-6)

    @given(tracks())
    def test_an_axis_is_exactly_at_its_keys(self, keys):
        track = positions(keys, LENGTH)["pan"]

        assert len(track) == LENGTH
        assert all(track[key.frame] == key.value for key in keys if 0 <= key.frame < LENGTH)

    @given(tracks())
    def test_between_two_keys_it_goes_one_way_and_never_too_far(self, keys):
        track = positions(keys, LENGTH)["pan"]

        for before, after in pairwise(sorted(keys, key=lambda key: key.frame)):
            seen = track[max(0, before.frame) : max(0, after.frame + 1)]
            assert list(seen) == sorted(seen, reverse=before.value > after.value)
            assert all(min(before.value, after.value) <= place <= max(before.value, after.value) for place in seen)

    @given(VALUES, VALUES, st.integers(1, LENGTH - 1))
    def test_it_starts_as_slowly_as_it_arrives(self, start, end, frames):
        track = positions(keys_at((0, start), (frames, end)), frames + 1)["pan"]

        assert all(one + other == start + end for one, other in zip(track, reversed(track), strict=True))

    @given(VALUES, FRAMES)
    def test_equal_keys_are_a_hold(self, value, frames):
        track = positions(keys_at(*((frame, value) for frame in frames)), LENGTH)["pan"]

        assert set(track[max(0, min(frames)) :]) <= {value}

    @given(tracks(), st.integers(0, LENGTH))
    def test_a_shorter_shot_has_the_same_positions(self, keys, length):
        assert positions(keys, length)["pan"] == positions(keys, LENGTH)["pan"][:length]
