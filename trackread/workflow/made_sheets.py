"""The sheets of many shots, one after another, their readings fetched some at a time so that memory stays small."""

from collections.abc import Iterator, Sequence

from trackread.book.book import Book
from trackread.book.readings import readings_with
from trackread.core.sheet import Sheet
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_sheet import SheetWish, reading_ids, sheet_of_shot

AT_ONCE = 50


def made_sheets(book: Book, briefs: Sequence[ShotBrief], wish: SheetWish) -> Iterator[tuple[ShotBrief, Sheet]]:
    """Each brief with its sheet, without level and pitch, in the order given.

    Raises ReadingError or BookError where a reading is damaged.
    """
    for first in range(0, len(briefs), AT_ONCE):
        some = briefs[first : first + AT_ONCE]
        bodies = readings_with(book, reading_ids(some))
        for brief in some:
            yield brief, sheet_of_shot(brief, bodies, wish, with_sound=False)
