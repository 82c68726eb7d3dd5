"""Cuts, each kept whole from the time it was added; they count from 1 and the last is the current one.

The body is a cut as plain JSON (core/plain_cut.py), which the book keeps and does not look into.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.packing import packed, unpacked
from trackread.book.tables import CutRow
from trackread.errors import BookError, ClashError

NOTES = select(CutRow.number, CutRow.title, CutRow.lists, CutRow.what, CutRow.author, CutRow.added)


@dataclass(frozen=True, slots=True)
class CutNote:
    """What is known of a cut without reading it; `what` says in words what made it another than the one before."""

    number: int
    title: str
    lists: tuple[str, ...]
    what: str
    author: str
    added: str


@dataclass(frozen=True, slots=True)
class NewCut:
    """A cut that is to be added."""

    title: str
    lists: Sequence[str]
    what: str
    body: Mapping[str, object]


def add_cut(book: Book, new: NewCut, author: str, *, after: int) -> int:
    """Adds a cut that was made from cut `after`, 0 for none, and gives its number; the current one again adds nothing.

    Raises ClashError if another cut came in between.
    """
    body = packed(new.body)
    with book.writing() as transaction:
        current = transaction.scalars(select(CutRow).order_by(CutRow.number.desc()).limit(1)).first()
        if current and current.body == body:
            return current.number
        if after != (current.number if current else 0):
            told = (
                f"cut {current.number} ({current.what}) by {current.author} at {current.added}" if current else "none"
            )
            raise ClashError(f"the cut has changed since it was looked at: {told}: do it again, on that")
        row = CutRow(number=after + 1, title=new.title, lists=list(new.lists), what=new.what, author=author)
        row.added, row.body = now(), body
        transaction.add(row)
        return after + 1


def cut_number(book: Book) -> int:
    """The number of the current cut, 0 if there is none."""
    with book.reading() as transaction:
        return transaction.scalar(select(func.max(CutRow.number))) or 0


def cut_body(book: Book, number: int) -> dict[str, object]:
    """A cut. Raises BookError if there is none with this number, or it is damaged."""
    with book.reading() as transaction:
        body = transaction.scalar(select(CutRow.body).where(CutRow.number == number))
        count = transaction.scalar(select(func.max(CutRow.number))) or 0
    if body is None:
        right = f"they run from 1 to {count}" if count else "none has been added yet"
        raise BookError(f"there is no cut {number}: {right}")
    try:
        return unpacked(body)
    except ValueError as error:
        raise BookError(f"cut {number} is damaged: {error}") from error


def cuts(book: Book) -> tuple[CutNote, ...]:
    """All cuts, the first one first."""
    with book.reading() as transaction:
        rows = transaction.execute(NOTES.order_by(CutRow.number)).all()
    return tuple(CutNote(row[0], row[1], tuple(row[2]), *row[3:]) for row in rows)
