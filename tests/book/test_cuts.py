"""Cuts, what is told of shots, and issued sheets, on both databases."""

from dataclasses import replace

import pytest

from trackread.book.backup import backup
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.cuts import NewCut, add_cut, cut_body, cut_number, cuts
from trackread.book.issues import NewIssue, add_issues, issue_with_code, issues, pdf_of, snapshot_of
from trackread.book.restoring import restore
from trackread.book.shot_notes import board, keep_board, shot_notes, tell_of_shot
from trackread.errors import BookError, ClashError

FIRST = NewCut("THE LATE TRAM", ["tram.edl"], "tram.edl: 1 shot", {"title": "first"})
SHEET = NewIssue(
    "SH010", 1, "TR-0000-0001", "7", "first", "2026-11-26", {"cut": "a"}, {"sheet": {"length": 3}}, b"%PDF one"
)


def test_cuts_count_from_one_and_the_last_is_the_current_one(book):
    assert cut_number(book) == 0
    assert add_cut(book, FIRST, "ANN", after=0) == 1
    assert add_cut(book, replace(FIRST, body={"title": "second"}), "BEN", after=1) == 2

    assert (cut_number(book), cut_body(book, 1), cut_body(book, 2)) == (2, {"title": "first"}, {"title": "second"})
    assert [(one.number, one.author, one.lists) for one in cuts(book)] == [
        (1, "ANN", ("tram.edl",)),
        (2, "BEN", ("tram.edl",)),
    ]


def test_the_current_cut_again_is_no_new_one(book):
    add_cut(book, FIRST, "ANN", after=0)

    assert add_cut(book, FIRST, "BEN", after=0) == 1
    assert len(cuts(book)) == 1


def test_a_cut_made_from_an_older_one_is_refused(book):
    add_cut(book, FIRST, "ANN", after=0)

    with pytest.raises(
        ClashError, match=r"the cut has changed since it was looked at: cut 1 \(tram.edl: 1 shot\) by ANN"
    ):
        add_cut(book, replace(FIRST, body={"title": "mine"}), "BEN", after=0)


@pytest.mark.parametrize(("number", "told"), [(1, "none has been added yet"), (7, "none has been added yet")])
def test_a_cut_that_is_not_there_is_told(book, number, told):
    with pytest.raises(BookError, match=f"there is no cut {number}: {told}"):
        cut_body(book, number)
    add_cut(book, FIRST, "ANN", after=0)
    with pytest.raises(BookError, match="there is no cut 9: they run from 1 to 1"):
        cut_body(book, 9)


def test_the_newest_note_of_a_kind_counts(book):
    tell_of_shot(book, "SH010", {"about": {"text": "a"}, "scene": {"scene": "7"}}, "ANN")
    tell_of_shot(book, "SH020", {"about": {"text": "b"}}, "ANN")
    tell_of_shot(book, "SH010", {"about": {"text": "c"}}, "BEN")
    found = shot_notes(book)

    assert {kind: (note.body, note.author) for kind, note in found["SH010"].items()} == {
        "about": ({"text": "c"}, "BEN"),
        "scene": ({"scene": "7"}, "ANN"),
    }
    assert shot_notes(book, ["SH020"]).keys() == {"SH020"}


def test_a_board_is_kept_once_under_its_digest(book):
    digest = keep_board(book, "a.png", b"picture")

    assert keep_board(book, "b.png", b"picture") == digest
    assert board(book, digest) == b"picture"
    with pytest.raises(BookError, match="is not in the book"):
        board(book, "0" * 64)


def test_issues_of_a_shot_count_from_one_and_the_last_is_current(book):
    add_issues(book, [SHEET, replace(SHEET, shot="SH020", code="TR-0000-0002")], "ANN")
    add_issues(book, [replace(SHEET, number=2, code="TR-0000-0003", pdf=b"%PDF two", reason="trimmed")], "BEN")

    assert [(one.shot, one.number, one.current) for one in issues(book)] == [
        ("SH010", 1, False),
        ("SH020", 1, True),
        ("SH010", 2, True),
    ]
    assert [one.number for one in issues(book, shot="SH010", current=True)] == [2]
    first = issue_with_code(book, "TR-0000-0001")
    assert (first.last, first.rests_on, snapshot_of(book, first)) == (2, {"cut": "a"}, {"sheet": {"length": 3}})
    assert pdf_of(book, first) == b"%PDF one"
    assert issue_with_code(book, "TR-9999-9999") is None


def test_an_issue_that_came_in_between_is_told_and_nothing_is_issued(book):
    add_issues(book, [SHEET], "ANN")
    other = replace(SHEET, shot="SH020", code="TR-0000-0002")

    with pytest.raises(ClashError, match="SH010 has been issued since it was looked at: its issue 1 is out"):
        add_issues(book, [other, replace(SHEET, code="TR-0000-0004")], "BEN")
    assert [one.shot for one in issues(book)] == ["SH010"]


def test_what_is_spoilt_is_told_by_the_check(book):
    add_cut(book, FIRST, "ANN", after=0)
    add_issues(book, [SHEET], "ANN")
    keep_board(book, "a.png", b"picture")
    assert check(book) == ()
    with book.writing() as transaction:
        for words in ("cuts SET number = 3", "issues SET number = 2", "boards SET name = 'b.png', digest = 'ab'"):
            transaction.connection().exec_driver_sql(f"UPDATE {words}")

    assert check(book) == (
        "the cuts of the production do not count 1, 2, 3 and so on, but 3",
        "the issues of SH010 do not count 1, 2, 3 and so on, but 2",
        "the board b.png is missing or not what it was",
    )


def test_a_backup_has_the_issued_sheets_byte_for_byte(book, tmp_path):
    add_issues(book, [SHEET], "ANN")
    keep_board(book, "a.png", b"picture")
    backup(book, tmp_path / "tram.zip")
    restore(tmp_path / "tram.zip", tmp_path / "again")
    with Book.open(tmp_path / "again") as again:
        (issue,) = issues(again)

        assert pdf_of(again, issue) == b"%PDF one"
        assert check(again) == ()
