"""Undoing where somebody else corrects in the middle of it."""

import pytest

from tests.cli.tram import a_production_with_takes
from trackread.book.book import Book
from trackread.book.corrections import append_correction
from trackread.core.plain_correction import correction_to_plain
from trackread.errors import CorrectionError
from trackread.workflow.correcting import correct, move, right
from trackread.workflow.seen_take import seen_take
from trackread.workflow.undoing import LEFT, UNDOES, to_undo, undo


@pytest.fixture
def book(tmp_path):
    with Book.open(a_production_with_takes(tmp_path)) as opened:
        yield opened


def test_what_was_half_undone_is_undone_after_what_came_between(book):
    first = seen_take(book, "L0001-3").reading
    correct(book, "L0001-3", move("step", 13), "ANN")
    take = seen_take(book, "L0001-3")
    steps = to_undo(take).steps
    # Only the first of three steps was added before somebody else's correction.
    half = {**correction_to_plain(steps[0], take.counting), UNDOES: 1, LEFT: len(steps) - 1}
    append_correction(book, "L0001-3", half, "ANN", after=1)
    correct(book, "L0001-3", right("ticket"), "BEA")

    assert len(steps) == 3
    assert undo(book, "L0001-3", "ANN").startswith("L0001-3, correction 3 undone")
    assert undo(book, "L0001-3", "ANN").startswith("L0001-3, correction 1 undone")
    assert seen_take(book, "L0001-3").reading == first
    assert seen_take(book, "L0001-3").now.pins == ()
    with pytest.raises(CorrectionError, match="no correction that could be undone"):
        undo(book, "L0001-3", "ANN")


def test_a_correction_that_has_no_place_any_more_is_passed_over(book):
    correct(book, "L0001-3", move("step", 13), "ANN")
    take = seen_take(book, "L0001-3")
    lost = {**correction_to_plain(take.made[0], take.counting)}
    lost["cut"] = {**lost["cut"], "word": "hat"}
    append_correction(book, "L0001-3", lost, "BEA", after=1)

    assert len(seen_take(book, "L0001-3").now.astray) == 1
    assert undo(book, "L0001-3", "ANN").startswith("L0001-3, correction 1 undone")
