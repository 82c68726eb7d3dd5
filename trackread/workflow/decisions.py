"""What people decide of takes: which are circled, and what a stretch is."""

from collections.abc import Sequence

from trackread.book.book import Book
from trackread.book.drafts import lines_by_id
from trackread.book.takes import assign as assign_stretch
from trackread.book.takes import circle as circle_take
from trackread.book.takes import take_named
from trackread.core.session import StretchKind, Take, Wholeness
from trackread.errors import BookError
from trackread.workflow.reading_state import ReadingState, reading_states

# What a stretch may be said to be, besides a take of a line.
KINDS = {kind.value: kind for kind in StretchKind if kind is not StretchKind.TAKE}


def circle(book: Book, names: Sequence[str], author: str, *, on: bool) -> tuple[Take, ...]:
    """Circles takes, or takes their circles away; all, or none if one of them is no take.

    Raises BookError for a name that is no take's.
    """
    for name in names:
        take = take_named(book, name)
        if take.kind is not StretchKind.TAKE:
            raise BookError(
                f"{take.name} is {take.kind.value}, no take: assign it to a line first; nothing was changed"
            )
    return tuple(circle_take(book, name, author, on=on) for name in names)


def assign(book: Book, name: str, to: str, author: str, wholeness: Wholeness | None) -> tuple[Take, Take]:
    """Says what a stretch is, a take of a line or one of KINDS; gives it as it was, and as it is now.

    Raises BookError for a stretch or line that there is none of.
    """
    before = take_named(book, name)
    kind = KINDS.get(to.strip().lower())
    if kind and wholeness:
        raise BookError(f"{kind.value} is no take, so it cannot be {wholeness.value}: name a line, or leave that out")
    return before, assign_stretch(book, name, kind or to, author, wholeness)


def wanting_reading(book: Book, takes: Sequence[Take]) -> tuple[Take, ...]:
    """Those of the takes that have not been read, or want to be read again; a line that is gone has none."""
    texts = {id: one.line.text for id, one in lines_by_id(book).items() if one.current}
    states = reading_states(book, takes, texts)
    return tuple(
        take for take in takes if states.get((take.session, take.place), ReadingState.READ) is not ReadingState.READ
    )
