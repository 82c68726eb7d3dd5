"""Pages of a PDF as pictures, to be looked at on a screen; pages count from 1.

PDFium must not be called by two threads at once, whatever documents they have (README of pypdfium2): they take turns.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from threading import Lock

import pypdfium2

from trackread.errors import SheetError

POINTS = 72  # to the inch: ISO 32000-1, 8.3.2.3
TURN = Lock()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has. Raises SheetError if it is none."""
    with _opened(pdf) as document:
        return len(document)


def page_picture(pdf: bytes, number: int, dots: int) -> bytes:
    """A page in shades of grey, as sheets are printed, as a PNG of so many dots to the inch.

    Raises SheetError for a page that the PDF does not have, and as `page_count` does.
    """
    with _opened(pdf) as document:
        if not 1 <= number <= len(document):
            raise SheetError(f"there is no page {number}: they run from 1 to {len(document)}")
        picture = document[number - 1].render(scale=dots / POINTS, grayscale=True).to_pil()
        target = BytesIO()
        picture.save(target, "PNG")
    return target.getvalue()


@contextmanager
def _opened(pdf: bytes) -> Iterator[pypdfium2.PdfDocument]:
    with TURN:
        try:
            document = pypdfium2.PdfDocument(pdf)
        except pypdfium2.PdfiumError as error:
            raise SheetError(f"the sheet is no PDF that can be shown: {error}") from error
        try:
            yield document
        finally:
            document.close()
