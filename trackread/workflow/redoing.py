"""Redoing: what was undone last is corrected again, as often as was undone, until something else is corrected.

What redoes is added like any other correction, with the number of the one it makes again; it can itself be undone.
"""

from collections.abc import Sequence

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote, append_correction
from trackread.core.plain_correction import correction_from_plain, correction_to_plain
from trackread.errors import CorrectionError
from trackread.workflow.seen_take import seen_take
from trackread.workflow.undoing import LEFT, UNDOES

REDOES = "redoes"  # in the body of a correction: the number of the undone one that it makes again


def redo(book: Book, name: str, author: str, *, seen: int | None = None) -> str:
    """Makes again what was undone last, and says in words what.

    Raises CorrectionError if there is nothing, ClashError if others were added since, BookError for no take.
    """
    take = seen_take(book, name)
    undone = to_redo(take.notes)
    if undone is None:
        raise CorrectionError(f"{take.take.name} has nothing that was undone last and could be made again")
    again = correction_to_plain(correction_from_plain(undone.body), take.counting)
    after = len(take.notes) if seen is None else seen
    append_correction(book, name, {**again, REDOES: undone.sequence}, author, after=after)
    return f"{take.take.name}, correction {undone.sequence} made again: {undone.words}"


def to_redo(notes: Sequence[CorrectionNote]) -> CorrectionNote | None:
    """The correction that was undone last, with nothing new corrected since; None if there is none."""
    waiting: list[object] = []
    for note in notes:
        if UNDOES in note.body:
            # Undoing that is not done yet can only go on.
            waiting += [note.body[UNDOES]] if note.body.get(LEFT) == 0 else []
        elif REDOES in note.body:
            waiting.pop()
        else:
            waiting.clear()
    return next((note for note in notes if note.sequence == waiting[-1]), None) if waiting else None
