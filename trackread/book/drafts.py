"""Drafts of the script, each kept whole with the ids that its lines carry; they count from 1."""

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import ColumnElement, func, insert, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.tables import DraftLineRow, DraftRow
from trackread.core.script import Script, ScriptLine
from trackread.errors import BookError, ClashError


@dataclass(frozen=True, slots=True)
class DraftNote:
    """What is known of a draft without reading it; `count` is how many lines it has."""

    number: int
    name: str
    title: str
    author: str
    added: str
    digest: str
    count: int


@dataclass(frozen=True, slots=True)
class KnownLine:
    """A line as the last draft that had it has it; `current` says whether that is the current draft."""

    line: ScriptLine
    draft: int
    current: bool


def add_draft(book: Book, script: Script, name: str, author: str, *, after: int) -> int:
    """Adds a draft whose ids were given by comparing it with draft `after`, 0 for none, and gives its number.

    The current draft again adds nothing. Raises ClashError if another draft came in between.
    """
    with book.writing() as transaction:
        current = newest(transaction)
        if current and current.digest == script.digest:
            return current.number
        if after != (current.number if current else 0):
            raise clash(transaction, after)
        if current and script.issued < current.issued:
            raise ValueError(f"{current.issued} ids were given, not {script.issued}")
        number = after + 1
        transaction.add(draft_row(number, script, name, author))
        transaction.flush()
        if script.lines:
            transaction.execute(insert(DraftLineRow), [line_row(number, line) for line in script.lines])
        return number


def draft_row(number: int, script: Script, name: str, author: str) -> DraftRow:
    return DraftRow(
        number=number,
        name=name,
        title=script.title,
        author=author,
        added=now(),
        digest=script.digest,
        issued=script.issued,
    )


def line_row(draft: int, line: ScriptLine) -> dict[str, object]:
    return {
        "draft": draft,
        "number": line.number,
        "line": line.id,
        "scene": line.scene,
        "character": line.character,
        "text": line.text,
        "source_line": line.source_line,
        "extension": line.extension,
        "dual": line.dual,
    }


def line_of(row: DraftLineRow) -> ScriptLine:
    return ScriptLine(
        row.line, row.number, row.scene, row.character, row.text, row.source_line, row.extension, row.dual
    )


def newest(transaction: Transaction) -> DraftRow | None:
    return transaction.scalars(select(DraftRow).order_by(DraftRow.number.desc()).limit(1)).first()


def clash(transaction: Transaction, after: int) -> ClashError:
    """Who added which drafts after the one that was compared with."""
    later = transaction.scalars(select(DraftRow).where(DraftRow.number > after).order_by(DraftRow.number)).all()
    if not later:
        return ClashError(f"there is no draft {after} to compare with: look at the drafts again")
    told = ", ".join(f"draft {row.number} ({row.name}) by {row.author} at {row.added}" for row in later)
    return ClashError(f"the script has changed since it was compared: {told}: compare with that, and add yours again")


def draft_number(book: Book) -> int:
    """The number of the current draft, 0 if there is none."""
    with book.reading() as transaction:
        return transaction.scalar(select(func.max(DraftRow.number))) or 0


def current_script(book: Book) -> Script | None:
    """The current draft, None if there is none."""
    with book.reading() as transaction:
        row = newest(transaction)
        return script_of(transaction, row) if row else None


def draft_script(book: Book, number: int) -> Script:
    """A draft. Raises BookError if there is none with this number."""
    with book.reading() as transaction:
        row = transaction.get(DraftRow, number)
        if row is None:
            count = transaction.scalar(select(func.max(DraftRow.number))) or 0
            right = f"they run from 1 to {count}" if count else "none has been added yet"
            raise BookError(f"there is no draft {number}: {right}")
        return script_of(transaction, row)


def script_of(transaction: Transaction, draft: DraftRow) -> Script:
    rows = transaction.scalars(
        select(DraftLineRow).where(DraftLineRow.draft == draft.number).order_by(DraftLineRow.number)
    )
    return Script(draft.title, tuple(map(line_of, rows)), draft.digest, draft.issued)


def drafts(book: Book) -> tuple[DraftNote, ...]:
    """All drafts, the first one first."""
    counted = select(DraftLineRow.draft, func.count().label("lines")).group_by(DraftLineRow.draft).subquery()
    every = (
        select(DraftRow, func.coalesce(counted.c.lines, 0))
        .outerjoin(counted, counted.c.draft == DraftRow.number)
        .order_by(DraftRow.number)
    )
    with book.reading() as transaction:
        return tuple(
            DraftNote(row.number, row.name, row.title, row.author, row.added, row.digest, count)
            for row, count in transaction.execute(every)
        )


def line_texts(book: Book, line_id: str) -> tuple[tuple[int, ScriptLine], ...]:
    """A line in every draft that has it, with the draft's number, the first one first.

    Raises BookError if no draft ever had it.
    """
    with book.reading() as transaction:
        found = tuple((row.draft, line_of(row)) for row in in_drafts(transaction, DraftLineRow.line == line_id))
    if not found:
        raise no_line(line_id)
    return found


def in_drafts(transaction: Transaction, where: ColumnElement[bool]) -> Iterable[DraftLineRow]:
    every = select(DraftLineRow).where(where)
    return transaction.scalars(every.order_by(DraftLineRow.draft, DraftLineRow.number))


def no_line(line_id: str) -> BookError:
    return BookError(f"there is no line {line_id}: no draft of the script has had it")


def texts_by_line(book: Book) -> dict[str, tuple[str, ...]]:
    """The words of every line in all drafts that had it, the newest first."""
    every = select(DraftLineRow.line, DraftLineRow.text).order_by(DraftLineRow.draft.desc())
    found: dict[str, tuple[str, ...]] = {}
    with book.reading() as transaction:
        for line, text in transaction.execute(every):
            found[line] = (*found.get(line, ()), text)
    return found


def lines_by_id(book: Book) -> dict[str, KnownLine]:
    """Every line that any draft has had, as the last of them has it, under its id; lines of older drafts come first."""
    last = select(DraftLineRow.line, func.max(DraftLineRow.draft).label("draft")).group_by(DraftLineRow.line).subquery()
    every = (
        select(DraftLineRow)
        .join(last, (last.c.line == DraftLineRow.line) & (last.c.draft == DraftLineRow.draft))
        .order_by(DraftLineRow.draft, DraftLineRow.number)
    )
    with book.reading() as transaction:
        current = transaction.scalar(select(func.max(DraftRow.number)))
        return {
            row.line: KnownLine(line_of(row), row.draft, row.draft == current) for row in transaction.scalars(every)
        }
