"""Readings that have been made, each under everything that it depends on, so that nothing is read twice.

The body is a reading as plain JSON (core/plain.py), which the book keeps and does not look into.
"""

from collections.abc import Collection, Mapping
from dataclasses import astuple, dataclass
from typing import Any

from sqlalchemy import ColumnElement, and_, select

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.packing import packed, unpacked
from trackread.book.tables import ReadingRow
from trackread.errors import BookError

IN_ONE_QUERY = 500


@dataclass(frozen=True, slots=True)
class ReadingKey:
    """What a reading depends on: which samples of which channel of which recording, the line, the production's own
    pronunciations, the pinned cuts, and the engine. `channel` counts from 1; None is the only one, or all alike.
    """

    digest: str
    start: int
    stop: int
    channel: int | None
    line_digest: str
    pronunciations_digest: str
    pins_digest: str
    engine: str


KEY_COLUMNS = (
    ReadingRow.digest,
    ReadingRow.start,
    ReadingRow.stop,
    ReadingRow.channel,
    ReadingRow.line_digest,
    ReadingRow.pronunciations_digest,
    ReadingRow.pins_digest,
    ReadingRow.engine,
)
KEYS = select(*KEY_COLUMNS)


def as_row(key: ReadingKey) -> tuple[str | int, ...]:
    return tuple(0 if value is None else value for value in astuple(key))


def key_of(row: tuple[Any, ...]) -> ReadingKey:
    digest, start, stop, channel, *rest = row
    return ReadingKey(digest, start, stop, channel or None, *rest)


def under(key: ReadingKey) -> ColumnElement[bool]:
    return and_(*(column == value for column, value in zip(KEY_COLUMNS, as_row(key), strict=True)))


def find_reading(book: Book, key: ReadingKey) -> dict[str, object] | None:
    """The reading under this key, None if it has not been made. Raises BookError if it is damaged."""
    with book.reading() as transaction:
        body = transaction.scalar(select(ReadingRow.body).where(under(key)))
    if body is None:
        return None
    try:
        return unpacked(body)
    except ValueError as error:
        raise BookError(f"the reading of {key.digest} from {key.start} to {key.stop} is damaged: {error}") from error


def newest_reading(
    book: Book, digest: str, span: tuple[int, int], channel: int | None, *, line_digest: str
) -> dict[str, object] | None:
    """The reading of these samples and this line that was made last, by whatever engine; None if there is none.

    Raises BookError if it is damaged.
    """
    these = and_(
        ReadingRow.digest == digest,
        ReadingRow.start == span[0],
        ReadingRow.stop == span[1],
        ReadingRow.channel == (channel or 0),
        ReadingRow.line_digest == line_digest,
    )
    with book.reading() as transaction:
        row = transaction.execute(KEYS.where(these).order_by(ReadingRow.id.desc()).limit(1)).first()
    return find_reading(book, key_of(tuple(row))) if row else None


def save_reading(book: Book, key: ReadingKey, body: Mapping[str, object]) -> None:
    """Saves a reading; one that is there under the same key stays instead."""
    columns = {column.key: value for column, value in zip(KEY_COLUMNS, as_row(key), strict=True)}
    with book.writing() as transaction:
        if transaction.scalar(select(ReadingRow.id).where(under(key))) is None:
            transaction.add(ReadingRow(**columns, body=packed(body), made=now()))


@dataclass(frozen=True, slots=True)
class ReadingNote:
    """Which reading it is among all, and when it was made."""

    id: int
    made: str


Spoken = tuple[str, int | None, int, int, str]  # recording, channel, first sample and stop, digest of the line's words


def newest_notes(book: Book, recording: str | None = None) -> dict[Spoken, ReadingNote]:
    """Of readings of the same samples and the same words, the one that was made last; of one recording, if asked."""
    row = ReadingRow
    columns = select(row.digest, row.channel, row.start, row.stop, row.line_digest, row.id, row.made).order_by(row.id)
    if recording is not None:
        columns = columns.where(row.digest == recording)
    with book.reading() as transaction:
        return {
            (digest, channel or None, start, stop, line): ReadingNote(id, made)
            for digest, channel, start, stop, line, id, made in transaction.execute(columns)
        }


def readings_with(book: Book, ids: Collection[int]) -> dict[int, dict[str, object]]:
    """Some readings. Raises BookError if one of them is damaged."""
    wanted, found = sorted(ids), dict[int, dict[str, object]]()
    with book.reading() as transaction:
        for first in range(0, len(wanted), IN_ONE_QUERY):
            some = select(ReadingRow.id, ReadingRow.body).where(ReadingRow.id.in_(wanted[first : first + IN_ONE_QUERY]))
            for id, body in transaction.execute(some):
                try:
                    found[id] = unpacked(body)
                except ValueError as error:
                    raise BookError(f"reading {id} is damaged: {error}") from error
    return found


def keys_of(book: Book) -> frozenset[ReadingKey]:
    """The keys of all readings."""
    with book.reading() as transaction:
        return frozenset(key_of(tuple(row)) for row in transaction.execute(KEYS))


def readings_done(book: Book, keys: Collection[ReadingKey]) -> frozenset[ReadingKey]:
    """Those of the keys that have a reading, in one query for many recordings."""
    digests = sorted({key.digest for key in keys})
    wanted, done = frozenset(keys), set[ReadingKey]()
    with book.reading() as transaction:
        for first in range(0, len(digests), IN_ONE_QUERY):
            some = KEYS.where(ReadingRow.digest.in_(digests[first : first + IN_ONE_QUERY]))
            done |= {key_of(tuple(row)) for row in transaction.execute(some)} & wanted
    return frozenset(done)
