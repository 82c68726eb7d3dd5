"""The sheet of a shot to be looked at: as it would be printed now, or as it was issued; as a PDF, and page by page."""

from dataclasses import dataclass, field

from trackread import __version__
from trackread.book.book import Book
from trackread.book.issues import issues, pdf_of
from trackread.errors import BookError
from trackread.sheets.page_pictures import page_count, page_picture
from trackread.workflow.desk_cut import state_of
from trackread.workflow.drawing import Wanted
from trackread.workflow.kept_material import Kept
from trackread.workflow.printed_sheets import drawn_sheets, file_stem, paper_wish
from trackread.workflow.shelf import Shelf
from trackread.workflow.shots import sheet_wish

DOTS = 144  # to the inch: two to a point, so that the smallest type of a sheet is read on a screen
MOST = 16 * 2**20  # bytes of sheets that are kept while somebody looks at their pages: some dozens of them


@dataclass(frozen=True, slots=True)
class ShownSheet:
    """A sheet as a PDF, what it is known again by, and what its file may be called."""

    pdf: bytes
    tag: str
    name: str

    @property
    def pages(self) -> int:
        return page_count(self.pdf)

    def picture(self, number: int) -> bytes:
        """A page, from 1, as a PNG. Raises SheetError if there is none such."""
        return page_picture(self.pdf, number, DOTS)


@dataclass(slots=True)
class ShownSheets:
    """The sheets that were looked at last, so that not each page has its sheet printed again.

    May be asked by several threads.
    """

    book: Book
    printed: Shelf = field(default_factory=lambda: Shelf(MOST))

    def now(self, seen: Kept, shot: str) -> ShownSheet:
        """The sheet of a shot as it would be printed now."""
        state, production = state_of(seen, shot), self.book.production

        def printed() -> bytes:
            wanted = [Wanted(seen.brief(shot))]
            (one,) = drawn_sheets(self.book, wanted, sheet_wish(production), paper_wish(production))
            return one.pdf

        pdf = self.printed.content((shot, state), printed)
        return ShownSheet(pdf, f"{__version__}-{state}", f"{file_stem(shot)}.pdf")

    def issued(self, shot: str, number: int) -> ShownSheet:
        """The sheet of a shot as it was issued. Raises BookError if there is no issue of this number."""
        every = {one.number: one for one in issues(self.book, shot=shot)}
        if number not in every:
            told = f"there are 1 to {len(every)}" if every else "none was ever made"
            raise BookError(f"there is no issue {number} of {shot}: {told}")
        issue = every[number]
        name = f"{file_stem(shot)}-issue-{number}.pdf"
        return ShownSheet(pdf_of(self.book, issue), issue.digest, name)
