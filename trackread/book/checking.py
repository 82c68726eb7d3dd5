"""Whether a production is whole: its database, its recordings, its readings; problems in plain words."""

import hashlib
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import Executable, literal, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import SOUNDS, Book
from trackread.book.files import PART, Progress, blocks_of
from trackread.book.packing import unpacked
from trackread.book.sounds import KeptSound, sounds
from trackread.book.standing import PLACE
from trackread.book.tables import (
    Base,
    BoardRow,
    CorrectionRow,
    CutRow,
    IssuePdfRow,
    IssueRow,
    NumberRow,
    ReadingRow,
    StretchRow,
)
from trackread.errors import BookError

STALE = 3600  # seconds after which nobody is still writing to what was begun
ROWS = 100  # read at once

# What counts 1, 2, 3 and so on, under what it is counted for.
COUNTED = {
    "takes of {}": select(NumberRow.line, NumberRow.number),
    "stretches of S{}": select(StretchRow.session, PLACE).where(StretchRow.place.is_not(None)),
    "corrections of row {} of stretches": select(CorrectionRow.stretch, CorrectionRow.sequence),
    "cuts of {}": select(literal("the production"), CutRow.number),
    "issues of {}": select(IssueRow.shot, IssueRow.number),
}

# What is kept packed, and what is known by its digest, under how it is told.
PACKED: dict[str, Executable] = {
    "reading {} (recording {}, samples {} to {})": select(
        ReadingRow.id, ReadingRow.digest, ReadingRow.start, ReadingRow.stop, ReadingRow.body
    ),
    "cut {}": select(CutRow.number, CutRow.body),
    "issue {1} of {0}": select(IssueRow.shot, IssueRow.number, IssueRow.snapshot),
}
DIGESTED: dict[str, Executable] = {
    "the PDF of issue {1} of {0}": select(IssueRow.shot, IssueRow.number, IssueRow.digest, IssuePdfRow.body).outerjoin(
        IssuePdfRow, IssuePdfRow.issue == IssueRow.id
    ),
    "the board {0}": select(BoardRow.name, BoardRow.digest, BoardRow.body),
}


def check(book: Book, progress: Progress | None = None) -> tuple[str, ...]:
    """Everything that is wrong with a production, nothing if it is whole; reads all recordings through.

    Files that were begun and never finished are told too, and may be deleted.
    """
    try:
        with book.reading() as transaction:
            problems = [
                *database_problems(transaction),
                *number_problems(transaction),
                *packed_problems(transaction),
                *digest_problems(transaction),
            ]
        every = sounds(book)
    except BookError as error:
        return (str(error),)
    return (*problems, *sound_problems(every, progress), *leftovers(book))


def database_problems(transaction: Transaction) -> Iterator[str]:
    """What the database itself finds (sqlite.org/pragma.html); on a server every row is read."""
    if transaction.connection().dialect.name == "sqlite":
        for (told,) in transaction.connection().exec_driver_sql("PRAGMA integrity_check"):
            if told != "ok":
                yield f"the database is damaged: {told}"
        for table, row, other, _ in transaction.connection().exec_driver_sql("PRAGMA foreign_key_check"):
            yield f"the database is damaged: row {row} of {table} belongs to a row of {other} that is not there"
    else:
        for table in Base.metadata.sorted_tables:
            for some in transaction.connection().execute(select(table).execution_options(yield_per=ROWS)).partitions():
                list(some)


def number_problems(transaction: Transaction) -> Iterator[str]:
    """Counts that have a gap."""
    for words, asked in COUNTED.items():
        counted: defaultdict[object, list[int]] = defaultdict(list)
        for owner, number in transaction.execute(asked):
            counted[owner].append(number)
        for owner, numbers in counted.items():
            if sorted(numbers) != list(range(1, len(numbers) + 1)):
                told = ", ".join(map(str, sorted(numbers)))
                yield f"the {words.format(owner)} do not count 1, 2, 3 and so on, but {told}"


def packed_problems(transaction: Transaction) -> Iterator[str]:
    """Readings, cuts and issued sheets whose body is not what was saved."""
    for words, asked in PACKED.items():
        for *names, body in transaction.execute(asked.execution_options(yield_per=ROWS)):
            try:
                unpacked(body)
            except ValueError as error:
                yield f"{words.format(*names)} is damaged: {error}"


def digest_problems(transaction: Transaction) -> Iterator[str]:
    """PDFs and boards that are not what they were."""
    for words, asked in DIGESTED.items():
        for *names, digest, body in transaction.execute(asked.execution_options(yield_per=ROWS)):
            if body is None or hashlib.sha256(body).hexdigest() != digest:
                yield f"{words.format(*names)} is missing or not what it was"


def sound_problems(every: tuple[KeptSound, ...], progress: Progress | None) -> Iterator[str]:
    """Recordings whose file is missing, or is not what it was."""
    whole, before = sum(recording.bytes for recording in every) or 1, 0
    for recording in every:
        yield from file_problems(recording)
        before += recording.bytes
        if progress:
            progress(before / whole)


def file_problems(recording: KeptSound) -> Iterator[str]:
    if not recording.path.is_file():
        yield f"the recording {recording.name} is missing: it should be at {recording.path}"
        return
    digest = hashlib.sha256()
    try:
        for block in blocks_of(recording.path):
            digest.update(block)
    except BookError as error:
        yield f"the recording {recording.name}: {error}"
    else:
        if digest.hexdigest() != recording.sound.digest:
            yield f"the recording {recording.name} at {recording.path} is not what it was when it was added"


def leftovers(book: Book) -> Iterator[str]:
    """Files that were begun and never finished."""
    for path in sorted(parts_in(book.folder)):
        age = time.time() - path.stat().st_mtime
        if age > STALE:
            yield f"{path} was begun and never finished: delete it"


def parts_in(folder: Path) -> list[Path]:
    return [*folder.glob(f".*{PART}"), *(folder / SOUNDS).glob(f"*/.*{PART}")]
