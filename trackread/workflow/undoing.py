"""Undoing: what takes back the last correction of a take is added like any other, with the number it undoes.

Undone once more, the one before it goes, and so on back to the first; what is corrected after that is undone first.
Several corrections may be needed to undo one. If others came between them, undoing again adds those still missing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote, append_correction
from trackread.core.correction import Correction
from trackread.core.plain_correction import correction_to_plain
from trackread.editing.replay import corrected
from trackread.editing.undo import inverse
from trackread.errors import CorrectionError
from trackread.workflow.seen_take import SeenTake, seen_take

UNDOES = "undoes"  # in the body of a correction: the number of the one that it helps to undo
LEFT = "left"  # how many corrections are still to come before that is undone


@dataclass(frozen=True, slots=True)
class Undoing:
    """The correction that is to be undone, and what is still to be added for that."""

    note: CorrectionNote
    steps: tuple[Correction, ...]


def undo(book: Book, name: str, author: str, *, seen: int | None = None) -> str:
    """Undoes the last correction of a take that has not been undone, and says in words which.

    Raises CorrectionError if there is none, ClashError if others were added since, BookError for no take.
    """
    take = seen_take(book, name)
    found = to_undo(take)
    if found is None:
        raise CorrectionError(f"{take.take.name} has no correction that could be undone")
    after = len(take.notes) if seen is None else seen
    for step, correction in enumerate(found.steps):
        marks = {UNDOES: found.note.sequence, LEFT: len(found.steps) - 1 - step}
        body = {**correction_to_plain(correction, take.counting), **marks}
        append_correction(book, name, body, author, after=after + step)
    return f"{take.take.name}, correction {found.note.sequence} undone: {found.note.words}"


def to_undo(take: SeenTake) -> Undoing | None:
    """The last correction that is no undoing, has not been undone, and changes the reading; None if there is none."""
    gone = undone(take.notes)
    for note in reversed(take.notes):
        if UNDOES in note.body or note.sequence in gone:
            continue
        begun = sum(other.body.get(UNDOES) == note.sequence for other in take.notes)
        steps = tuple(steps_to_undo(take, note.sequence))[begun:]
        if steps:
            return Undoing(note, steps)
    return None


def undone(notes: Sequence[CorrectionNote]) -> frozenset[object]:
    """The numbers of the corrections that have been undone."""
    return frozenset(note.body[UNDOES] for note in notes if note.body.get(LEFT) == 0)


def steps_to_undo(take: SeenTake, number: int) -> Iterator[Correction]:
    """What undoes a correction; nothing for one that has no place in the reading, and so changed nothing."""
    before = corrected(take.first, take.made[: number - 1])
    try:
        yield from inverse(before, take.made[number - 1])
    except CorrectionError:
        return
