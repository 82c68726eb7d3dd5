"""Corrections of takes: each take's are counted from 1 and only ever added to.

The body is a correction as plain JSON, which the book keeps; it looks at no more of it than `words`, what it says.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.names import named
from trackread.book.tables import CorrectionRow, StretchRow
from trackread.errors import ClashError


@dataclass(frozen=True, slots=True)
class CorrectionNote:
    """One correction as the book has it."""

    sequence: int
    author: str
    time: str
    body: Mapping[str, object]

    @property
    def words(self) -> str:
        """What it says, in words."""
        return str(self.body.get("words", "a correction"))


def append_correction(book: Book, take_name: str, body: Mapping[str, object], author: str, *, after: int) -> int:
    """Adds a correction by somebody who has seen those up to `after`, 0 for none, and gives its number.

    Raises BookError if there is no such take, and ClashError, having added nothing, if others were added since.
    """
    with book.writing() as transaction:
        found = named(transaction, take_name)
        known = corrections_of(transaction, found.key)
        if len(known) != after:
            raise ClashError(clash(found.take.name, known[after:]))
        transaction.add(
            CorrectionRow(stretch=found.key, sequence=after + 1, author=author, time=now(), body=dict(body))
        )
        return after + 1


def clash(name: str, later: tuple[CorrectionNote, ...]) -> str:
    if not later:
        return f"{name} has fewer corrections than were looked at: look at it again"
    told = "; ".join(f"{note.author} at {note.time}: {note.words}" for note in later)
    return f"{name} has been changed since it was looked at: {told}: look at it again, then make your change"


def corrections(book: Book, take_name: str) -> tuple[CorrectionNote, ...]:
    """All corrections of a take, in the order of their being made. Raises BookError if there is no such take."""
    with book.reading() as transaction:
        return corrections_of(transaction, named(transaction, take_name).key)


def correction_counts(book: Book) -> dict[tuple[int, int], int]:
    """How many corrections each stretch has that has any, by its session and its place there."""
    each = (
        select(StretchRow.session, StretchRow.place, func.count())
        .join(CorrectionRow, CorrectionRow.stretch == StretchRow.id)
        .group_by(StretchRow.session, StretchRow.place)
    )
    with book.reading() as transaction:
        return {(session, place or 0): count for session, place, count in transaction.execute(each)}


def all_corrections(book: Book) -> dict[tuple[int, int], tuple[CorrectionNote, ...]]:
    """The corrections of every stretch that has any, by its session and its place there."""
    every = (
        select(StretchRow.session, StretchRow.place, CorrectionRow)
        .join(StretchRow, CorrectionRow.stretch == StretchRow.id)
        .order_by(CorrectionRow.stretch, CorrectionRow.sequence)
    )
    found: dict[tuple[int, int], tuple[CorrectionNote, ...]] = {}
    with book.reading() as transaction:
        for session, place, row in transaction.execute(every):
            note = CorrectionNote(row.sequence, row.author, row.time, row.body)
            found[session, place or 0] = (*found.get((session, place or 0), ()), note)
    return found


def corrections_of(transaction: Transaction, stretch: int) -> tuple[CorrectionNote, ...]:
    rows = transaction.scalars(
        select(CorrectionRow).where(CorrectionRow.stretch == stretch).order_by(CorrectionRow.sequence)
    )
    return tuple(CorrectionNote(row.sequence, row.author, row.time, row.body) for row in rows)
