"""Takes found by their names: `S2-017` by session and place, `L0107-3` by line and number, in capitals or not."""

import re

from sqlalchemy import func, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.drafts import no_line
from trackread.book.sessions import session_row
from trackread.book.standing import Standing, numbered_among, standing
from trackread.book.tables import DraftLineRow, NumberRow, StretchRow
from trackread.core.session import stretch_name
from trackread.errors import BookError

BY_PLACE = re.compile("S([0-9]{1,9})-([0-9]{1,9})")
BY_LINE = re.compile("(L[0-9]{4,})-([0-9]{1,9})")


def named(transaction: Transaction, name: str) -> Standing:
    """The stretch of this name. Raises BookError, saying what would be right, if there is none."""
    asked = name.strip().upper()
    if found := BY_PLACE.fullmatch(asked):
        return named_by_place(transaction, int(found[1]), int(found[2]))
    if found := BY_LINE.fullmatch(asked):
        return named_by_line(transaction, found[1], int(found[2]))
    raise BookError(f"{name!r} is not the name of a take: write it as S2-017 or L0107-3")


def named_by_place(transaction: Transaction, session: int, place: int) -> Standing:
    found = standing(transaction, (StretchRow.session == session) & (StretchRow.place == place))
    if found:
        return found[0]
    if session_row(transaction, session).numbered is None:
        raise BookError(f"S{session} has not been listened through yet: its takes have no names so far")
    count = transaction.scalar(select(func.max(StretchRow.place)).where(StretchRow.session == session)) or 0
    right = f"they run from {stretch_name(session, 1)} to {stretch_name(session, count)}" if count else "it has none"
    raise BookError(f"there is no stretch {stretch_name(session, place)} in S{session}: {right}")


def named_by_line(transaction: Transaction, line: str, number: int) -> Standing:
    key = transaction.scalar(select(NumberRow.stretch).where(NumberRow.line == line, NumberRow.number == number))
    if key is None:
        raise BookError(f"there is no take {line}-{number}: {takes_there(transaction, line)}")
    found = standing(transaction, StretchRow.id == key)[0]
    if found.take.line != line:
        now = f"take {found.take.name}" if found.take.line else f"{found.take.kind.value}, {found.take.name}"
        raise BookError(f"{line}-{number} is no take of {line} any more: it is {now} since {found.take.decided_by}")
    return found


def takes_there(transaction: Transaction, line: str) -> str:
    """Which takes of a line there are instead. Raises BookError if there is not even the line."""
    found = [one.take for one in standing(transaction, numbered_among({line})) if one.take.line == line]
    if not found:
        check_line(transaction, line)
        return f"{line} has no takes"
    numbers = sorted(take.number or 0 for take in found)
    return f"{line} has {', '.join(f'{line}-{number}' for number in numbers)}"


def check_line(transaction: Transaction, line: str) -> None:
    """Raises BookError if no draft has had the line."""
    if transaction.scalar(select(DraftLineRow.draft).where(DraftLineRow.line == line).limit(1)) is None:
        raise no_line(line)
