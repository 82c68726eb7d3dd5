"""Sheets of shots: what began before or goes on after, who is heard from where, and several who talk at once."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from tests.sheets.reading_signs import flags, rows_of, signs
from tests.sheets.shots import ABOUT, LONG_ABOUT, SHOTS, crowd_shot
from tests.sheets.voices import HEADING, a_cell, a_speaker, two_voices
from trackread.core.sheet import Beat
from trackread.core.timebase import Frame
from trackread.errors import SheetError
from trackread.sheets.cells import HOLD_WEIGHT
from trackread.sheets.fitting import NARROWEST
from trackread.sheets.layout import changed_pages
from trackread.sheets.marks import Box, Line, Page, Text
from trackread.sheets.paper import paper_for
from trackread.sheets.pdf import draw_sheet, width_of


def holds(page: Page, character: str) -> list[Line]:
    """The holds of a voice's words."""
    lane = read.lanes(page, character)[1]
    found = [mark for mark in page.marks if isinstance(mark, Line) and mark.weight == HOLD_WEIGHT]
    return [line for line in found if lane.left < line.x1 < lane.right]


def test_what_began_before_the_shot_or_ends_after_it_says_so():
    page = read.example("shot-part")[0]
    said = {text.text for text in read.in_rows(page)}

    assert {"…Mind", "-eye", "the", "step!", "Never", "ever…", "v-", "…still pulls"} <= said


def test_a_hold_that_goes_on_after_the_shot_has_no_foot():
    page = read.example("shot-part")[0]
    last = max(rows_of(page))
    feet = [line for line in holds(page, "MISS PELL") if line.y1 == line.y2]

    assert [line.y1 < rows_of(page)[30][0] for line in feet] == [True]
    assert max(line.y2 for line in holds(page, "MISS PELL")) > rows_of(page)[last][0]


def test_a_beat_that_began_before_the_shot_is_none_to_time_a_gesture_off():
    page = read.example("shot-part")[0]
    stress, word, _ = read.lanes(page, "BRACK")
    lines, boxes = ([mark for mark in page.marks if isinstance(mark, kind)] for kind in (Line, Box))
    rules = {line.y1 for line in lines if (line.x1, line.x2) == (stress.left, word.right)}
    bars = sorted((box for box in boxes if stress.left < box.x < word.left), key=lambda bar: bar.y)
    top = rows_of(page)[0][0]

    assert flags(page, stress) == []
    assert signs(page, stress) == []
    assert top not in rules
    assert rows_of(page)[4][0] in rules
    # Its bar comes from above the first row; one that begins there has a gap.
    assert bars[0].y < top - 2
    assert all(bar.y > top for bar in bars[1:])


def test_a_word_whose_strong_syllable_began_before_the_shot_is_not_bold():
    page = read.example("shot-part")[0]
    faces = {text.text: text.face.value for text in read.in_rows(page)}

    assert "bold" not in faces["…Mind"]
    assert "bold" in faces["step!"]


def test_a_pause_that_goes_on_over_the_ends_of_the_shot_has_no_rules_there():
    voice = a_speaker(pauses=(replace(a_cell(0, 40, "52"), before=True, beyond=True),))
    page = read.pages_of(two_voices(voices=(voice,), length=Frame(40), action=(), camera=(), changed=()))[0]

    assert "…52 fr…" in read.whole_text(page)
    assert not [line for line in holds(page, "BRACK") if line.y1 == line.y2]


def test_the_key_explains_marks_of_what_goes_on_where_there_are_some():
    feet = [" ".join(text.text for text in read.below_rows(page)) for page in read.example("shot-six")]
    said = ["before the shot, or ends after it" in foot for foot in feet]

    assert said == [False] * 12 + [True]


def test_a_text_is_printed_without_its_mark_rather_than_cut():
    voice = a_speaker(sounds=(replace(a_cell(0, 5, "eye"), before=True),))
    sounds = read.in_column(read.pages_of(two_voices(voices=(voice,) * 4, action=(), camera=()))[0], "sound")

    assert {text.text for text in sounds} == {"eye"}
    assert {text.whole for text in sounds} == {""}


def test_a_voice_that_is_not_seen_has_its_extension_behind_its_name():
    above = [text.text for text in read.above_rows(read.example("shot-part")[0])]

    assert "MISS PELL (O.S.)" in above
    assert "BRACK" in above


def test_what_happens_stands_in_the_head_of_every_page():
    pages = read.pages_of(*EXAMPLES["shot-six"])

    assert len(pages) > 10
    assert all(ABOUT in read.whole_text(page) for page in pages)


def test_a_long_text_of_what_happens_is_cut_after_two_lines_and_printed_in_full():
    pages = read.pages_of(*EXAMPLES["shot-moving"])
    lines = lines_of_about(pages[0])

    assert len(lines) == 2
    assert lines[-1].text.endswith("…")
    assert f"What happens: {LONG_ABOUT.strip()}" in read.whole_text(pages[-1])


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_what_happens_gives_way_where_rows_would_be_too_low(paper: str):
    """The longer a warning, the less is left, down to no line; what is cut is printed in full."""
    counts = []
    for pages in until_refused(paper):
        counts.append(len(lines_of_about(pages[0])))
        assert "What happens: " in " ".join(read.whole_text(page) for page in pages)

    assert counts[0] == 2
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] < 2
    assert len(counts) < 20


def until_refused(paper: str) -> Iterator[tuple[Page, ...]]:
    """The pages of a sheet under warnings of more and more lines, as long as its rows have room."""
    for lines in range(20):
        heading = replace(HEADING, about=LONG_ABOUT, warning="NOT TO BE SHOT FROM: ask the cutting room. " * lines)
        try:
            yield read.pages_of(two_voices(heading=heading), paper)
        except SheetError:
            return


