"""Keys, visits and the numbers of what was added last, on both databases."""

import pytest

from tests.book.makers import a_session_with_takes
from trackread.book.keys import (
    Ended,
    Hashed,
    add_key,
    begin_visit,
    end_visit,
    end_visits,
    ended,
    forget_visits,
    hashed_key,
    keys,
    revoke_key,
    visit,
)
from trackread.book.latest import latest, notes_after, takes_decided_after
from trackread.book.shot_notes import tell_of_shot
from trackread.book.takes import circle
from trackread.errors import BookError

HASHED = Hashed(b"salt", b"digest")
COOKIE = "ab" * 32


def a_key(book, **changes):
    return add_key(book, HASHED, **{"role": "unit", "name": "TESS", "unit": "7", "author": "ANN", **changes})


def test_keys_count_from_one_and_are_never_counted_anew(book):
    first, second = a_key(book), a_key(book, name="BO")
    revoke_key(book, second.number)

    assert (first.number, second.number, a_key(book).number) == (1, 2, 3)
    assert [note.name for note in keys(book)] == ["TESS", "BO", "TESS"]
    assert hashed_key(book, 1) == HASHED
    assert hashed_key(book, 2) is None


def test_a_key_is_revoked_once(book):
    a_key(book)
    revoke_key(book, 1)

    with pytest.raises(BookError, match="key 1 of TESS was revoked at"):
        revoke_key(book, 1)
    with pytest.raises(BookError, match="there is no key 2"):
        revoke_key(book, 2)


def test_a_visit_ends_by_itself_by_signing_out_and_with_its_key(book):
    note = a_key(book)
    assert begin_visit(book, COOKIE, 1) == note
    assert begin_visit(book, "cd" * 32, 1) == note
    end_visit(book, "cd" * 32)
    end_visit(book, "ef" * 32)

    assert visit(book, COOKIE, "2000") == note
    assert visit(book, COOKIE, "9999") is None
    assert visit(book, "cd" * 32, "2000") is None
    revoke_key(book, 1)
    assert visit(book, COOKIE, "2000") is None
    assert begin_visit(book, "12" * 32, 1) is None


def test_what_has_ended_is_another_whenever_somebody_is_no_longer_let_in(book):
    a_key(book)
    begin_visit(book, COOKIE, 1)
    found = [ended(book)]
    end_visit(book, COOKIE)
    found.append(ended(book))
    revoke_key(book, 1)

    assert [*found, ended(book)] == [Ended(0, 0), Ended(0, 1), Ended(1, 1)]


def test_visits_are_forgotten_by_their_age_and_may_all_be_ended(book):
    a_key(book)
    for cookie in (COOKIE, "cd" * 32):
        begin_visit(book, cookie, 1)

    assert forget_visits(book, "2000") == 0
    end_visits(book)
    assert visit(book, COOKIE, "2000") is None
    assert forget_visits(book, "9999") == 2
    assert ended(book) == Ended(0, 0)


def test_what_was_added_last_is_told_by_its_kind(book, tmp_path):
    a_session_with_takes(book, tmp_path)
    before = latest(book)
    circle(book, "L0001-1", "BO")
    tell_of_shot(book, "SH010", {"done": {"frames": 3}}, "TESS")
    tell_of_shot(book, "SH010", {"done": {"frames": 4}}, "TESS")
    after = latest(book)

    assert (before.decision, before.note) == (0, 0)
    assert after.decision > before.decision
    assert takes_decided_after(book, before.decision) == {"L0001-1": "BO"}
    assert [(one.shot, one.kind, one.body["frames"]) for one in notes_after(book, before.note)] == [
        ("SH010", "done", 4)
    ]
    assert notes_after(book, after.note) == ()
