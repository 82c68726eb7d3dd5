"""What was added to the book last: a number for each kind of row, so that one look tells whether there is any news.

What is asked for `after` a number is what was added since: what the number told then may be told once more, so who
keeps it takes the newer in place of the older.
"""

from collections import defaultdict
from dataclasses import dataclass, fields

from sqlalchemy import and_, func, select

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote
from trackread.book.readings import ReadingNote, Spoken
from trackread.book.shot_notes import ShotNote
from trackread.book.standing import Standing, standing
from trackread.book.tables import (
    CorrectionRow,
    CutRow,
    DecisionRow,
    DraftRow,
    IssueRow,
    ReadingRow,
    SessionRow,
    ShotNoteRow,
    StretchRow,
)

NUMBERS = {
    "issue": func.max(IssueRow.id),
    "note": func.max(ShotNoteRow.id),
    "correction": func.max(CorrectionRow.id),
    "decision": func.max(DecisionRow.id),
    "cut": func.max(CutRow.number),
    "reading": func.max(ReadingRow.id),
    "draft": func.max(DraftRow.number),
    "session": func.max(SessionRow.id),
    "listened": func.count(SessionRow.numbered),
}
# The take that a reading is of; one of other samples than a stretch has is of none.
OF_READING = and_(
    SessionRow.digest == ReadingRow.digest,
    SessionRow.channel == ReadingRow.channel,
    StretchRow.session == SessionRow.id,
    StretchRow.start == ReadingRow.start,
    StretchRow.stop == ReadingRow.stop,
)


@dataclass(frozen=True, slots=True)
class Latest:
    """The highest number of each kind of row, 0 where there is none; `listened` counts the sessions that have been
    listened through, whose stretches are takes from then on.
    """

    issue: int
    note: int
    correction: int
    decision: int
    cut: int
    reading: int
    draft: int
    session: int
    listened: int


def latest(book: Book) -> Latest:
    """What was added last."""
    each = [select(NUMBERS[one.name]).scalar_subquery() for one in fields(Latest)]
    with book.reading() as transaction:
        return Latest(*(number or 0 for number in transaction.execute(select(*each)).one()))


def shots_issued_after(book: Book, number: int) -> tuple[str, ...]:
    """The shots that have had sheets given out since an issue, each once."""
    asked = select(IssueRow.shot).where(IssueRow.id > number).order_by(IssueRow.id)
    with book.reading() as transaction:
        return tuple(dict.fromkeys(transaction.scalars(asked)))


def shots_issued_to(book: Book, unit: str) -> frozenset[str]:
    """The shots that a unit has, or has had, a sheet of."""
    with book.reading() as transaction:
        return frozenset(transaction.scalars(select(IssueRow.shot).where(IssueRow.unit == unit)))


def notes_after(book: Book, number: int) -> tuple[ShotNote, ...]:
    """The newest note of each kind of each shot that has had one since some note."""
    asked = select(ShotNoteRow).where(ShotNoteRow.id > number).order_by(ShotNoteRow.id)
    with book.reading() as transaction:
        newest = {
            (row.shot, row.kind): ShotNote(row.id, row.shot, row.kind, row.author, row.time, row.body)
            for row in transaction.scalars(asked)
        }
    return tuple(newest.values())


def readings_after(book: Book, number: int) -> dict[Spoken, ReadingNote]:
    """What has been read since a reading: the newest reading of the same samples and words."""
    row = ReadingRow
    columns = select(row.digest, row.channel, row.start, row.stop, row.line_digest, row.id, row.made)
    with book.reading() as transaction:
        return {
            (digest, channel or None, start, stop, line): ReadingNote(id, made)
            for digest, channel, start, stop, line, id, made in transaction.execute(
                columns.where(row.id > number).order_by(row.id)
            )
        }


def corrections_after(book: Book, number: int) -> dict[tuple[int, int], tuple[CorrectionNote, ...]]:
    """All corrections of those stretches that have had one since some correction, by session and place there."""
    new = select(CorrectionRow.stretch).where(CorrectionRow.id > number)
    every = (
        select(StretchRow.session, StretchRow.place, CorrectionRow)
        .join(StretchRow, CorrectionRow.stretch == StretchRow.id)
        .where(CorrectionRow.stretch.in_(new))
        .order_by(CorrectionRow.stretch, CorrectionRow.sequence)
    )
    found: defaultdict[tuple[int, int], list[CorrectionNote]] = defaultdict(list)
    with book.reading() as transaction:
        for session, place, row in transaction.execute(every):
            found[session, place or 0].append(CorrectionNote(row.sequence, row.author, row.time, row.body))
    return {place: tuple(notes) for place, notes in found.items()}


def takes_corrected_after(book: Book, number: int) -> dict[str, str]:
    """The names of the takes that have been corrected since some correction, each with who was the last to."""
    return names_with(takes_with(book, CorrectionRow, number))


def takes_decided_after(book: Book, number: int) -> dict[str, str]:
    """The names of the stretches of which something was decided since some decision, each with who was the last to."""
    return names_with(decided_after(book, number))


def decided_after(book: Book, number: int) -> list[tuple[Standing, str]]:
    """The stretches of which something was decided since some decision, as they stand, each with who did so last."""
    return takes_with(book, DecisionRow, number)


def takes_read_after(book: Book, number: int) -> tuple[str, ...]:
    """The names of the takes that have been read since some reading."""
    asked = select(StretchRow.id).join(SessionRow, StretchRow.session == SessionRow.id)
    with book.reading() as transaction:
        keys = transaction.scalars(asked.join(ReadingRow, OF_READING).where(ReadingRow.id > number).distinct()).all()
        return tuple(one.take.name for one in standing(transaction, StretchRow.id.in_(keys))) if keys else ()


def takes_with(book: Book, rows: type[CorrectionRow | DecisionRow], number: int) -> list[tuple[Standing, str]]:
    """The stretches that have rows of a kind after some row, as they stand, each with the author of the last."""
    asked = select(rows.stretch, rows.author).where(rows.id > number).order_by(rows.id)
    with book.reading() as transaction:
        by = {row.stretch: row.author for row in transaction.execute(asked)}
        if not by:
            return []
        return [(one, by[one.key]) for one in standing(transaction, StretchRow.id.in_(by))]


def names_with(found: list[tuple[Standing, str]]) -> dict[str, str]:
    return {one.take.name: author for one, author in found}
