"""How a production has its sheets printed: chosen in words, checked before anything is read."""

from collections.abc import Collection
from dataclasses import dataclass, field

from trackread.core.sheet import Sheet
from trackread.sheets.counts import Count, count_for
from trackread.sheets.layout import changed_pages
from trackread.sheets.paper import PAPERS, Paper, paper_for
from trackread.sheets.pdf import Looks, draw_sheet, sights_of, width_of
from trackread.workflow.sheet_of_take import Terms


@dataclass(frozen=True, slots=True)
class Form:
    """The terms of a production's sheets, their paper with its rows, and the column beside the frame numbers."""

    terms: Terms
    paper: Paper
    count: Count | None


def form_for(terms: Terms, paper: str = "a4", rows: int = 48, count: str = "none") -> Form:
    """The form on a paper named in any case. Raises SheetError for a paper, rows or count that there is none of."""
    names = {name.lower(): name for name in PAPERS}
    return Form(terms, paper_for(names.get(paper.lower(), paper), rows), count_for(count, terms.rate))


@dataclass(frozen=True, slots=True)
class Pictures:
    """The pictures of a sheet: its board, and what its mouths look like, by character and name."""

    board: bytes | None = None
    looks: Looks = field(default_factory=dict)


NONE = Pictures()


def printed(sheet: Sheet, form: Form, pictures: Pictures = NONE, *, pages: Collection[int] | None = None) -> bytes:
    """A sheet as a PDF, or some of its pages. Raises SheetError if its head leaves no room for its rows."""
    return draw_sheet(sheet, form.paper, count=form.count, board=pictures.board, looks=pictures.looks, pages=pages)


def pages_with_changes(sheet: Sheet, form: Form, pictures: Pictures) -> tuple[int, ...]:
    """The pages of a sheet that have any frame that has changed since the issue before."""
    sights = {character: sights_of(looks) for character, looks in pictures.looks.items()}
    return changed_pages(sheet, form.paper, measure=width_of, count=form.count, sights=sights)
