"""Sheets that were given out, each frozen with its PDF; those of a shot count from 1, and the last is the current one.

The book keeps what an issue rests on, and its sheet as JSON, and looks into neither.
"""

import hashlib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session as Transaction
from sqlalchemy.orm import defer

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.packing import packed, unpacked
from trackread.book.tables import IssuePdfRow, IssueRow
from trackread.errors import BookError, ClashError

AT_ONCE = 50  # sheets that are fetched together


@dataclass(frozen=True, slots=True)
class NewIssue:
    """A sheet that is to be given out. `date` is the day as ISO 8601 has it."""

    shot: str
    number: int
    code: str
    unit: str
    reason: str
    date: str
    rests_on: Mapping[str, object]
    snapshot: Mapping[str, object]
    pdf: bytes


@dataclass(frozen=True, slots=True)
class Issue:
    """An issue without its sheet. `last` is the number of its shot's current issue."""

    id: int
    shot: str
    number: int
    code: str
    unit: str
    reason: str
    author: str
    date: str
    time: str
    digest: str
    rests_on: Mapping[str, object]
    last: int

    @property
    def current(self) -> bool:
        return self.number == self.last


def add_issues(book: Book, new: Sequence[NewIssue], author: str) -> None:
    """Adds issues, all or none. Raises ClashError if one of their shots has been issued by somebody else meanwhile."""
    with book.writing() as transaction:
        lasts = last_numbers(transaction, [one.shot for one in new])
        for one in new:
            if one.number != lasts.get(one.shot, 0) + 1:
                told = f"{one.shot} has been issued since it was looked at"
                raise ClashError(f"{told}: its issue {lasts.get(one.shot, 0)} is out: look at that, then issue again")
            row = IssueRow(
                shot=one.shot,
                number=one.number,
                code=one.code,
                unit=one.unit,
                reason=one.reason,
                author=author,
                date=one.date,
                time=now(),
                digest=hashlib.sha256(one.pdf).hexdigest(),
                rests_on=dict(one.rests_on),
                snapshot=packed(one.snapshot),
            )
            transaction.add(row)
            transaction.flush()
            transaction.add(IssuePdfRow(issue=row.id, body=one.pdf))


def last_numbers(transaction: Transaction, shots: Collection[str] | None = None) -> dict[str, int]:
    """The number of the current issue of each shot that has one."""
    every = select(IssueRow.shot, func.max(IssueRow.number)).group_by(IssueRow.shot)
    if shots is not None and len(shots) == 1:
        every = every.where(IssueRow.shot == next(iter(shots)))
    return {shot: last for shot, last in transaction.execute(every) if shots is None or shot in shots}


def issues(book: Book, *, shot: str | None = None, current: bool = False) -> tuple[Issue, ...]:
    """All issues in the order of their being made; those of a shot, or the current ones, if so asked."""
    every = select(IssueRow).options(defer(IssueRow.snapshot)).order_by(IssueRow.id)
    if shot is not None:
        every = every.where(IssueRow.shot == shot)
    with book.reading() as transaction:
        lasts = last_numbers(transaction, None if shot is None else [shot])
        rows = [row for row in transaction.scalars(every) if not current or row.number == lasts[row.shot]]
        return tuple(issue_of(row, lasts) for row in rows)


def issue_with_code(book: Book, code: str) -> Issue | None:
    """The issue that a code stands for, None if it stands for none."""
    with book.reading() as transaction:
        row = transaction.scalars(select(IssueRow).where(IssueRow.code == code)).first()
        return issue_of(row, last_numbers(transaction, [row.shot])) if row else None


def issue_of(row: IssueRow, lasts: Mapping[str, int]) -> Issue:
    return Issue(
        row.id,
        row.shot,
        row.number,
        row.code,
        row.unit,
        row.reason,
        row.author,
        row.date,
        row.time,
        row.digest,
        row.rests_on,
        lasts[row.shot],
    )


def snapshot_of(book: Book, issue: Issue) -> dict[str, object]:
    """The sheet as it was issued. Raises BookError if it is damaged."""
    with book.reading() as transaction:
        body = transaction.scalar(select(IssueRow.snapshot).where(IssueRow.id == issue.id))
    return sheet_in(body or b"", issue)


def snapshots_of(book: Book, some: Sequence[Issue]) -> Iterator[dict[str, object]]:
    """The sheets of some issues as they were issued, in the order given, fetched some at a time.

    Raises BookError if one is damaged.
    """
    for first in range(0, len(some), AT_ONCE):
        part = some[first : first + AT_ONCE]
        asked = select(IssueRow.id, IssueRow.snapshot).where(IssueRow.id.in_([one.id for one in part]))
        with book.reading() as transaction:
            bodies = {row.id: row.snapshot for row in transaction.execute(asked)}
        for one in part:
            yield sheet_in(bodies.get(one.id, b""), one)


def sheet_in(body: bytes, issue: Issue) -> dict[str, object]:
    """The sheet that is packed in a row. Raises BookError if it is damaged."""
    try:
        return unpacked(body)
    except ValueError as error:
        raise BookError(f"issue {issue.number} of {issue.shot} is damaged: {error}") from error


def pdf_of(book: Book, issue: Issue) -> bytes:
    """The PDF, byte for byte as it was issued. Raises BookError if it is damaged."""
    with book.reading() as transaction:
        body = transaction.scalar(select(IssuePdfRow.body).where(IssuePdfRow.issue == issue.id))
    if body is None or hashlib.sha256(body).hexdigest() != issue.digest:
        raise BookError(f"the PDF of issue {issue.number} of {issue.shot} is damaged: restore a backup")
    return body
