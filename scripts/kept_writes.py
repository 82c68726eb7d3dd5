"""Whether all that a server has acknowledged is in the book, each once."""

from collections import Counter
from collections.abc import Iterator, Sequence

from sqlalchemy import select
from visitors_at_work import Desk, Unit

from trackread.book.book import Book
from trackread.book.corrections import corrections
from trackread.book.issues import issues
from trackread.book.tables import ShootingRow
from trackread.book.takes import take_named
from trackread.workflow.shooting import shooting_on


def lost_writes(book: Book, units: Sequence[Unit], desks: Sequence[Desk]) -> Iterator[str]:
    """What was acknowledged and is not there, or twice, in words."""
    yield from lost_counts(book, units)
    yield from lost_corrections(book, desks)
    codes = Counter(one.code for one in issues(book))
    there = {one.code: (one.shot, one.number) for one in issues(book)}
    yield from (f"the code {code} is there {times} times" for code, times in codes.items() if times > 1)
    for desk in desks:
        yield from (
            f"issue {n} of {shot}: lost" for code, (shot, n) in desk.issued.items() if there.get(code) != (shot, n)
        )
    for desk in desks:
        for take, on in desk.circled.items():
            if take_named(book, take).circled != on:
                yield f"{take} is {'not ' * on}circled"


def lost_counts(book: Book, units: Sequence[Unit]) -> Iterator[str]:
    """Counts of frames; and whether each shot has as many frames shot as its unit was told last."""
    with book.reading() as transaction:
        rows = transaction.execute(select(ShootingRow.event, ShootingRow.shot, ShootingRow.count)).all()
    times, kept = Counter(row.event for row in rows), {row.event: (row.shot, row.count) for row in rows}
    yield from (f"count {one} is there {count} times" for one, count in times.items() if count > 1)
    for unit in units:
        yield from (
            f"{shot}, {count} frames: lost"
            for one, (shot, count) in unit.told.items()
            if kept.get(one) != (shot, count)
        )
        if unit.shot and (found := shooting_on(book, issues(book, shot=unit.shot)[-1]).done) != unit.done:
            yield f"{unit.shot} has {found} frames shot, and its unit was told {unit.done}"


def lost_corrections(book: Book, desks: Sequence[Desk]) -> Iterator[str]:
    """Corrections: each must be of its kind and under its number, and none under the number of another."""
    places = Counter((one.take, one.sequence) for desk in desks for one in desk.corrected)
    yield from (f"{take}, correction {number}: acknowledged {n} times" for (take, number), n in places.items() if n > 1)
    for take in sorted({take for take, _ in places}):
        found = {note.sequence: note.body.get("kind") for note in corrections(book, take)}
        for desk in desks:
            for one in desk.corrected:
                if one.take == take and found.get(one.sequence) != one.kind:
                    yield f"{take}, correction {one.sequence}: lost"
