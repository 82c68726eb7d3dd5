"""Spans where they play: what of them is seen through a window, and which of several stand."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Phrase
from trackread.core.timebase import Frame, frames_covering, parse_rate
from trackread.workflow.sheet_said import from_frame, in_turn, said_of_take, seen_through


def a_cell(first, stop, text="Mind", **changes):
    return Cell(Frame(first), Frame(stop), text, **changes)


spans = st.tuples(st.integers(-5, 30), st.integers(1, 12))
cells = st.lists(spans, max_size=8).map(
    lambda pairs: [a_cell(first, first + length, str(number)) for number, (first, length) in enumerate(pairs)]
)
windows = st.tuples(st.integers(-5, 30), st.integers(1, 20)).map(lambda pair: range(pair[0], sum(pair)))


def held_by(some):
    """The text on each frame that any of the cells holds."""
    return {frame: cell.text for cell in some for frame in range(cell.first, cell.stop)}


@pytest.mark.parametrize("rate", ["23.976", "24", "25", "29.97df", "30"])
def test_a_take_alone_is_heard_on_all_its_frames_from_the_first(rate):
    reading = a_reading()
    said = said_of_take(reading, parse_rate(rate))

    assert said.heard == range(frames_covering(reading.sound.length, reading.sound.sample_rate, parse_rate(rate)))
    assert said.clock.frame(0) == 0


@given(cells, windows)
def test_through_a_window_is_seen_what_lies_in_it_and_told_what_lies_on_either_side(some, window):
    inside = [cell for cell in some if set(range(cell.first, cell.stop)) & set(window)]
    seen = seen_through(some, window)

    assert [cell.text for cell in seen] == [cell.text for cell in inside]
    for cell, whole in zip(seen, inside, strict=True):
        assert set(range(cell.first, cell.stop)) == set(range(whole.first, whole.stop)) & set(window)
        assert (cell.before, cell.beyond) == (whole.first < window.start, whole.stop > window.stop)


@given(cells, windows, windows)
def test_a_window_in_a_window_shows_what_both_show(some, window, other):
    both = range(max(window.start, other.start), min(window.stop, other.stop))

    assert seen_through(seen_through(some, window), other) == (seen_through(some, both) if both else [])


def test_what_was_cropped_before_stays_cropped():
    (seen,) = seen_through([a_cell(3, 6, before=True, beyond=True)], range(10))

    assert seen == a_cell(3, 6, before=True, beyond=True)


def test_a_beat_seen_without_its_start_says_so_and_a_phrase_without_its_end_has_no_ending():
    beat = Beat(Frame(2), Frame(6), 2, Tone.FALL, main=True)
    phrase = Phrase(Frame(2), Frame(6), Tone.FALL, "quick")

    assert seen_through([beat], range(4, 9)) == [replace(beat, first=4, before=True)]
    assert seen_through([phrase], range(5)) == [replace(phrase, stop=5, ending=None)]
    assert seen_through([phrase], range(4, 9)) == [replace(phrase, first=4)]


@given(cells)
def test_no_two_stand_on_a_frame_and_none_is_left_empty(some):
    found = in_turn(some)
    frames = [frame for cell in found for frame in range(cell.first, cell.stop)]

    assert frames == sorted(set(frames))
    assert set(frames) == set(held_by(some))


@given(cells)
def test_on_each_frame_stands_what_began_last_of_two_on_one_frame_the_last(some):
    for frame, text in held_by(in_turn(some)).items():
        on = [cell for cell in some if cell.first <= frame < cell.stop]

        assert text == max(on, key=lambda cell: (cell.first, some.index(cell))).text


@given(cells)
def test_what_is_covered_ends_beyond_and_goes_on_without_a_start(some):
    firsts = {cell.text: cell.first for cell in some}
    stops = {cell.text: cell.stop for cell in some}

    for cell in in_turn(some):
        assert cell.before == (cell.first != firsts[cell.text])
        assert cell.beyond == (cell.stop != stops[cell.text])


def test_frames_are_counted_from_another_one_on():
    assert from_frame([a_cell(12, 15, beyond=True)], 10) == (a_cell(2, 5, beyond=True),)
