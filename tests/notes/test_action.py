"""What happens in a shot, as a table: frames have their numbers on the sheet, and are counted from 0."""

import pytest

from tests.notes.makers import problems_of
from trackread.core.sheet import Cell
from trackread.notes.action import Note, action_cells, read_action


@pytest.mark.parametrize("first_number", [0, 1, 1001])
def test_frames_are_numbered_as_on_the_sheet(first_number):
    text = f"frame,text\n{first_number},BRACK pulls the bell.\n{first_number + 12},The tram stops.\n"

    assert read_action(text, "notes.csv", first_number) == (
        Note(0, "BRACK pulls the bell."),
        Note(12, "The tram stops."),
    )


def test_notes_stand_in_order_of_frames_and_columns_in_any():
    notes = read_action("By;TEXT; Frame\nE.;TUM hides.;25\nE.;The tram\tstops.;3\n", "notes.csv", 1)

    assert notes == (Note(2, "The tram stops."), Note(24, "TUM hides."))


def test_texts_of_one_frame_are_joined_in_order_and_the_same_one_is_said_once():
    notes = read_action("frame,text\n3,Stops.\n1,Rain.\n3,Bell.\n3,Stops.\n", "notes.csv", 1)

    assert notes == (Note(0, "Rain."), Note(2, "Stops.; Bell."))


def test_a_table_without_rows_tells_that_nothing_happens():
    assert read_action("frame,text\n", "notes.csv", 1) == ()


def test_every_problem_is_told_at_once_in_order_of_lines():
    table = "frame,text\nten,Waits.\n0,Stops.\n-3,\n4,No, no.\n1.5,Bell.\n²,Bell.\n7,Rain.\n8, \n"

    assert problems_of(read_action, table) == [
        "notes.csv:2: frame is 'ten': write its number on the sheet, as 13",
        "notes.csv:3: frame is 0, and the first frame of the shot is 1",
        "notes.csv:4: frame is -3, and the first frame of the shot is 1",
        "notes.csv:4: text is empty: write what happens on this frame, or leave the row out",
        'notes.csv:5: this row has 3 cells, the first row has 2: put what has the separator in it in "quotes"',
        "notes.csv:6: frame is '1.5': write its number on the sheet, as 13",
        "notes.csv:7: frame is '²': write its number on the sheet, as 13",
        "notes.csv:9: text is empty: write what happens on this frame, or leave the row out",
    ]


@pytest.mark.parametrize("text", ["", "1,Waits.\n"])
def test_a_table_without_a_heading_is_told_what_it_must_be(text):
    rule = "name the columns frame, text in the first row"

    assert problems_of(read_action, text) == [
        f"notes.csv:1: there is no column frame: {rule}",
        f"notes.csv:1: there is no column text: {rule}",
    ]


def test_a_column_that_is_there_twice_is_told():
    assert problems_of(read_action, "frame,text,Text\n1,Waits.,Stops.\n") == [
        "notes.csv:1: there are two columns text: keep one"
    ]


def test_a_row_that_cannot_be_read_is_told_with_those_above_it():
    above, broken = problems_of(read_action, 'frame,text\nten,Waits.\n2,"Stops.\n')

    assert above.startswith("notes.csv:2: frame is 'ten'")
    assert broken.startswith("notes.csv:3: this row cannot be read (")


def test_of_a_heading_that_cannot_be_read_no_column_is_missing():
    (broken,) = problems_of(read_action, '"frame,text\n1,Waits.\n')

    assert broken.startswith("notes.csv:1: this row cannot be read (")


def test_a_note_says_something():
    with pytest.raises(ValueError, match="a note says something"):
        Note(3, " ")


def test_each_note_of_the_shot_is_a_cell_on_its_frame():
    notes = [Note(23, "Bell."), Note(-1, "Rain."), Note(24, "TUM hides."), Note(0, "Stops.")]

    assert action_cells(notes, 24) == (Cell(0, 1, "Stops."), Cell(23, 24, "Bell."))
