"""Numbers of takes: each line counts its takes from 1, and a number once given is never another take's."""

from collections.abc import Sequence

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.clock import now
from trackread.book.tables import NumberRow

PAIRS = select(NumberRow.stretch, NumberRow.line)
LAST = select(NumberRow.line, func.max(NumberRow.number).label("last")).group_by(NumberRow.line)


def give_numbers(transaction: Transaction, wanted: Sequence[tuple[int, str]]) -> None:
    """Gives each stretch the next number of its line, unless it has had one of this line, which is still its own."""
    of_lines = NumberRow.line.in_({line for _, line in wanted})
    owned = {(stretch, line) for stretch, line in transaction.execute(PAIRS.where(of_lines))}
    last = {row.line: row.last for row in transaction.execute(LAST.where(of_lines))}
    given = []
    for stretch, line in wanted:
        if (stretch, line) not in owned:
            last[line] = last.get(line, 0) + 1
            given.append({"line": line, "number": last[line], "stretch": stretch, "given": now()})
    if given:
        transaction.execute(insert(NumberRow), given)
