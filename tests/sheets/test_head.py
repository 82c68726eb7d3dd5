"""The head of a page: what it says, and how it warns."""

from dataclasses import replace

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.voices import HEADING, two_voices
from trackread.core.sheet import Heading
from trackread.core.timebase import Frame
from trackread.errors import SheetError
from trackread.sheets.marks import WHITE, Box, Face, SquareCode


def test_every_page_says_which_sheet_and_which_page_it_is():
    for number, page in enumerate(read.example("two"), 1):
        said = read.whole_text(page)

        for part in ("Scene 12", "Shot 045", "THE LATE TRAM", "BRACK, MISS PELL", "TUM listens", "take 12-31/4"):
            assert part in said
        for part in ("84 frames, 3 s 12 fr at 24 fps", "Unit 7", "issue 3", "25 Nov 2026", "K7QM-3"):
            assert part in said
        assert f"page {number} of 2" in said
        assert [mark.text for mark in page.marks if isinstance(mark, SquareCode)] == ["K7QM-3"]


def test_an_empty_heading_takes_no_room_and_no_code():
    page = read.pages_of(two_voices("29.97df", heading=Heading(), length=Frame(90), voices=()))[0]

    assert "Exposure sheet" in read.whole_text(page)
    assert "90 frames, 3 s at 29.97 fps drop-frame" in read.whole_text(page)
    assert not [mark for mark in page.marks if isinstance(mark, SquareCode)]


def test_a_sheet_of_a_take_is_headed_by_the_take():
    heading = Heading(take="12-31/4", listeners=("TUM", "BRACK"))
    said = read.whole_text(read.pages_of(two_voices(heading=heading))[0])

    assert "Take 12-31/4" in said
    assert "take 12-31/4" not in said
    assert "TUM, BRACK listen" in said


def test_a_long_heading_is_wrapped_and_keeps_all_its_words():
    heading = replace(
        HEADING, production="THE LATE TRAM AND THE VERY LONG NIGHT OF ITS ONLY PASSENGER", shot="045 to 047"
    )
    page = read.pages_of(two_voices(heading=replace(heading, date="the twenty-fifth of November, late " * 3)))[0]

    assert "VERY LONG NIGHT OF ITS ONLY PASSENGER" in read.whole_text(page)
    assert all(read.extent(text).right <= page.width - 12 for text in read.texts(page))


def test_a_warning_is_white_on_black_at_the_top_of_every_page():
    for page in read.example("two-letter-warned"):
        (warning,) = (text for text in read.texts(page) if text.tone == WHITE)
        (bar,) = (mark for mark in page.marks if isinstance(mark, Box) and mark.width > 500 and mark.tone == 0)
        extent = read.extent(warning)

        assert warning.text.startswith("STAND-IN VOICE")
        assert warning.face is Face.BOLD
        assert warning.size >= 13
        assert bar.x < extent.left
        assert bar.y < extent.top
        assert bar.y + bar.height > extent.bottom
        assert all(read.extent(text).top > extent.bottom for text in read.texts(page) if text is not warning)


def test_a_head_that_leaves_no_room_for_rows_is_refused():
    heading = replace(HEADING, warning="STAND-IN VOICE: not to be shot from. " * 9)

    with pytest.raises(SheetError, match="no room for 48 rows on Letter: shorten its warning"):
        read.pages_of(two_voices(heading=heading), "Letter")
