"""What people told of shots: a note of a kind stays until one of the same kind is told of the same shot.

The book keeps the body as it is. Boards are pictures, each kept once under the SHA-256 of its file.
"""

import hashlib
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from sqlalchemy import func, select

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.tables import BoardRow, ShotNoteRow
from trackread.errors import BookError, ClashError


@dataclass(frozen=True, slots=True)
class ShotNote:
    """One thing told of a shot; `id` counts all notes of the book."""

    id: int
    shot: str
    kind: str
    author: str
    time: str
    body: Mapping[str, object]


def tell_of_shot(
    book: Book, shot: str, told: Mapping[str, Mapping[str, object]], author: str, *, after: int | None = None
) -> None:
    """Adds a note of each kind that is told; `after` is the newest of them that was seen, 0 for none.

    Raises ClashError, having added nothing, if there is a newer one than that.
    """
    with book.writing() as transaction:
        rows = select(ShotNoteRow).where(
            ShotNoteRow.shot == shot, ShotNoteRow.kind.in_(told), ShotNoteRow.id > (after or 0)
        )
        newer = transaction.scalars(rows.limit(1)).first() if after is not None else None
        if newer:
            raise ClashError(f"{shot} has been told otherwise by {newer.author} at {newer.time}: look at it again")
        for kind, body in told.items():
            row = ShotNoteRow(shot=shot, kind=kind, author=author, time=now(), body=dict(body))
            transaction.add(row)
            transaction.flush()


def shot_notes(book: Book, shots: Collection[str] | None = None) -> dict[str, dict[str, ShotNote]]:
    """By shot and kind, the note that counts; only those of some shots, if they are given."""
    last = select(func.max(ShotNoteRow.id)).group_by(ShotNoteRow.shot, ShotNoteRow.kind)
    if shots is not None and len(shots) == 1:
        last = last.where(ShotNoteRow.shot == next(iter(shots)))
    found: dict[str, dict[str, ShotNote]] = {}
    with book.reading() as transaction:
        for row in transaction.scalars(select(ShotNoteRow).where(ShotNoteRow.id.in_(last)).order_by(ShotNoteRow.id)):
            if shots is None or row.shot in shots:
                note = ShotNote(row.id, row.shot, row.kind, row.author, row.time, row.body)
                found.setdefault(row.shot, {})[row.kind] = note
    return found


def keep_board(book: Book, name: str, body: bytes) -> str:
    """Keeps a picture and gives the digest that it is found by."""
    digest = hashlib.sha256(body).hexdigest()
    with book.writing() as transaction:
        if transaction.get(BoardRow, digest) is None:
            transaction.add(BoardRow(digest=digest, name=name, body=body, added=now()))
    return digest


def board(book: Book, digest: str) -> bytes:
    """A picture. Raises BookError if it is not there."""
    with book.reading() as transaction:
        body = transaction.scalar(select(BoardRow.body).where(BoardRow.digest == digest))
    if body is None:
        raise BookError(f"the board {digest} is not in the book")
    return body
