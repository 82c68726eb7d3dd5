"""A production's folder made, opened, moved, shut out, damaged; tables in step with their migrations."""

import contextlib
import os
import shutil
import sqlite3
import subprocess
import threading

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import select, text
from sqlalchemy.exc import DBAPIError

from tests.book.makers import a_draft, a_production, a_script, a_session_with_takes
from trackread.book.book import FILE, Book
from trackread.book.checking import check
from trackread.book.database import sqlite_database
from trackread.book.drafts import current_script, draft_number
from trackread.book.schema import MIGRATIONS, bring_up_to_date
from trackread.book.settings import SETTINGS
from trackread.book.tables import Base, BookRow
from trackread.book.takes import takes
from trackread.errors import BookError, ProductionError

NEWEST = ScriptDirectory(str(MIGRATIONS)).get_current_head()
NEXT_FORM = f'''"""One column more."""
import sqlalchemy as sa
from alembic import op
revision = "9999"
down_revision = "{NEWEST}"
def upgrade():
    op.add_column("drafts", sa.Column("colour", sa.Text()))
'''


def test_a_new_book_knows_who_it_is(book):
    with book.reading() as transaction:
        (row,) = transaction.scalars(select(BookRow)).all()

    assert len(row.uuid) == 36
    assert row.created.endswith("Z")
    assert check(book) == ()


def test_what_was_made_is_there_when_opened_again(book):
    a_draft(book)

    with Book.open(book.folder) as again:
        assert again.production == book.production
        assert current_script(again) == a_script()


def test_the_tables_are_those_that_the_migrations_make(book):
    with book.reading() as transaction:
        context = MigrationContext.configure(transaction.connection(), opts={"compare_type": True})

        assert compare_metadata(context, Base.metadata) == []


def test_a_folder_that_holds_a_production_is_refused_and_left(book):
    before = {path.name: path.read_bytes() for path in book.folder.iterdir()}

    with pytest.raises(BookError, match="holds a production already: choose another folder"):
        Book.create(book.folder, a_production())

    assert {path.name: path.read_bytes() for path in book.folder.iterdir()} == before


def test_a_book_without_its_settings_is_not_overwritten(book):
    (book.folder / SETTINGS).unlink()
    (book.folder / FILE).touch()

    with pytest.raises(BookError, match=r"holds a book\.sqlite without its production\.toml"):
        Book.create(book.folder, a_production())


def test_a_production_that_cannot_be_made_leaves_nothing(tmp_path):
    nobody = f"postgresql://ann@/tram?host={tmp_path}"

    with pytest.raises(BookError, match="the database server cannot be used"):
        Book.create(tmp_path / "tram", a_production(database=nobody))

    assert list(tmp_path.iterdir()) == []


def test_a_folder_in_no_folder_is_told(tmp_path):
    with pytest.raises(BookError, match="cannot be made"):
        Book.create(tmp_path / "no" / "tram", a_production())


def test_a_missing_database_is_told_and_not_made_anew(tmp_path):
    Book.create(tmp_path / "tram", a_production()).close()
    (tmp_path / "tram" / FILE).unlink()

    with pytest.raises(BookError, match=r"book\.sqlite is missing: put it back"):
        Book.open(tmp_path / "tram")


def test_a_folder_without_a_production_is_told(tmp_path):
    with pytest.raises(ProductionError, match="holds no production"):
        Book.open(tmp_path / "nowhere")


@pytest.mark.parametrize("name", ["tram, no. 2", "100% ? #1", "Zoë’s"])
def test_a_folder_may_have_any_name(tmp_path, name):
    Book.create(tmp_path / name, a_production()).close()

    with Book.open(tmp_path / name) as book:
        assert check(book) == ()


def test_a_moved_folder_is_the_same_production(tmp_path, book):
    a_session_with_takes(book, tmp_path)
    found = takes(book)
    book.close()
    shutil.move(book.folder, tmp_path / "elsewhere")

    with Book.open(tmp_path / "elsewhere") as moved:
        assert takes(moved) == found
        assert check(moved) == ()


