"""Columns: texts stay in them and apart, and a crowd finds room."""

from itertools import combinations

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from tests.sheets.voices import a_speaker, many_voices, two_voices
from trackread.core.timebase import Frame
from trackread.sheets.paper import TYPE_SIZES

EVERY = pytest.mark.parametrize("name", EXAMPLES)


@EVERY
def test_what_is_read_while_animating_has_the_type_size_of_the_paper(name: str):
    _, paper, rows, _ = EXAMPLES[name]
    for page in read.example(name):
        looked_up = {text for head in ("foot", "time", "positions") for text in read.in_column(page, head)}
        sizes = {text.size for text in read.in_rows(page) if text not in looked_up}

        assert sizes == {TYPE_SIZES[paper, rows]}


@EVERY
def test_no_text_crosses_into_a_neighbouring_column(name: str):
    for page in read.example(name):
        edges = [rule.x1 for rule in read.uprights(page)]
        crossing = [
            (text.text, edge)
            for text in read.in_rows(page)
            for edge in edges
            if read.extent(text).left < edge - 0.2 and read.extent(text).right > edge + 0.2
        ]

        assert crossing == []


@EVERY
def test_no_two_texts_of_a_page_overlap(name: str):
    for page in read.pages_of(*EXAMPLES[name]):
        found = [(text, read.extent(text)) for text in read.texts(page)]
        met = [(one.text, two.text) for (one, at), (two, there) in combinations(found, 2) if at.meets(there)]

        assert len(found) > 7
        assert met == []


@EVERY
def test_every_text_lies_on_the_part_of_the_paper_that_printers_reach(name: str):
    """4.2 mm is common practice, no source."""
    edge = 4.2 / 25.4 * 72
    for page in read.pages_of(*EXAMPLES[name]):
        for text in read.texts(page):
            extent = read.extent(text)

            assert extent.left >= edge
            assert extent.top >= edge
            assert extent.right <= page.width - edge + 0.1
            assert extent.bottom <= page.height - edge


@pytest.mark.parametrize("name", [name for name in EXAMPLES if not name.startswith("worn")])
def test_the_mouth_column_is_left_empty_where_no_mouths_are_planned(name: str):
    for page in read.example(name):
        assert read.in_column(page, "mouth") == []


def test_silent_voices_fold_to_their_mouths_when_room_is_short():
    page = read.example("two-of-six")[0]
    heads = [text.text for text in read.texts(page)]

    assert heads.count("sound") == 2
    assert heads.count("mouth") == 6


def test_six_voices_at_once_stand_on_one_page_with_their_words_running_down():
    pages = read.example("six")
    turned = [text.text for text in read.texts(pages[0]) if text.turned]

    assert len(pages) == 2
    assert turned.count("please!") == 3
    assert turned.count("never") == 3


def test_more_voices_than_one_page_holds_are_shared_out_over_pages_of_the_same_frames():
    names = tuple(f"PUPPET {number}" for number in range(14))
    pages = [page for page in read.pages_of(many_voices(names)) if read.has_rows(page)]
    firsts = [next(iter(read.numbers(page))) for page in pages]
    named = [text.text for page in pages for text in read.above_rows(page) if text.text in names]

    assert firsts.count("1") > 1
    assert sorted(set(named)) == sorted(names)


def test_voices_that_are_all_silent_are_shared_out_too():
    voices = tuple(a_speaker(character=f"PUPPET {number}") for number in range(30))
    pages = read.pages_of(two_voices(voices=voices, length=Frame(10), action=(), camera=(), changed=()))
    mouths = [text for page in pages for text in read.texts(page) if text.text == "mouth"]

    assert len(mouths) == 30


def test_long_names_above_narrow_columns_take_two_lines():
    heads = [text.text for text in read.texts(read.example("two-of-six")[0])]

    assert "STATION-" in heads
    assert "MASTER" in heads


def test_columns_stay_where_they_are_from_page_to_page():
    first, second = read.example("two")

    assert [rule.x1 for rule in read.uprights(first)] == [rule.x1 for rule in read.uprights(second)]
