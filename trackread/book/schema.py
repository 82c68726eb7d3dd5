"""The form of a book's tables: made in a new database, brought up to date in an old one, refused in a newer one."""

import uuid
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect
from sqlalchemy.orm import Session as Transaction

from trackread import __version__
from trackread.book.clock import now
from trackread.book.database import Database, copy_file
from trackread.book.files import beside
from trackread.book.tables import Base, BookRow
from trackread.errors import BookError

MIGRATIONS = Path(__file__).with_name("migrations")


def make_tables(transaction: Transaction, *, migrations: Path = MIGRATIONS) -> None:
    """Makes all tables, or changes them to the newest form."""
    config = Config()
    config.set_main_option("script_location", str(migrations).replace("%", "%%"))
    config.attributes["connection"] = transaction.connection()
    command.upgrade(config, "head")


def make_book(database: Database) -> None:
    """Makes the tables of a new production. Raises BookError if the database holds one already."""
    with database.writing() as transaction:
        if has_tables(transaction):
            raise BookError(f"{database.place} holds a production already: choose an empty database")
        make_tables(transaction)
        transaction.add(BookRow(id=1, uuid=str(uuid.uuid4()), created=now(), version=__version__))


def has_tables(transaction: Transaction) -> bool:
    """Whether the database has any table that is, or is called like, one of a book."""
    return not Base.metadata.tables.keys().isdisjoint(inspect(transaction.connection()).get_table_names())


def revision_of(transaction: Transaction) -> str | None:
    return MigrationContext.configure(transaction.connection()).get_current_revision()


def bring_up_to_date(database: Database, *, migrations: Path = MIGRATIONS) -> None:
    """Changes the tables of an older trackread into ours, after copying a SQLite file beside itself.

    Raises BookError for a database that a newer trackread wrote, or that is no book.
    """
    script = ScriptDirectory(str(migrations))
    with database.reading() as transaction:
        revision = revision_of(transaction)
    if revision == script.get_current_head():
        return
    if revision is None:
        raise BookError(f"{database.place} is no book of trackread: restore the newest backup")
    if revision not in {known.revision for known in script.walk_revisions()}:
        raise BookError(f"{database.place} was written by a newer trackread (revision {revision}): update trackread")
    if database.file:
        with beside(database.file.with_name(f"book-{revision}-{now().replace(':', '')}.sqlite")) as part:
            copy_file(database, part)
    with database.writing() as transaction:
        make_tables(transaction, migrations=migrations)
