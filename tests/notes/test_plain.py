"""Notes and keys in JSON, and moved with their shot."""

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.notes.makers import a_key
from trackread.core.sheet import Cell
from trackread.errors import NotesError
from trackread.notes.action import Note, action_cells
from trackread.notes.camera import positions
from trackread.notes.plain import keys_from_plain, keys_to_plain, notes_from_plain, notes_to_plain
from trackread.notes.shifting import shifted

FRAMES = st.integers(-1000, 1000)
NOTES = st.lists(st.builds(Note, FRAMES, st.text(min_size=1).filter(str.strip)))
VALUES = st.integers(-(10**12), 10**12).map(lambda count: Fraction(count, 10**6))
KEYS = st.lists(st.builds(a_key, FRAMES, VALUES, st.sampled_from(["pan", "tilt"])))


@given(NOTES)
def test_notes_come_back_from_json_as_they_went(notes):
    assert list(notes_from_plain(json.loads(json.dumps(notes_to_plain(notes))))) == notes


@given(KEYS)
def test_keys_come_back_from_json_as_they_went(keys):
    assert list(keys_from_plain(json.loads(json.dumps(keys_to_plain(keys))))) == keys


def test_a_value_is_written_as_a_decimal():
    assert keys_to_plain([a_key(12, "12.5")]) == [{"frame": 12, "axis": "pan", "value": "12.5"}]


@pytest.mark.parametrize(
    "plain",
    [{}, {"frame": 1}, {"frame": "1", "text": "Bell."}, {"frame": 1.5, "text": "Bell."}, {"frame": 1, "text": ""}],
)
def test_what_is_no_note_is_refused(plain):
    with pytest.raises(NotesError, match=r"not a note: .*: it has a whole number as frame and a text"):
        notes_from_plain([plain])


@pytest.mark.parametrize(
    "change", [{"frame": None}, {"axis": " "}, {"axis": 3}, {"value": 12.5}, {"value": "1/0"}, {"value": "12,5"}]
)
def test_what_is_no_key_is_refused(change):
    with pytest.raises(NotesError, match=r"not a key: .* an axis and a decimal number as text"):
        keys_from_plain([{"frame": 12, "axis": "pan", "value": "12.5"} | change])


@given(NOTES, FRAMES)
def test_what_is_shifted_and_shifted_back_is_as_it_was(notes, by):
    assert list(shifted(shifted(notes, by), -by)) == notes


def test_a_note_that_is_trimmed_off_is_kept_but_not_seen():
    notes = shifted([Note(3, "Rain."), Note(15, "Bell.")], -12)

    assert notes == (Note(-9, "Rain."), Note(3, "Bell."))
    assert action_cells(notes, 24) == (Cell(3, 4, "Bell."),)


@given(VALUES, VALUES, st.integers(0, 24))
def test_a_shot_trimmed_at_its_head_sees_what_is_left_of_its_move(start, end, trimmed):
    keys = [a_key(0, start), a_key(20, end)]

    assert positions(shifted(keys, -trimmed), 24 - trimmed)["pan"] == positions(keys, 24)["pan"][trimmed:]
