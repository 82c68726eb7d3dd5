"""Corrections in order, and two people who correct one take at once."""

import subprocess
import sys

import pytest

from tests.book.makers import a_session_with_takes
from trackread.book.corrections import append_correction, correction_counts, corrections
from trackread.book.takes import assign, take_named
from trackread.errors import BookError, ClashError

MOVED = {"kind": "move cut", "words": "the start of “tight” moved", "sample": 2**40}

# Waits for a line, so that both begin at once.
WRITER = """
import sys
from pathlib import Path
from trackread.book.book import Book
from trackread.book.corrections import append_correction
from trackread.errors import ClashError

with Book.open(Path(sys.argv[1])) as book:
    print("ready", flush=True)
    sys.stdin.readline()
    try:
        append_correction(book, "L0001-1", {"words": f"by {sys.argv[2]}"}, sys.argv[2], after=0)
        print("added")
    except ClashError as error:
        print(error)
"""


@pytest.fixture(autouse=True)
def session(tmp_path, book):
    a_session_with_takes(book, tmp_path)


def test_corrections_come_back_in_order(book):
    assert corrections(book, "L0001-1") == ()
    assert append_correction(book, "L0001-1", MOVED, "ANN", after=0) == 1
    assert append_correction(book, "S1-001", {"kind": "note"}, "BEN", after=1) == 2

    first, second = corrections(book, "L0001-1")
    assert (first.sequence, first.author, first.body, first.words) == (1, "ANN", MOVED, MOVED["words"])
    assert (second.sequence, second.author, second.words) == (2, "BEN", "a correction")
    assert corrections(book, "L0001-2") == ()


def test_the_corrections_of_all_takes_are_counted_at_once(book):
    assert correction_counts(book) == {}
    append_correction(book, "L0001-1", MOVED, "ANN", after=0)
    append_correction(book, "L0001-1", {"kind": "note"}, "BEN", after=1)

    place = int(take_named(book, "L0001-1").stretch_name.split("-")[1])
    assert correction_counts(book) == {(1, place): 2}


def test_a_correction_by_somebody_who_has_not_seen_the_last_is_refused(book):
    append_correction(book, "L0001-1", {"words": "seen"}, "ANN", after=0)
    append_correction(book, "L0001-1", MOVED, "ANN", after=1)

    with pytest.raises(
        ClashError, match=r"L0001-1 has been changed since .*: ANN at .*Z: the start of “tight” moved:"
    ) as caught:
        append_correction(book, "L0001-1", {}, "BEN", after=1)

    assert "seen" not in str(caught.value)
    assert len(corrections(book, "L0001-1")) == 2


def test_a_correction_after_one_that_is_not_there_is_refused(book):
    with pytest.raises(ClashError, match="has fewer corrections than were looked at"):
        append_correction(book, "L0001-1", {}, "BEN", after=1)


def test_corrections_stay_with_a_take_that_is_assigned_to_another_line(book):
    append_correction(book, "L0001-1", MOVED, "ANN", after=0)
    name = assign(book, "L0001-1", "L0003", "BEN").name

    assert [note.author for note in corrections(book, name)] == ["ANN"]


def test_a_correction_of_no_take_is_told(book):
    with pytest.raises(BookError, match="there is no take L0001-9"):
        append_correction(book, "L0001-9", {}, "ANN", after=0)


def test_of_two_at_once_one_is_added_and_the_other_told(book):
    writers = [
        subprocess.Popen(
            [sys.executable, "-W", "error", "-c", WRITER, str(book.folder), author],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for author in ("ANN", "BEN")
    ]
    for writer in writers:
        assert writer.stdout.readline() == "ready\n"
    for writer in writers:
        writer.stdin.write("go\n")
        writer.stdin.flush()
    told = [writer.communicate(timeout=30)[0].strip() for writer in writers]

    (added,) = corrections(book, "L0001-1")
    assert sorted(told)[1] == "added"
    assert f"{added.author} at {added.time}: by {added.author}" in sorted(told)[0]
