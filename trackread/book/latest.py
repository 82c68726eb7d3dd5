"""What was added to the book last: a number for each kind of row, so that one look tells whether there is any news."""

from dataclasses import dataclass, fields

from sqlalchemy import func, select

from trackread.book.book import Book
from trackread.book.standing import standing
from trackread.book.tables import (
    CorrectionRow,
    CutRow,
    DecisionRow,
    DraftRow,
    IssueRow,
    ReadingRow,
    ShotNoteRow,
    StretchRow,
)

NUMBERS = {
    "issue": IssueRow.id,
    "note": ShotNoteRow.id,
    "correction": CorrectionRow.id,
    "decision": DecisionRow.id,
    "cut": CutRow.number,
    "reading": ReadingRow.id,
    "draft": DraftRow.number,
}


@dataclass(frozen=True, slots=True)
class Latest:
    """The highest number of each kind of row, 0 where there is none."""

    issue: int
    note: int
    correction: int
    decision: int
    cut: int
    reading: int
    draft: int


@dataclass(frozen=True, slots=True)
class NewNote:
    """A note of a kind that was told of a shot, by whom."""

    shot: str
    kind: str
    author: str
    body: dict[str, object]


def latest(book: Book) -> Latest:
    """What was added last."""
    each = [select(func.max(NUMBERS[one.name])).scalar_subquery() for one in fields(Latest)]
    with book.reading() as transaction:
        return Latest(*(number or 0 for number in transaction.execute(select(*each)).one()))


def shots_issued_after(book: Book, number: int) -> tuple[str, ...]:
    """The shots that have had sheets given out since an issue, each once."""
    asked = select(IssueRow.shot).where(IssueRow.id > number).order_by(IssueRow.id)
    with book.reading() as transaction:
        return tuple(dict.fromkeys(transaction.scalars(asked)))


def notes_after(book: Book, number: int, kind: str) -> tuple[NewNote, ...]:
    """The newest note of a kind of each shot that has had one since some note."""
    asked = select(ShotNoteRow).where(ShotNoteRow.id > number, ShotNoteRow.kind == kind).order_by(ShotNoteRow.id)
    with book.reading() as transaction:
        newest = {row.shot: NewNote(row.shot, row.kind, row.author, row.body) for row in transaction.scalars(asked)}
    return tuple(newest.values())


def note_kinds_after(book: Book, number: int) -> tuple[str, ...]:
    """The kinds of notes that were told of shots since some note, each once."""
    with book.reading() as transaction:
        return tuple(transaction.scalars(select(ShotNoteRow.kind).where(ShotNoteRow.id > number).distinct()))


def takes_corrected_after(book: Book, number: int) -> dict[str, str]:
    """The names of the takes that have been corrected since some correction, each with who was the last to."""
    return takes_with(book, CorrectionRow, number)


def takes_decided_after(book: Book, number: int) -> dict[str, str]:
    """The names of the stretches of which something was decided since some decision, each with who was the last to."""
    return takes_with(book, DecisionRow, number)


def takes_with(book: Book, rows: type[CorrectionRow | DecisionRow], number: int) -> dict[str, str]:
    """The names of the stretches that have rows of a kind after some row, each with the author of the last."""
    asked = select(rows.stretch, rows.author).where(rows.id > number).order_by(rows.id)
    with book.reading() as transaction:
        by = {row.stretch: row.author for row in transaction.execute(asked)}
        if not by:
            return {}
        return {one.take.name: by[one.key] for one in standing(transaction, StretchRow.id.in_(by))}
