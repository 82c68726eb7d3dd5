"""Level and pitch as a sheet draws them."""

from dataclasses import replace

import pytest
from hypothesis import given

from tests.makers import a_reading, readings
from trackread.core.reading import Track
from trackread.core.sheet import POINTS
from trackread.core.timebase import parse_rate
from trackread.workflow.sheet_said import said_of_take
from trackread.workflow.sheet_sound import level_points, pitch_points, value_at

FILM = parse_rate("24")
FRAMES = range(30)


def said_of_30(reading):
    """The reading as if all of the frames were heard."""
    return replace(said_of_take(reading, FILM), heard=FRAMES)


def levels(*values, hop=1000):
    """The level of a take at 24 kHz, where a frame of film has 1000 samples."""
    return level_points(said_of_30(replace(a_reading(), level=Track(hop, values))), FRAMES)


def pitches(*values, hop=1000):
    return pitch_points(said_of_30(replace(a_reading(), pitch=Track(hop, values))), FRAMES)


@given(readings())
def test_there_are_points_for_every_frame_and_all_are_drawable(reading):
    level, pitch = (each(said_of_take(reading, FILM), FRAMES) for each in (level_points, pitch_points))

    assert len(level) == len(pitch) == POINTS * len(FRAMES)
    assert all(0 <= value <= 1 for value in level)
    assert all(value is None or 0 <= value <= 1 for value in pitch)


def test_the_loudest_is_1_and_40_db_below_it_is_0_however_loud_the_take():
    shout, whisper = levels(-3.0, -23.0, -43.0), levels(-40.0, -60.0, -80.0)

    assert shout == pytest.approx(whisper)
    assert max(shout) == pytest.approx(1.0, abs=0.05)
    assert shout[POINTS] == pytest.approx(0.5, abs=0.05)
    assert shout[2 * POINTS] == pytest.approx(0.0, abs=0.01)


def test_what_lies_after_the_sound_is_silent():
    assert set(levels(-3.0, -3.0)[2 * POINTS + 1 :]) == {0.0}
    assert set(pitches(100.0, 200.0)[2 * POINTS + 1 :]) == {None}


def test_pitch_rises_by_octaves_from_the_lowest_to_the_highest_of_the_take():
    heard = pitches(*[100.0] * 10, *[200.0] * 10, *[400.0] * 10)

    assert (heard[4 * POINTS], heard[14 * POINTS], heard[24 * POINTS]) == pytest.approx((0.0, 0.5, 1.0))


def test_a_slip_of_the_octave_does_not_flatten_the_melody():
    heard = pitches(*[100.0] * 50, *[200.0] * 49, 1600.0, hop=300)

    assert (heard[2 * POINTS], heard[17 * POINTS]) == pytest.approx((0.0, 1.0))


def test_a_steady_voice_runs_down_the_middle():
    heard = pitches(*[150.0, 150.5] * 15)

    assert all(0.45 < value < 0.55 for value in heard if value is not None)


def test_an_unvoiced_take_has_no_pitch():
    assert set(pitches(*[None] * 30)) == {None}
    assert set(pitches()) == {None}


def test_a_value_between_two_lies_between_them_and_beside_a_gap_is_the_nearer():
    track = Track(100, (10.0, 20.0, None))

    assert [value_at(track, sample) for sample in (0, 50, 99, 100)] == pytest.approx([10.0, 15.0, 19.9, 20.0])
    assert [value_at(track, sample) for sample in (149, 150, 500)] == [20.0, None, None]
