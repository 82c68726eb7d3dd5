"""Counts of frames that the floor told: each kept once under the id that its page made, and never changed.

A count is told from an issue of the shot, in that issue's frames, and names the counts that its page knew of: those it
takes the place of. Beside it stands a note of the shot, written in the same transaction, by which everybody else sees
how many frames are shot. A note that was told otherwise takes the place of all counts that were kept before it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.shot_notes import ShotNote
from trackread.book.tables import ShootingRow, ShotNoteRow


@dataclass(frozen=True, slots=True)
class FloorCount:
    """That the first `count` frames of an issue are shot. `over` are the ids of the counts it takes the place of."""

    id: str
    issue: int
    count: int
    over: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Counts:
    """What is told of a shot: by hand last, None if never, and from the floor since then, in the order of coming in."""

    by_hand: ShotNote | None
    floor: tuple[FloorCount, ...]


NoteOf = Callable[[Counts], Mapping[str, object]]


@dataclass(frozen=True, slots=True)
class Speaker:
    """Who tells, and for which unit."""

    name: str
    unit: str


def keep_counts(
    book: Book, shot: tuple[str, str], new: Sequence[FloorCount], speaker: Speaker, note_of: NoteOf
) -> frozenset[str]:
    """Keeps those counts that are not kept yet, all of them or none, and gives their ids.

    `shot` is its name, and the kind of note that `note_of` makes of all that is told then. Where nothing is new, there
    is no new note either.
    """
    name, kind = shot
    with book.writing() as transaction:
        wanted = {one.id: one for one in new}
        known = select(ShootingRow.event).where(ShootingRow.event.in_(list(wanted)))
        fresh = [one for one in wanted.values() if one.id not in set(transaction.scalars(known))]
        if fresh:
            there = counts_in(transaction, name, kind)
            body = dict(note_of(Counts(there.by_hand, (*there.floor, *fresh))))
            note = ShotNoteRow(shot=name, kind=kind, author=speaker.name, time=now(), body=body)
            transaction.add(note)
            transaction.flush()
            transaction.add_all(row_of(one, name, note, speaker) for one in fresh)
    return frozenset(one.id for one in fresh)


def row_of(one: FloorCount, shot: str, note: ShotNoteRow, speaker: Speaker) -> ShootingRow:
    return ShootingRow(
        event=one.id,
        shot=shot,
        issue=one.issue,
        count=one.count,
        over=list(one.over),
        author=speaker.name,
        unit=speaker.unit,
        time=note.time,
        note=note.id,
    )


def counts_of(book: Book, shot: str, kind: str) -> Counts:
    """What is told of a shot, by hand in notes of a kind and from the floor."""
    with book.reading() as transaction:
        return counts_in(transaction, shot, kind)


def counts_in(transaction: Transaction, shot: str, kind: str) -> Counts:
    from_floor = select(ShootingRow.note).where(ShootingRow.shot == shot)
    told = select(func.max(ShotNoteRow.id)).where(ShotNoteRow.shot == shot, ShotNoteRow.kind == kind)
    last = transaction.scalar(told.where(ShotNoteRow.id.not_in(from_floor)))
    since = select(ShootingRow).where(ShootingRow.shot == shot, ShootingRow.note > (last or 0))
    rows = transaction.scalars(since.order_by(ShootingRow.id))
    floor = tuple(FloorCount(row.event, row.issue, row.count, tuple(row.over)) for row in rows)
    note = transaction.get(ShotNoteRow, last) if last else None
    return Counts(ShotNote(note.id, shot, kind, note.author, note.time, note.body) if note else None, floor)
