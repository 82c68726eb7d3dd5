"""Camera positions, one on every frame: in a column of their own, alike, on their rows, and with their caution."""

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from tests.sheets.reading_signs import first_of
from tests.sheets.shots import crowd_shot, moving_camera
from tests.sheets.voices import HEADING, a_cell, two_voices
from trackread.errors import SheetError
from trackread.sheets.positions import CAUTION

MOVED = ("shot-six", "shot-moving", "shot-moving-letter")


@pytest.mark.parametrize("name", MOVED)
def test_every_position_stands_whole_in_the_row_of_its_frame(name: str):
    sheet = EXAMPLES[name][0]
    expected = {cell.first: cell.text for cell in sheet.positions}
    found = {}
    for page in read.example(name):
        rows = {baseline: int(number) - 1 for number, baseline in read.numbers(page).items()}
        found |= {rows[text.baseline]: text.text for text in read.in_column(page, "positions")}

    assert len(expected) > 90
    assert found == expected


@pytest.mark.parametrize("name", MOVED)
def test_positions_are_never_listed_in_full(name: str):
    rest = [text.text for page in read.pages_of(*EXAMPLES[name]) for text in read.texts(page) if "osition" in text.text]

    assert set(rest) == {CAUTION, "positions"}


@pytest.mark.parametrize("name", MOVED)
def test_positions_of_a_page_are_set_alike_and_not_below_the_size_of_counts(name: str):
    for page in read.example(name):
        found = read.in_column(page, "positions")

        assert len({(text.size, text.stretch, text.face, text.x) for text in found}) <= 1
        assert all(text.size >= 0.66 * 13 for text in found)


def test_positions_have_the_full_size_where_there_is_room():
    moves = tuple(a_cell(frame, frame + 1, f"pan {frame}.50") for frame in range(48))
    page = read.pages_of(two_voices(voices=two_voices().voices[:1], positions=moves))[0]

    assert {text.size for text in read.in_column(page, "positions")} == {13.0}


@pytest.mark.parametrize("name", MOVED)
def test_the_caution_stands_in_the_foot_of_each_page_with_positions_and_of_no_other(name: str):
    pages = read.example(name)
    for page in pages:
        cautioned = CAUTION in [text.text for text in read.below_rows(page)]

        assert cautioned == bool(read.in_column(page, "positions"))
    assert [first_of(page) for page in pages if CAUTION in read.whole_text(page)]


def test_texts_of_the_camera_stand_beside_positions():
    sheet = crowd_shot()
    said = read.whole_text(read.pages_of(sheet)[5])

    assert "holds" in said
    assert "on" in said


def test_a_position_that_is_held_has_a_line_down_its_frames_and_goes_on_over_pages():
    sheet = two_voices(voices=(), positions=(a_cell(40, 60, "pan 3.00"), a_cell(60, 61, "pan 4.00")))
    first, second = read.pages_of(sheet)

    assert [text.text for text in read.in_column(first, "positions")] == ["pan 3.00"]
    assert [text.text for text in read.in_column(second, "positions")] == ["…pan 3.00", "pan 4.00"]


def test_more_axes_than_a_paper_has_room_for_are_refused():
    axes = ", ".join(f"axis number {letter} 1000.00" for letter in "abcdefgh")
    sheet = moving_camera(heading=HEADING, positions=(a_cell(50, 51, axes),))

    with pytest.raises(SheetError, match="positions from frame 49 on have no room on A4: give fewer axes, or a wider"):
        read.pages_of(sheet)
