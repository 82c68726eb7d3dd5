"""How far each session has been listened through, and what was found in it."""

import pytest

from tests.book.makers import a_draft, a_production, a_session, a_session_with_takes, a_stretch
from trackread.book.book import Book
from trackread.book.sessions import number_takes, save_piece
from trackread.core.session import StretchKind
from trackread.workflow.session_status import sessions_of

LENGTH = 48_000_000  # samples at 48 kHz, of the makers' recordings


@pytest.fixture
def book(tmp_path):
    """An empty book."""
    with Book.create(tmp_path / "tram", a_production()) as opened:
        yield opened


def test_what_was_found_is_counted_by_its_kind(book, tmp_path):
    a_session_with_takes(book, tmp_path)
    slates = [a_stretch(1000 * number, StretchKind.SLATE) for number in (1, 2)]
    a_session_with_takes(book, tmp_path, slates, content=b"another", stand_in=True)
    first, second = sessions_of(book)

    assert (first.name, first.recording, first.stand_in) == ("S1", "reel 1", False)
    assert (first.takes, first.unsure, first.chatter, first.slates) == (3, 1, 1, 0)
    assert (second.name, second.stand_in, second.takes, second.slates) == ("S2", True, 0, 2)
    assert first.milliseconds == 1_000_000


def test_a_session_is_heard_whole_only_once_its_takes_have_their_names(book, tmp_path):
    a_draft(book)
    a_session(book, tmp_path)
    heard = []
    for start, stop in ((0, 1), (1, LENGTH // 3), (LENGTH // 3, LENGTH - 1), (LENGTH - 1, LENGTH)):
        save_piece(book, 1, (start, stop), [])
        heard.append(sessions_of(book)[0].heard)
    number_takes(book, 1)

    assert heard == [0, 33, 99, 99]
    assert sessions_of(book)[0].heard == 100


def test_without_sessions_there_are_none(book):
    assert sessions_of(book) == ()
