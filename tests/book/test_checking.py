"""What is wrong with a production is found, each thing planted here."""

import os
import time

import pytest
from sqlalchemy import text

from tests.book.makers import a_session_with_takes
from trackread.book.book import FILE
from trackread.book.checking import check
from trackread.book.corrections import append_correction
from trackread.book.sessions import sessions
from trackread.book.sounds import sound_path


@pytest.fixture
def full(tmp_path, book):
    a_session_with_takes(book, tmp_path)
    for after in range(3):
        append_correction(book, "L0001-1", {}, "ANN", after=after)
    return book


def run(book, statement):
    with book.writing() as transaction:
        transaction.execute(text(statement))


def test_a_whole_production_has_no_problems(full):
    shares = []

    assert check(full, shares.append) == ()
    assert shares == [1.0]


def test_a_missing_recording_is_found(full):
    path = sound_path(full, sessions(full)[0].sound.digest)
    path.unlink()

    assert check(full) == (f"the recording reel 1.wav is missing: it should be at {path}",)


def test_a_changed_recording_is_found(full):
    path = sound_path(full, sessions(full)[0].sound.digest)
    path.write_bytes(path.read_bytes().replace(b"R", b"r"))

    assert check(full) == (f"the recording reel 1.wav at {path} is not what it was when it was added",)


@pytest.mark.parametrize(
    ("statement", "problem"),
    [
        (
            "DELETE FROM numbers WHERE line = 'L0001' AND number = 1",
            "the takes of L0001 do not count 1, 2, 3 and so on, but 2",
        ),
        (
            "UPDATE stretches SET place = 9 WHERE place = 3",
            "the stretches of S1 do not count 1, 2, 3 and so on, but 1, 2, 4, 5, 9",
        ),
        (
            "DELETE FROM corrections WHERE sequence = 2",
            "the corrections of row 1 of stretches do not count 1, 2, 3 and so on, but 1, 3",
        ),
    ],
)
def test_a_gap_in_a_count_is_found(full, statement, problem):
    run(full, statement)

    assert check(full) == (problem,)


def test_a_row_that_belongs_to_none_is_found(full):
    if not full.database.file:
        pytest.skip("a server does not let go of what other rows belong to")
    with full.database.engine.connect() as connection:
        connection.connection.execute("PRAGMA foreign_keys = OFF")
        connection.exec_driver_sql("DELETE FROM drafts")
        connection.commit()

    assert check(full)[0].startswith("the database is damaged: row 1 of draft_lines belongs to a row of drafts")


def test_a_damaged_page_is_found(full):
    if not full.database.file:
        pytest.skip("a server's files are its own")
    with full.reading() as transaction:
        page = transaction.scalar(text("SELECT rootpage FROM sqlite_master WHERE name = 'decisions'"))
        size = transaction.scalar(text("PRAGMA page_size"))
    full.close()
    with (full.folder / FILE).open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"\xff" * size)

    assert any("damaged" in problem for problem in check(full))


def test_what_was_begun_and_never_finished_is_found_once_nobody_can_be_at_it(full):
    folder = sound_path(full, sessions(full)[0].sound.digest).parent
    new, old = folder / ".new-1.part", folder / ".old-1.part"
    for path in (new, old):
        path.touch()
    os.utime(old, (time.time() - 7200,) * 2)

    assert check(full) == (f"{old} was begun and never finished: delete it",)