def lines_of_about(page: Page) -> list[Text]:
    """The lines in the head that tell what happens."""
    return [text for text in read.above_rows(page) if len(text.text) > 40 and text.text[:40] in LONG_ABOUT]


def test_every_word_of_six_who_talk_at_once_is_on_the_sheet_or_in_full():
    sheet, pages = crowd_shot(), read.pages_of(*EXAMPLES["shot-six"])
    rest = " ".join(read.whole_text(page) for page in pages[12:])
    words = 0
    for voice in sheet.voices:
        standing = [words_of(page, voice.character) for page in pages[:13]]
        for cell in voice.words:
            number = cell.first // 48
            listed = f"Frame {cell.first + 1}, {voice.character}'s word: {cell.text}"

            assert cell.text in [*chain(*standing[number : number + 2])] or listed in rest, listed
            words += 1
    assert words > 250
    assert len(pages) == 13


def words_of(page: Page, character: str) -> list[str]:
    """The words of a voice that stand whole on a page, without marks of what goes on."""
    if not any(text.text.partition(" (")[0] == character for text in read.above_rows(page)):
        return []
    lane = read.lanes(page, character)[1]
    return [text.text.strip("…") for text in read.in_rows(page) if lane.left < text.x < lane.right and not text.whole]


@pytest.mark.parametrize("name", SHOTS)
def test_letters_in_rows_are_no_lower_than_the_floor_and_not_squeezed_beyond_reading(name: str):
    for page in read.example(name):
        looked_up = {text for head in ("foot", "time", "positions") for text in read.in_column(page, head)}
        texts = [text for text in read.in_rows(page) if text not in looked_up]

        assert min(text.size for text in texts) >= 13
        assert min(text.stretch for text in texts) >= NARROWEST


def test_a_word_cut_at_the_foot_of_a_page_is_not_listed_if_the_next_page_has_all_of_it():
    voices = (a_speaker(a_cell(44, 60, "uncharacteristically")),) * 6
    sheet = two_voices(voices=voices, action=(), camera=(), length=Frame(60), changed=())
    first, second = read.pages_of(sheet)

    assert "uncharacteri" not in read.whole_text(first)
    assert "…uncharacteristically" in read.whole_text(second)
    assert "In full" not in read.whole_text(second)


@given(st.integers(0, 47), st.integers(1, 60), st.text("abcdefgh", min_size=1, max_size=40))
def test_no_word_is_lost_where_a_page_ends(first: int, frames: int, word: str):
    voices = (a_speaker(a_cell(first, min(first + frames, 96), word)),) * 6
    pages = read.pages_of(two_voices(voices=voices, length=Frame(96), action=(), camera=(), changed=()))
    everything = "".join(text.text.replace("-", "") for page in pages for text in read.texts(page))

    assert word in everything


# Frames that changed, and the pages with them: 48 to a page.
@pytest.mark.parametrize(
    ("spans", "expected"),
    [(((0, 1),), (1,)), (((47, 48),), (1,)), (((47, 49), (143, 144)), (1, 2, 3)), (((48, 96),), (2,)), ((), ())],
)
def test_the_pages_of_changed_frames_are_those_with_their_rows(spans, expected):
    changed = tuple((Frame(first), Frame(stop)) for first, stop in spans)
    sheet = two_voices(voices=(), length=Frame(144), changed=changed)

    assert changed_pages(sheet, paper_for("A4", 48), measure=width_of) == expected


def test_with_changed_pages_go_those_that_have_their_texts_in_full():
    long = a_cell(10, 11, "looks for the ticket in every pocket of the coat " * 2)
    notes = (long, a_cell(11, 12, "sighs"))
    below = two_voices(voices=(), length=Frame(60), action=notes, camera=(), changed=((Frame(10), Frame(11)),))
    after = replace(below, length=Frame(96))
    elsewhere = replace(after, changed=((Frame(50), Frame(51)),))
    pages = [changed_pages(sheet, paper_for("A4", 48), measure=width_of) for sheet in (below, after, elsewhere)]

    assert pages == [(1, 2), (1, 3), (2,)]


def test_changed_frames_stand_on_every_side_that_shares_its_voices_out():
    voices = tuple(a_speaker(a_cell(0, 40, "Mind"), character=f"PUPPET {number}") for number in range(14))
    changed = ((Frame(3), Frame(4)),)
    sheet = two_voices(voices=voices, length=Frame(90), action=(), camera=(), changed=changed)
    sides = [page for page in read.pages_of(sheet) if read.has_rows(page) and "1" in read.numbers(page)]

    assert len(sides) > 1
    assert changed_pages(sheet, paper_for("A4", 48), measure=width_of) == tuple(range(1, len(sides) + 1))


@pytest.mark.parametrize("pages", [[], [4], [0, 1]])
def test_a_page_that_the_sheet_does_not_have_is_refused(pages: list[int]):
    with pytest.raises(SheetError, match=r"there is no.*: this sheet has pages 1 to 3"):
        draw_sheet(two_voices(voices=(), length=Frame(97)), paper_for("A4", 48), pages=pages)


def test_main_beats_of_the_shot_are_flags_all_the_same():
    beats = (Beat(Frame(0), Frame(5), 2, main=True, before=True), Beat(Frame(5), Frame(9), 2, main=True))
    page = read.pages_of(two_voices(voices=(a_speaker(beats=beats),)))[0]
    stress = read.lanes(page, "BRACK")[0]

    assert [round(min(y for _, y in flag.points)) for flag in flags(page, stress)] == [round(rows_of(page)[5][0])]
    assert "main" in [text.text for text in read.below_rows(page)]
