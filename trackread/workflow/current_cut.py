"""The cut as the book has it, and the cut that comes of a change to it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import cast

from trackread.book.book import Book
from trackread.book.cuts import CutNote, NewCut, add_cut, cut_body, cut_number, cuts
from trackread.core.cut import Cut
from trackread.core.plain_cut import PlainCut, cut_from_plain, cut_to_plain
from trackread.core.timebase import Frame
from trackread.errors import CutError


@dataclass(frozen=True, slots=True)
class NumberedCut:
    """A cut with its number in the book; 0 is the cut before there is any."""

    number: int
    cut: Cut


def current_cut(book: Book) -> NumberedCut:
    """The current cut, an empty one if there is none yet."""
    number = cut_number(book)
    if not number:
        return NumberedCut(0, Cut(book.production.title, book.production.rate, Frame(0), ()))
    return numbered_cut(book, number)


def numbered_cut(book: Book, number: int) -> NumberedCut:
    """A cut by its number. Raises BookError if there is none such, CutError if it cannot be read."""
    return NumberedCut(number, cut_from_plain(cast(PlainCut, cut_body(book, number))))


def cut_with_shots(book: Book) -> NumberedCut:
    """The current cut. Raises CutError if it has no shot."""
    found = current_cut(book)
    if not found.cut.shots:
        raise CutError(
            "the production has no shots yet: bring in the editor's cut list with `trackread cut add`, or make a shot "
            "with `trackread shot add`"
        )
    if found.cut.rate != book.production.rate:
        raise CutError(
            f"cut {found.number} counts {found.cut.rate.name}, and production.toml says {book.production.rate.name}: "
            "put the rate back, or add the lists once more as the production counts now"
        )
    return found


def all_cuts(book: Book) -> tuple[CutNote, ...]:
    """What is known of every cut, the first one first."""
    return cuts(book)


def keep_cut(book: Book, cut: Cut, what: str, author: str, *, after: int, lists: Sequence[str] = ()) -> int:
    """Adds a cut that was made from cut `after` and gives its number. Raises ClashError if another came in between."""
    new = NewCut(cut.title, lists, what, cast(dict[str, object], cut_to_plain(cut)))
    return add_cut(book, new, author, after=after)


def change_cut(book: Book, what: str, author: str, change: Callable[[Cut], Cut]) -> NumberedCut:
    """Changes the current cut by hand and gives the new one. Raises what `change` does, and ClashError."""
    before = current_cut(book)
    cut = change(before.cut)
    return NumberedCut(keep_cut(book, cut, what, author, after=before.number), cut)
