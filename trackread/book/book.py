"""A production's folder with its database, opened.

    production.toml   what a person writes of the production
    book.sqlite       the database, unless production.toml names a server
    sounds/ab/…       the recordings, each under the SHA-256 of its bytes

Everything is found from the folder on, so the folder can be moved.
"""

import fcntl
import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from sqlalchemy.orm import Session as Transaction

from trackread.book.database import Database, server_database, sqlite_database, use_write_ahead_log
from trackread.book.files import beside, cannot_write
from trackread.book.schema import bring_up_to_date, make_book
from trackread.book.settings import SETTINGS, read_settings, settings_text
from trackread.core.production import Production
from trackread.errors import BookError

FILE = "book.sqlite"
SOUNDS = "sounds"


class Book:
    """The book of one production; use it as a context manager, or close it."""

    def __init__(self, folder: Path, production: Production, database: Database) -> None:
        self.folder = folder
        self.production = production
        self.database = database

    @classmethod
    def create(cls, folder: Path, production: Production) -> Self:
        """Makes a new production in a folder, and the folder too if only that is missing.

        Raises BookError, having left nothing, if the folder or the named database holds one already.
        """
        with made(folder), alone_in(folder):
            refuse_taken(folder)
            # The settings come last: a folder is a production once it has them.
            with beside(folder / SETTINGS) as part:
                part.write_text(settings_text(production), encoding="utf-8")
                make_database(folder, production)
        return cls.open(folder)

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Opens a production, bringing a database of an older trackread up to date.

        Raises ProductionError if there is none or its settings are wrong, BookError if its database cannot be used.
        """
        production = read_settings(folder)
        database = database_of(folder, production)
        try:
            bring_up_to_date(database)
        except BaseException:
            database.close()
            raise
        return cls(folder, production, database)

    def reading(self) -> AbstractContextManager[Transaction]:
        """A transaction that sees one moment of the book."""
        return self.database.reading()

    def writing(self) -> AbstractContextManager[Transaction]:
        """A transaction that has the book alone, and is written as one at its end or not at all."""
        return self.database.writing()

    def close(self) -> None:
        self.database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def database_of(folder: Path, production: Production) -> Database:
    """The database that a production's settings name."""
    if production.database:
        return server_database(production.database)
    file = folder / FILE
    if not file.is_file():
        raise BookError(f"{file} is missing: put it back, or restore the newest backup")
    return sqlite_database(file)


def make_database(folder: Path, production: Production) -> None:
    """Makes the database of a new production, whole or not at all."""
    if production.database:
        fill(server_database(production.database))
    else:
        with beside(folder / FILE) as part:
            fill(sqlite_database(part, new=True))


def fill(database: Database) -> None:
    try:
        make_book(database)
        use_write_ahead_log(database)
    finally:
        database.close()


def refuse_taken(folder: Path) -> None:
    if (folder / SETTINGS).exists():
        raise BookError(f"{folder} holds a production already: choose another folder")
    if (folder / FILE).exists():
        raise BookError(f"{folder} holds a {FILE} without its {SETTINGS}: put that back, or choose another folder")


@contextmanager
def made(folder: Path) -> Iterator[None]:
    """The folder, made if it was missing, and gone again if what follows fails."""
    try:
        missing = not folder.is_dir()
        if missing:
            folder.mkdir()
    except OSError as error:
        raise BookError(f"the folder {folder} cannot be made: {error.strerror or error}") from error
    try:
        yield
    except BaseException:
        if missing:
            folder.rmdir()
        raise


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Keeps a second trackread from making a production in the same folder at the same time."""
    try:
        opened = os.open(folder, os.O_RDONLY)
    except OSError as error:
        raise cannot_write(folder, error) from error
    try:
        fcntl.flock(opened, fcntl.LOCK_EX)
        yield
    finally:
        os.close(opened)
