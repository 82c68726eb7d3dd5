"""The database under a book: SQLite's file or a PostgreSQL server, read and written in whole transactions.

Who writes has the database alone until done, the others wait their turn: BEGIN IMMEDIATE on SQLite, an advisory lock
on PostgreSQL. So what a writer has looked at cannot change before it writes. Readers wait for nobody and see one
moment throughout.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote_from_bytes

from sqlalchemy import URL, Connection, Engine, QueuePool, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session as Transaction

from trackread.book.addresses import parse_address, shown, without_secrets
from trackread.errors import BookError

WAIT = 30  # seconds that a writer waits for another
CONNECT_WAIT = 10  # seconds that a server may take to answer
LOCK = 7_245_102  # any number does, as long as every trackread uses the same

# SQLite's primary result codes (sqlite.org/rescode.html) that a user can do something about.
SQLITE_WORDS = {
    sqlite3.SQLITE_BUSY: f"somebody else has been writing for {WAIT} s: try again",
    sqlite3.SQLITE_READONLY: "it may not be written to: give yourself the right to write it and its folder",
    sqlite3.SQLITE_PERM: "it may not be opened: give yourself the right to read and write it",
    sqlite3.SQLITE_IOERR: "the disk cannot be read or written; nothing was changed",
    sqlite3.SQLITE_CORRUPT: "it is damaged: restore the newest backup",
    sqlite3.SQLITE_FULL: "the disk is full; nothing was changed",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened: it must be there, and its folder must be writable",
    sqlite3.SQLITE_NOTADB: "it is no database, or damaged: restore the newest backup",
}
# PostgreSQL's error codes (its manual, appendix A).
SERVER_WORDS = {
    "53100": "the server's disk is full; nothing was changed",
    "55P03": f"somebody else has been writing for {WAIT} s: try again",
}


@dataclass(frozen=True, slots=True)
class Database:
    """An open database; `place` is what messages call it, `file` its path if it is SQLite's, `address` else."""

    engine: Engine
    place: str
    file: Path | None = None
    address: URL | None = None

    @contextmanager
    def reading(self) -> Iterator[Transaction]:
        """A transaction that sees one moment of the database and cannot change it."""
        options = {} if self.file else {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        with self.plainly(), Transaction(self.engine.execution_options(**options)) as transaction:
            yield transaction

    @contextmanager
    def writing(self) -> Iterator[Transaction]:
        """A transaction that has the database alone, and is written as one at its end or not at all."""
        engine = self.engine.execution_options(writing=True)
        with self.plainly(), Transaction(engine) as transaction, transaction.begin():
            yield transaction

    @contextmanager
    def plainly(self) -> Iterator[None]:
        """Turns what a user can mend into a BookError; what is our own mistake goes through."""
        try:
            yield
        except (DBAPIError, sqlite3.Error) as error:
            words = self.words_for(error.orig if isinstance(error, DBAPIError) else error)
            if not words:
                raise
            raise BookError(f"{self.place}: {words}") from error

    def words_for(self, error: BaseException | None) -> str:
        """What went wrong in plain words, "" for a mistake of ours."""
        if isinstance(error, sqlite3.Error):
            return SQLITE_WORDS.get(getattr(error, "sqlite_errorcode", 0) & 0xFF, "")
        code = getattr(error, "sqlstate", None)
        if code in SERVER_WORDS:
            return SERVER_WORDS[code]
        # 08, 28, 3D: no connection, not let in, no such database; 42501: no right to; 53, 57: short of something, shut.
        if self.address and (code is None or code[:2] in ("08", "28", "3D", "53", "57") or code in ("42501", "25006")):
            said = " ".join(without_secrets(str(error), self.address).split())
            return f"the database server cannot be used: {said}"
        return ""

    def close(self) -> None:
        self.engine.dispose()


def sqlite_database(file: Path, *, new: bool = False) -> Database:
    """The database in a file, which is made only if `new`."""

    def connect() -> sqlite3.Connection:
        connection = open_sqlite(file, mode="rwc" if new else "rw")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        return connection

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)
    event.listen(engine, "begin", begin_sqlite)
    return Database(engine, str(file), file=file)


def open_sqlite(file: Path, *, mode: str) -> sqlite3.Connection:
    """A bare connection that begins no transaction of its own accord."""
    address = f"file:{quote_from_bytes(bytes(file.absolute()))}?mode={mode}"
    return sqlite3.connect(address, uri=True, timeout=WAIT, isolation_level=None, check_same_thread=False)


def use_write_ahead_log(database: Database) -> None:
    """Lets readers and a writer work at once (sqlite.org/wal.html); a file stays so, whoever opens it."""
    if database.file:
        with database.plainly(), closing(open_sqlite(database.file, mode="rw")) as connection:
            connection.execute("PRAGMA journal_mode = WAL")


def begin_sqlite(connection: Connection) -> None:
    """Writers queue from their first statement on: one that began by reading could not go on to write."""
    writing = connection.get_execution_options().get("writing")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def server_database(text: str) -> Database:
    """The database at an address. Raises BookError if its driver is missing."""
    address = parse_address(text)
    wait = {} if "connect_timeout" in address.query else {"connect_timeout": CONNECT_WAIT}
    try:
        engine = create_engine(address, connect_args=wait, pool_pre_ping=True)
    except ModuleNotFoundError as error:
        raise BookError(
            f"{shown(address)} needs PostgreSQL's driver: install it with `pip install 'trackread[postgres]'`"
        ) from error
    event.listen(engine, "begin", begin_on_server)
    return Database(engine, shown(address), address=address)


def begin_on_server(connection: Connection) -> None:
    if connection.get_execution_options().get("writing"):
        connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{WAIT}s'")
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({LOCK})")


def copy_file(database: Database, target: Path) -> None:
    """Copies a SQLite database as it is at one moment, while others go on writing (sqlite.org/backup.html)."""
    if database.file is None:
        raise ValueError("only SQLite's databases are files")
    with (
        database.plainly(),
        closing(open_sqlite(database.file, mode="rw")) as source,
        closing(open_sqlite(target, mode="rwc")) as copied,
    ):
        source.backup(copied)
