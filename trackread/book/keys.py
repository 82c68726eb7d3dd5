"""Keys to the server, which count from 1, and the browsers that have signed in with them.

The book holds no key and no cookie, only what they are known again by.
"""

from dataclasses import dataclass

from sqlalchemy import delete, func, select, update

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.tables import KeyRow, VisitRow
from trackread.errors import BookError


@dataclass(frozen=True, slots=True)
class Hashed:
    """What a key is known again by."""

    salt: bytes
    digest: bytes


@dataclass(frozen=True, slots=True)
class KeyNote:
    """What is known of a key: whose it is. `unit` is "" for who is of no unit, `revoked` None while it opens."""

    number: int
    role: str
    name: str
    unit: str
    author: str
    added: str
    revoked: str | None


def add_key(book: Book, hashed: Hashed, *, role: str, name: str, unit: str, author: str) -> KeyNote:
    """Adds a key, which has the next number."""
    with book.writing() as transaction:
        number = (transaction.scalar(select(func.max(KeyRow.number))) or 0) + 1
        row = KeyRow(number=number, role=role, name=name, unit=unit, author=author, added=now(), revoked=None)
        row.salt, row.digest = hashed.salt, hashed.digest
        transaction.add(row)
        return note_of(row)


def keys(book: Book) -> tuple[KeyNote, ...]:
    """All keys that ever were, in the order of their making."""
    with book.reading() as transaction:
        return tuple(map(note_of, transaction.scalars(select(KeyRow).order_by(KeyRow.number))))


def hashed_key(book: Book, number: int) -> Hashed | None:
    """What a key that still opens is known by; None if there is none of this number."""
    with book.reading() as transaction:
        row = transaction.scalar(select(KeyRow).where(KeyRow.number == number, KeyRow.revoked.is_(None)))
        return Hashed(row.salt, row.digest) if row else None


def revoke_key(book: Book, number: int) -> KeyNote:
    """Ends a key and all that has signed in with it. Raises BookError if there is none such, or it has ended."""
    with book.writing() as transaction:
        row = transaction.get(KeyRow, number)
        if row is None:
            raise BookError(f"there is no key {number}: `trackread key list` lists them")
        if row.revoked:
            raise BookError(f"key {number} of {row.name} was revoked at {row.revoked} already")
        row.revoked = now()
        return note_of(row)


def begin_visit(book: Book, digest: str, number: int) -> KeyNote | None:
    """Notes that a browser has signed in with a key, and gives whose it is; None if that does not open any more."""
    with book.writing() as transaction:
        row = transaction.get(KeyRow, number)
        if row is None or row.revoked:
            return None
        transaction.add(VisitRow(digest=digest, key=number, started=now(), ended=None))
        return note_of(row)


def visit(book: Book, digest: str, since: str) -> KeyNote | None:
    """Whose key a browser has signed in with, at `since` (ISO 8601) or later; None if it has not, or has signed out."""
    asked = (
        select(KeyRow)
        .join(VisitRow, VisitRow.key == KeyRow.number)
        .where(VisitRow.digest == digest, VisitRow.started >= since)
        .where(VisitRow.ended.is_(None), KeyRow.revoked.is_(None))
    )
    with book.reading() as transaction:
        row = transaction.scalar(asked)
        return note_of(row) if row else None


def end_visit(book: Book, digest: str) -> None:
    """Notes that a browser has signed out; nothing if it had not signed in."""
    with book.writing() as transaction:
        row = transaction.get(VisitRow, digest)
        if row and row.ended is None:
            row.ended = now()


@dataclass(frozen=True, slots=True)
class Ended:
    """How many keys have been revoked, and how many browsers have signed out."""

    keys: int
    visits: int


def ended(book: Book) -> Ended:
    """What has ended so far: it is another whenever somebody is no longer let in."""
    each = (func.count(KeyRow.revoked), func.count(VisitRow.ended))
    with book.reading() as transaction:
        return Ended(*(transaction.scalar(select(one)) or 0 for one in each))


def forget_visits(book: Book, before: str) -> int:
    """Deletes what is known of browsers that signed in before a time (ISO 8601), and says of how many that was."""
    with book.writing() as transaction:
        gone = delete(VisitRow).where(VisitRow.started < before).returning(VisitRow.digest)
        return len(transaction.scalars(gone).all())


def end_visits(book: Book) -> None:
    """Notes that every browser has signed out."""
    with book.writing() as transaction:
        transaction.execute(update(VisitRow).where(VisitRow.ended.is_(None)).values(ended=now()))


def note_of(row: KeyRow) -> KeyNote:
    return KeyNote(row.number, row.role, row.name, row.unit, row.author, row.added, row.revoked)
