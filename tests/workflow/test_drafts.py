"""Drafts that two people add at once."""

import pytest

from tests.book.makers import a_production
from tests.cli.tram import SCRIPT, script_of
from trackread.book.book import Book
from trackread.book.drafts import draft_number
from trackread.errors import ClashError
from trackread.workflow.drafts import add, compared


def test_a_draft_that_was_compared_with_an_older_one_is_not_added(tmp_path):
    mine, theirs = tmp_path / "mine.csv", tmp_path / "theirs.csv"
    mine.write_text(SCRIPT + "8,TUM,Wait!\n", encoding="utf-8")
    theirs.write_text(SCRIPT + "8,TUM,Hold it!\n", encoding="utf-8")
    with Book.create(tmp_path / "tram", a_production()) as book:
        script_of(book, tmp_path, SCRIPT)
        looked = compared(book, mine)
        add(book, compared(book, theirs), "BEA")
        with pytest.raises(ClashError, match=r"draft 2 \(theirs.csv\) by BEA"):
            add(book, looked, "ANN")

        assert draft_number(book) == 2
