"""Sessions listened through piece by piece, and their takes numbered once."""

import pytest

from tests.book.makers import FOUND, NOTES, a_draft, a_session, a_session_with_takes, a_stretch, a_take
from trackread.book.sessions import (
    add_session,
    is_numbered,
    number_takes,
    pieces_done,
    save_piece,
    session,
    sessions,
)
from trackread.book.takes import takes
from trackread.core.session import RecorderNotes, StretchKind
from trackread.core.timebase import Sample
from trackread.errors import BookError

FIRST, SECOND = (0, 24_000_000), (24_000_000, 48_000_000)


def names(book, **asked):
    return [(take.stretch_name, take.name) for take in takes(book, **asked)]


def test_a_session_comes_back_as_it_was_added(tmp_path, book):
    added = a_session(book, tmp_path, channel=2, characters=("BRACK", "ZOË"), stand_in=True)

    assert session(book, 1) == added
    assert sessions(book) == (added,)
    assert (added.id, added.channel, added.characters, added.stand_in) == (1, 2, ("BRACK", "ZOË"), True)
    assert added.notes == NOTES
    assert added.sound.start == 3_600 * 48_000


def test_notes_of_a_recorder_that_wrote_nothing_come_back(tmp_path, book):
    a_session(book, tmp_path, notes=RecorderNotes())

    assert session(book, 1).notes == RecorderNotes()


def test_the_same_channel_again_is_the_same_session(tmp_path, book):
    added = a_session(book, tmp_path)

    assert a_session(book, tmp_path, author="BEN", characters=("brack",)) == added
    assert a_session(book, tmp_path, channel=1).id == 2
    assert len(sessions(book)) == 2


@pytest.mark.parametrize("changes", [{"stand_in": True}, {"characters": ("TUM",)}, {"characters": ()}])
def test_the_same_channel_for_somebody_else_is_refused(tmp_path, book, changes):
    a_session(book, tmp_path)

    with pytest.raises(BookError, match=r"was added as S1 by ANN at .*, for BRACK, no stand-in: keep to that"):
        a_session(book, tmp_path, **changes)


def test_a_session_that_is_not_there_is_told(tmp_path, book):
    with pytest.raises(BookError, match="there is no session S1: none has been added yet"):
        pieces_done(book, 1)

    a_session(book, tmp_path)
    with pytest.raises(BookError, match="there is no session S7: they run from S1 to S1"):
        session(book, 7)


def test_pieces_that_are_in_are_remembered(tmp_path, book):
    a_session(book, tmp_path)
    save_piece(book, 1, SECOND, [])

    assert pieces_done(book, 1) == {SECOND}
    assert not is_numbered(book, 1)
    assert takes(book) == ()


def test_the_same_piece_again_keeps_the_first(tmp_path, book):
    a_draft(book)
    a_session(book, tmp_path)
    save_piece(book, 1, FIRST, FOUND[:2])
    save_piece(book, 1, FIRST, FOUND)
    save_piece(book, 1, SECOND, [])
    number_takes(book, 1)

    save_piece(book, 1, SECOND, [a_stretch(30_000_000)])

    assert [take.stretch for take in takes(book)] == list(FOUND[:2])


def test_no_part_is_listened_through_twice(tmp_path, book):
    a_session(book, tmp_path)
    save_piece(book, 1, FIRST, [])

    with pytest.raises(ValueError, match="has a part that has been listened through"):
        save_piece(book, 1, (1000, 30_000_000), [])


def test_nothing_is_added_once_takes_are_numbered(tmp_path, book):
    a_session_with_takes(book, tmp_path)

    with pytest.raises(BookError, match="S1 has been listened through"):
        save_piece(book, 1, SECOND, [])


def test_takes_are_numbered_only_once_all_is_heard(tmp_path, book):
    a_session(book, tmp_path)
    save_piece(book, 1, SECOND, [])

    with pytest.raises(BookError, match="S1 has not been listened through: samples 0 to 24000000 are missing"):
        number_takes(book, 1)

    save_piece(book, 1, FIRST, [])
    number_takes(book, 1)
    assert is_numbered(book, 1)


def test_places_and_numbers_follow_time_whatever_came_in_first(tmp_path, book):
    a_draft(book)
    a_session(book, tmp_path)
    save_piece(book, 1, SECOND, [a_take(30_000_000)])
    save_piece(book, 1, FIRST, FOUND)
    number_takes(book, 1)

    assert names(book) == [
        ("S1-001", "L0001-1"),
        ("S1-002", "L0001-2"),
        ("S1-003", "S1-003"),
        ("S1-004", "L0002-1"),
        ("S1-005", "S1-005"),
        ("S1-006", "L0001-3"),
    ]


def test_numbering_again_changes_nothing(tmp_path, book):
    a_session_with_takes(book, tmp_path)
    before = takes(book)

    number_takes(book, 1)

    assert takes(book) == before


def test_a_later_session_goes_on_counting(tmp_path, book):
    a_session_with_takes(book, tmp_path)
    a_session_with_takes(book, tmp_path, content=b"another reel")

    assert names(book, session=2, line="L0001") == [("S2-001", "L0001-3"), ("S2-002", "L0001-4")]


def test_a_stretch_comes_back_as_it_was_found(tmp_path, book):
    a_session_with_takes(book, tmp_path, stand_in=True)

    assert tuple(take.stretch for take in takes(book)) == FOUND
    assert all(take.stand_in for take in takes(book))
    assert takes(book)[3].wholeness is FOUND[3].guesses[0].wholeness


def test_stretches_of_a_long_day_fit(tmp_path, book):
    found = [a_take(24 * 3600 * 192_000), a_stretch(1, StretchKind.SLATE)]
    a_session_with_takes(book, tmp_path, found)

    assert takes(book)[1].stretch.start == Sample(24 * 3600 * 192_000)


def test_a_session_of_a_recording_that_is_not_kept_is_refused(tmp_path, new_book):
    elsewhere = a_session(new_book("elsewhere"), tmp_path)

    with pytest.raises(BookError, match=r"the recording of reel 1 is not in .*: keep it first"):
        add_session(
            new_book(),
            elsewhere.sound,
            "reel 1",
            channel=None,
            characters=(),
            stand_in=False,
            notes=NOTES,
            author="ANN",
        )
