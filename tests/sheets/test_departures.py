"""How words are said, and that they are not the script's: what is marked beside them, and what is said of it."""

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.reading_signs import ACTED, beside, first_of, heights, rows_of, voices_on
from tests.sheets.voices import acted_brack
from trackread.sheets.departures import MANNER_DASH
from trackread.sheets.marks import Face, Line

EVERY = pytest.mark.parametrize("name", ACTED)


@EVERY
def test_words_that_are_not_the_scripts_have_a_wave_along_their_rows_and_missing_ones_a_caret_between_two(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            found = beside(page, voice.character)
            here = [cell for cell in (*voice.missing, *voice.departures) if cell.first in rows]

            assert len(found) == len(here)
            for path, cell in zip(found, here, strict=True):
                if cell in voice.missing:
                    assert len(path.points) == 3
                    assert path.points[1][1] == pytest.approx(rows[cell.first][0])
                    assert path.points[1][0] < path.points[0][0]
                else:
                    assert len(path.points) > 5
                    assert heights(path) == pytest.approx((rows[cell.first][0], rows[cell.stop - 1][1]))


@EVERY
def test_no_wave_or_caret_touches_a_letter(name):
    for page in read.example(name):
        placed = [read.extent(text) for text in read.in_rows(page)]
        for voice in voices_on(page, name):
            for path in beside(page, voice.character):
                across = [x for x, _ in path.points]
                place = read.Extent(min(across), heights(path)[0], max(across), heights(path)[1])

                assert not [extent for extent in placed if place.meets(extent)]


def test_what_the_script_has_is_said_in_bold_on_the_row_where_the_voice_leaves_it():
    for name, prefix in (("acted-one", ""), ("acted-two", "BRACK: ")):
        for page in read.example(name):
            rows = {number: first for first, number in enumerate(read.numbers(page).values(), first_of(page))}
            for cell in (*acted_brack().missing, *acted_brack().departures):
                if cell.first not in rows.values():
                    continue
                column = [text for heading in ("action", "action, notes") for text in read.in_column(page, heading)]
                lines = sorted(
                    (text for text in column if rows[text.baseline] >= cell.first), key=lambda text: text.baseline
                )
                said = " ".join(text.text for text in lines)

                assert said.startswith(prefix + cell.text)
                assert rows[lines[0].baseline] == cell.first
                assert lines[0].face in (Face.BOLD, Face.CONDENSED_BOLD)


@EVERY
def test_a_manner_is_a_broken_line_along_its_rows_and_named_once(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            right = read.lanes(page, voice.character)[2].right
            found = [
                mark
                for mark in page.marks
                if isinstance(mark, Line) and mark.dash == MANNER_DASH and right - 4 < mark.x1 == mark.x2 < right
            ]
            here = [cell for cell in voice.manners if cell.stop - 1 in rows]

            ends = [(rows[cell.first][0], rows[cell.stop - 1][1]) for cell in here]
            assert [(line.y1, line.y2) for line in found] == [pytest.approx(end, abs=1.1) for end in ends]
    alone = " ".join(read.whole_text(page).partition("Frames ")[0] for page in read.example("acted-one"))
    assert alone.count("whispered") == 1


def test_a_pace_is_named_where_its_phrase_begins():
    first, second = read.example("acted-one")
    column = {text.baseline: text.text for text in read.in_column(second, "action")}

    assert column[read.numbers(second)["53"]] == "quick"
    assert "quick" not in read.whole_text(first)
