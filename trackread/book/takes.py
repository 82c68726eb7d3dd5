"""Takes: what was found in the sessions, and what people decide of it.

A decision is added to those before it and takes nothing away; it needs a name that `named` knows, and an author.
"""

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import ColumnElement, true
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.names import check_line, named
from trackread.book.numbering import give_numbers
from trackread.book.sessions import session_row
from trackread.book.standing import Decision, DecisionKind, decisions_of, numbered_among, numbers_of, standing
from trackread.book.tables import DecisionRow, StretchRow
from trackread.core.session import StretchKind, Take, Wholeness
from trackread.errors import BookError

IN_ONE_QUERY = 500


@dataclass(frozen=True, slots=True)
class DecisionNote:
    """A decision as people read it; `what` says in words what was decided."""

    author: str
    time: str
    what: str


def takes(
    book: Book,
    *,
    line: str | None = None,
    session: int | None = None,
    kind: StretchKind | None = None,
    line_ids: Collection[str] | None = None,
) -> tuple[Take, ...]:
    """The stretches of all sessions that have been listened through, as they stand now, by session and place.

    Only those of a line, a session, a kind, and one of several lines, where given. Raises BookError for a session that
    there is none of.
    """
    lines = None if line_ids is None else {*line_ids}
    if line is not None:
        lines = {line} if lines is None else lines & {line}
    where: ColumnElement[bool] = true()
    if session is not None:
        where &= StretchRow.session == session
    if lines is not None and len(lines) <= IN_ONE_QUERY:
        where &= numbered_among(lines)
    with book.reading() as transaction:
        if session is not None:
            session_row(transaction, session)
        found = [one.take for one in standing(transaction, where)]
    return tuple(
        take for take in found if (lines is None or take.line in lines) and (kind is None or take.kind is kind)
    )


def take_named(book: Book, name: str) -> Take:
    """The take called `S2-017` or `L0107-3`. Raises BookError, saying what would be right, if there is none."""
    with book.reading() as transaction:
        return named(transaction, name).take


def circle(book: Book, name: str, author: str, *, on: bool = True) -> Take:
    """Circles a take, or takes its circle away, and gives it as it stands then. Raises BookError if it is no take."""
    with book.writing() as transaction:
        found = named(transaction, name)
        if found.take.kind is not StretchKind.TAKE:
            raise BookError(f"{found.take.name} is {found.take.kind.value}, no take: assign it to a line first")
        if found.take.circled == on:
            return found.take
        decide(transaction, found.key, author, DecisionKind.CIRCLE if on else DecisionKind.UNCIRCLE)
        return stands(transaction, found.key)


def assign(book: Book, name: str, to: str | StretchKind, author: str, wholeness: Wholeness | None = None) -> Take:
    """Says what a stretch is, a take of the line `to` or no take, and gives it as it stands then.

    A take of another line than before has that line's next number, and its old number is nobody else's. How much of
    the line it says is what was guessed for that line, whole if nothing was, unless `wholeness` says it. Raises
    BookError if there is no such stretch or line.
    """
    if to == StretchKind.TAKE:
        raise BookError("a take is of a line: say of which, as L0107")
    with book.writing() as transaction:
        found = named(transaction, name)
        if isinstance(to, StretchKind):
            if found.take.kind is not to:
                decide(transaction, found.key, author, DecisionKind(to.value))
            return stands(transaction, found.key)
        line = to.strip().upper()
        check_line(transaction, line)
        part = wholeness or wholeness_in(found.take, line)
        if (found.take.line, found.take.wholeness) != (line, part):
            decide(transaction, found.key, author, DecisionKind.TAKE, line=line, wholeness=part)
            give_numbers(transaction, [(found.key, line)])
        return stands(transaction, found.key)


def wholeness_in(take: Take, line: str) -> Wholeness:
    """How much of a line a stretch says, where nobody says so now."""
    if take.line == line and take.wholeness:
        return take.wholeness
    return next((guess.wholeness for guess in take.stretch.guesses if guess.line == line), Wholeness.WHOLE)


def decide(
    transaction: Transaction,
    stretch: int,
    author: str,
    kind: DecisionKind,
    *,
    line: str | None = None,
    wholeness: Wholeness | None = None,
) -> None:
    part = wholeness.value if wholeness else None
    transaction.add(DecisionRow(stretch=stretch, author=author, time=now(), kind=kind.value, line=line, wholeness=part))


def stands(transaction: Transaction, key: int) -> Take:
    return standing(transaction, StretchRow.id == key)[0].take


def decisions(book: Book, name: str) -> tuple[DecisionNote, ...]:
    """All that was decided of a stretch, the first first. Raises BookError if there is no such stretch."""
    with book.reading() as transaction:
        key = named(transaction, name).key
        where = StretchRow.id == key
        numbers = numbers_of(transaction, where)[key]
        return tuple(
            DecisionNote(one.author, one.time, in_words(one, numbers)) for one in decisions_of(transaction, where)[key]
        )


def in_words(decision: Decision, numbers: dict[str, int]) -> str:
    match decision.kind:
        case DecisionKind.CIRCLE:
            return "circled"
        case DecisionKind.UNCIRCLE:
            return "no longer circled"
        case DecisionKind.TAKE if decision.line and decision.wholeness:
            return f"take {decision.line}-{numbers[decision.line]}, {decision.wholeness.value}"
        case _:
            return decision.kind.value
