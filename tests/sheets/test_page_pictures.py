"""Pages of a PDF as pictures: as large as the paper, every mark where it is, and nothing else shown."""

import threading
from io import BytesIO

import pytest
from PIL import Image
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from trackread.errors import SheetError
from trackread.sheets.page_pictures import page_count, page_picture


def a_pdf(*papers):
    """Pages of white paper; page n has a black square with sides of an inch, n inches from the left and the foot."""
    target = BytesIO()
    canvas = Canvas(target)
    for number, paper in enumerate(papers, 1):
        canvas.setPageSize(paper)
        canvas.rect(72 * number, 72 * number, 72, 72, stroke=0, fill=1)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def seen(pdf, number, dots):
    return Image.open(BytesIO(page_picture(pdf, number, dots)))


def test_a_picture_is_as_large_as_its_paper():
    """ISO 216: A4 is 210 mm by 297 mm. ANSI/ASME Y14.1: Letter is 8.5 inches by 11."""
    pdf = a_pdf(A4, LETTER)

    assert page_count(pdf) == 2
    assert seen(pdf, 1, 254).size == pytest.approx((2100, 2970), abs=1)
    assert seen(pdf, 2, 100).size == (850, 1100)


def test_every_mark_is_where_it_lies_on_the_page():
    pdf = a_pdf(LETTER, LETTER)
    for number in (1, 2):
        dark = seen(pdf, number, 100).convert("L").point(lambda tone: 255 if tone < 128 else 0).getbbox()

        assert dark == pytest.approx(
            (100 * number, 1000 - 100 * number, 100 * number + 100, 1100 - 100 * number), abs=1
        )


def test_it_is_a_png_in_grey():
    picture = seen(a_pdf(A4), 1, 72)

    assert (picture.format, picture.mode) == ("PNG", "L")


@pytest.mark.parametrize("number", [0, 3, -1])
def test_a_page_that_there_is_none_of_is_refused(number):
    with pytest.raises(SheetError, match=rf"there is no page {number}: they run from 1 to 2"):
        page_picture(a_pdf(A4, A4), number, 72)


def test_what_is_no_pdf_is_refused():
    with pytest.raises(SheetError, match="is no PDF that can be shown"):
        page_count(b"a PNG, perhaps")


def test_many_threads_may_look_at_once():
    """PDFium is not made for that, so they take turns; without those it ends the process or draws rubbish."""
    pdf = a_pdf(A4, A4)
    alone = [page_picture(pdf, number, 72) for number in (1, 2)]
    found = []
    threads = [
        threading.Thread(target=lambda: found.append([page_picture(pdf, number, 72) for number in (1, 2)]))
        for _ in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert found == [alone] * 8