def test_what_goes_wrong_within_a_transaction_leaves_nothing_of_it(book):
    def spoil():
        with book.writing() as transaction:
            transaction.execute(text("UPDATE book SET version = 'spoilt'"))
            raise BookError("stop")

    with pytest.raises(BookError, match="stop"):
        spoil()

    with book.reading() as transaction:
        assert transaction.scalar(select(BookRow.version)) != "spoilt"


def test_a_reader_sees_one_moment_while_others_write(book):
    with book.reading() as transaction:
        before = transaction.scalar(text("SELECT count(*) FROM drafts"))
        a_draft(book)

        assert transaction.scalar(text("SELECT count(*) FROM drafts")) == before == 0


def test_a_reader_cannot_write_on_a_server(book):
    if book.database.file:
        pytest.skip("SQLite lets a reader write, and so waits for other writers")
    with pytest.raises(BookError, match="read-only transaction"), book.reading() as transaction:
        transaction.execute(text("UPDATE book SET version = 'spoilt'"))


def test_writers_wait_for_each_other_and_none_fails(book):
    """Each reads the count before it writes: without a queue two would read the same one, or be locked out."""

    def write():
        for _ in range(10):
            with book.writing() as transaction:
                count = int(transaction.scalar(select(BookRow.version)))
                transaction.execute(text(f"UPDATE book SET version = '{count + 1}'"))

    with book.writing() as transaction:
        transaction.execute(text("UPDATE book SET version = '0'"))
    writers = [threading.Thread(target=write) for _ in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()

    with book.reading() as transaction:
        assert transaction.scalar(select(BookRow.version)) == "40"


def test_sqlite_is_set_so_that_a_power_cut_loses_nothing(tmp_path):
    """sqlite.org/pragma.html: with a write-ahead log, synchronous must be FULL (2) for commits to be durable."""
    with Book.create(tmp_path / "tram", a_production()) as book, book.reading() as transaction:
        told = {
            name: transaction.scalar(text(f"PRAGMA {name}")) for name in ("journal_mode", "synchronous", "foreign_keys")
        }

    assert told == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


@pytest.fixture
def closed_file(tmp_path):
    """The database of a production on SQLite that nobody has open."""
    with Book.create(tmp_path / "tram", a_production()) as book:
        a_draft(book)
    return tmp_path / "tram" / FILE


def test_a_file_that_is_no_database_is_told(closed_file):
    closed_file.write_bytes(b"Hold tight, please! " * 1000)

    with pytest.raises(BookError, match=r"book\.sqlite: it is no database, or damaged: restore the newest backup"):
        Book.open(closed_file.parent)


def test_a_database_of_something_else_is_told(closed_file):
    closed_file.unlink()
    with contextlib.closing(sqlite3.connect(closed_file)) as connection:
        connection.execute("CREATE TABLE tickets (id)")

    with pytest.raises(BookError, match="is no book of trackread"):
        Book.open(closed_file.parent)


def test_a_damaged_database_is_told(closed_file):
    content = bytearray(closed_file.read_bytes())
    content[4096:] = b"\xff" * (len(content) - 4096)
    closed_file.write_bytes(content)

    with pytest.raises(BookError, match="it is damaged: restore the newest backup"):
        Book.open(closed_file.parent)


def test_a_newer_database_is_refused_and_left(closed_file):
    with contextlib.closing(sqlite3.connect(closed_file)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9001'")
    before = closed_file.read_bytes()

    with pytest.raises(BookError, match=r"was written by a newer trackread \(revision 9001\): update trackread"):
        Book.open(closed_file.parent)

    assert closed_file.read_bytes() == before
    assert {path.name for path in closed_file.parent.iterdir()} == {FILE, SETTINGS}


@pytest.fixture
def next_form(tmp_path):
    """Migrations with one more than there is."""
    folder = shutil.copytree(MIGRATIONS, tmp_path / "migrations")
    (folder / "versions" / "r9999_next.py").write_text(NEXT_FORM)
    return folder


def test_an_older_database_is_brought_up_to_date(book, next_form):
    a_draft(book)

    bring_up_to_date(book.database, migrations=next_form)

    with book.reading() as transaction:
        assert transaction.scalar(text("SELECT version_num FROM alembic_version")) == "9999"
        assert transaction.execute(text("SELECT number, colour FROM drafts")).all() == [(1, None)]


def test_an_older_file_is_copied_beside_before_it_is_changed(closed_file, next_form):
    database = sqlite_database(closed_file)
    bring_up_to_date(database, migrations=next_form)
    database.close()

    (copied,) = closed_file.parent.glob(f"book-{NEWEST}-*.sqlite")
    with contextlib.closing(sqlite3.connect(copied)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [(NEWEST,)]
        assert connection.execute("SELECT count(*) FROM draft_lines").fetchall() == [(4,)]


def test_a_migration_that_fails_changes_nothing(book, next_form):
    (next_form / "versions" / "r9999_next.py").write_text(f"{NEXT_FORM}    raise OSError('the lights went out')\n")

    with pytest.raises(OSError, match="the lights went out"):
        bring_up_to_date(book.database, migrations=next_form)

    with Book.open(book.folder) as again:
        assert check(again) == ()


def fill_up(path):
    """Writes to a file until the disk is full."""
    with path.open("wb") as filler, contextlib.suppress(OSError):
        while True:
            filler.write(bytes(1 << 16))
            filler.flush()


def test_a_full_disk_is_told_and_loses_nothing(small_disk):
    with Book.create(small_disk / "tram", a_production()) as book:
        a_draft(book)
        fill_up(small_disk / "filler")

        with pytest.raises(BookError, match="the disk is full; nothing was changed"):
            a_draft(book, a_script([("BRACK", "Hold tight! " * 50 + "Please!")] * 300))

        (small_disk / "filler").unlink()
        assert (draft_number(book), check(book)) == (1, ())


def fill_pages(book):
    """Writes more than the file is let grow by, within one transaction."""
    with book.writing() as transaction:
        pages = transaction.scalar(text("PRAGMA page_count"))
        transaction.execute(text(f"PRAGMA max_page_count = {pages}"))
        transaction.execute(text(f"UPDATE book SET version = '{'9' * 100_000}'"))


def test_a_file_that_may_not_grow_is_told_and_loses_nothing(tmp_path):
    """SQLITE_FULL (sqlite.org/rescode.html) is also what SQLite says past max_page_count, on any disk."""
    with Book.create(tmp_path / "tram", a_production()) as book:
        with pytest.raises(BookError, match="the disk is full; nothing was changed"):
            fill_pages(book)

        assert check(book) == ()


def test_a_folder_that_may_not_be_written_is_told(request, tmp_path):
    if os.geteuid() == 0:
        place = request.getfixturevalue("small_disk")
        shut = ["mount", "-o", "remount,ro", str(place)]
    else:
        place = tmp_path
        shut = ["chmod", "-R", "a-w", str(place / "tram")]
    Book.create(place / "tram", a_production()).close()
    subprocess.run(shut, check=True)

    with pytest.raises(BookError, match=r"book\.sqlite: it (may not be written to|cannot be opened)"):
        Book.open(place / "tram")
    if os.geteuid() == 0:
        with pytest.raises(BookError, match=r"cannot be made: Read-only file system"):
            Book.create(place / "another", a_production())
    else:
        subprocess.run(["chmod", "-R", "u+w", str(place / "tram")], check=True)


def test_a_writer_that_waits_in_vain_is_told(tmp_path):
    with Book.create(tmp_path / "tram", a_production()) as book, Book.open(tmp_path / "tram") as other:
        with other.database.engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA busy_timeout = 0")  # for this connection, which is used again
        with book.writing() as transaction:
            transaction.execute(text("UPDATE book SET version = 'mine'"))

            with pytest.raises(BookError, match="somebody else has been writing for 30 s: try again"):
                a_draft(other)

        assert a_draft(other) == 1


def test_a_mistake_of_our_own_is_not_dressed_up(book):
    with pytest.raises(DBAPIError), book.writing() as transaction:
        transaction.execute(text("UPDATE tickets SET price = 0"))


def test_a_server_without_room_is_told(book):
    """53100 is disk_full in PostgreSQL's manual, appendix A."""
    if book.database.file:
        pytest.skip("SQLite's own disk is filled in other tests")
    words = "DO $$ BEGIN RAISE EXCEPTION 'no room' USING ERRCODE = '53100'; END $$"

    with (
        pytest.raises(BookError, match="the server's disk is full; nothing was changed"),
        book.writing() as transaction,
    ):
        transaction.execute(text(words))
