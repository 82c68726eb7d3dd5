"""Drafts kept whole, one after the other."""

import pytest

from tests.book.makers import LINES, a_draft, a_script
from trackread.book.drafts import (
    add_draft,
    current_script,
    draft_number,
    draft_script,
    drafts,
    line_texts,
    lines_by_id,
)
from trackread.errors import BookError, ClashError

SECOND = a_script((LINES[2], ("BRACK", "Hold on!")), ids=(3, 7), issued=9, title="The Late Tram, 2")


def test_a_new_book_has_no_draft(book):
    assert (draft_number(book), current_script(book), drafts(book), lines_by_id(book)) == (0, None, (), {})


def test_a_draft_comes_back_as_it_was(book):
    assert add_draft(book, a_script(), "pink", "ANN", after=0) == 1
    assert add_draft(book, SECOND, "blue", "BEN", after=1) == 2

    assert draft_script(book, 1) == a_script()
    assert draft_script(book, 2) == current_script(book) == SECOND


def test_drafts_are_told_without_their_lines(book):
    a_draft(book)
    a_draft(book, a_script((), issued=4), author="BEN")

    first, second = drafts(book)
    assert (first.number, first.name, first.title, first.author, first.count) == (
        1,
        "pink pages",
        "The Late Tram",
        "ANN",
        4,
    )
    assert (second.author, second.count, second.digest) == ("BEN", 0, a_script(()).digest)


def test_the_current_draft_again_adds_nothing(book):
    a_draft(book)

    assert add_draft(book, a_script(), "again", "BEN", after=0) == 1
    assert len(drafts(book)) == 1


def test_an_older_draft_may_come_again(book):
    a_draft(book)
    a_draft(book, SECOND)

    assert a_draft(book, a_script(issued=9)) == 3


def test_a_draft_compared_with_an_older_one_clashes(book):
    a_draft(book)
    a_draft(book, SECOND, author="BEN")

    with pytest.raises(
        ClashError, match=r"draft 2 \(pink pages\) by BEN at .*: compare with that, and add yours again"
    ):
        add_draft(book, a_script((LINES[0],), issued=9), "green", "CAT", after=1)

    assert draft_number(book) == 2


def test_a_draft_compared_with_none_that_is_there_clashes(book):
    with pytest.raises(ClashError, match="there is no draft 3 to compare with"):
        add_draft(book, a_script(), "pink", "ANN", after=3)


def test_ids_that_were_given_stay_given(book):
    a_draft(book, SECOND)

    with pytest.raises(ValueError, match="9 ids were given, not 4"):
        a_draft(book, a_script())


def test_a_missing_draft_is_told(book):
    with pytest.raises(BookError, match="there is no draft 1: none has been added yet"):
        draft_script(book, 1)

    a_draft(book)
    with pytest.raises(BookError, match="there is no draft 5: they run from 1 to 1"):
        draft_script(book, 5)


def test_a_lines_words_are_told_over_all_drafts(book):
    a_draft(book)
    a_draft(book, SECOND)

    assert [(draft, line.number, line.text) for draft, line in line_texts(book, "L0003")] == [
        (1, 3, LINES[2][1]),
        (2, 1, LINES[2][1]),
    ]
    with pytest.raises(BookError, match="there is no line L0099: no draft of the script has had it"):
        line_texts(book, "L0099")


def test_every_line_ever_is_known_as_it_was_last(book):
    a_draft(book)
    a_draft(book, SECOND)

    known = lines_by_id(book)

    assert {id: (one.draft, one.current) for id, one in known.items()} == {
        "L0001": (1, False),
        "L0002": (1, False),
        "L0004": (1, False),
        "L0003": (2, True),
        "L0007": (2, True),
    }
    assert known["L0007"].line == SECOND.lines[1]
    assert known["L0002"].line == a_script().lines[1]
