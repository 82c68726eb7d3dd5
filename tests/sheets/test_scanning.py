"""Square codes of printed pages, found again in bad pictures of them."""

from random import Random

import pypdfium2
import pytest
from PIL import Image, ImageFilter

from tests.sheets import reading_marks as read
from tests.sheets.boards import as_bytes, board_of, drawing
from tests.sheets.examples import EXAMPLES
from trackread.errors import SheetError
from trackread.sheets.counts import count_for
from trackread.sheets.marks import SquareCode
from trackread.sheets.paper import MILLIMETRE, paper_for
from trackread.sheets.pdf import draw_sheet
from trackread.sheets.scanning import code_in

CODE = "TR-7K3Q-9XWD"


@pytest.fixture(scope="module")
def scan() -> Image.Image:
    """A page as a scanner sees it at 150 dots to the inch, rendered by PDFium."""
    sheet, paper, rows, count = EXAMPLES["shot-six"]
    form, counted = paper_for(paper, rows), count_for(count, sheet.rate)
    document = pypdfium2.PdfDocument(draw_sheet(sheet, form, count=counted, board=board_of(sheet), pages=[3]))
    picture = document[0].render(scale=150 / 72).to_pil().convert("RGB")
    document.close()
    return picture


def faded(picture: Image.Image) -> Image.Image:
    """Grey, with little contrast, a little blurred and noisy: a bad copy photographed in a dim stage."""
    grey = picture.convert("L").point(lambda tone: 70 + tone * 0.4)
    noise = Image.frombytes("L", grey.size, Random(4).randbytes(grey.width * grey.height))
    return Image.blend(grey.filter(ImageFilter.GaussianBlur(0.8)), noise, 0.12)


def tilted(picture: Image.Image) -> Image.Image:
    """As it is photographed from one side: its left edge is a tenth shorter than its right."""
    width, height = picture.size
    away = (1, 0, 0, -0.05, 1.1, 0, -0.1 / width, 0)
    return picture.transform(
        (width, height), Image.Transform.PERSPECTIVE, away, Image.Resampling.BICUBIC, fillcolor="white"
    )


@pytest.mark.parametrize("degrees", [0, 7, 45, 90, 183])
def test_the_code_of_a_page_is_found_however_it_is_turned(scan: Image.Image, degrees: int):
    turned = scan.rotate(degrees, expand=True, fillcolor="white", resample=Image.Resampling.BICUBIC)

    assert code_in(as_bytes(turned)) == (CODE,)
    assert code_in(as_bytes(faded(turned))) == (CODE,)


@pytest.mark.parametrize("degrees", [0, 7, 90])
def test_the_code_is_found_in_a_photograph_from_one_side(scan: Image.Image, degrees: int):
    photograph = tilted(scan.rotate(degrees, expand=True, fillcolor="white"))

    assert code_in(as_bytes(faded(photograph), "JPEG", quality=40)) == (CODE,)


def test_the_code_is_found_in_black_and_white(scan: Image.Image):
    copy = scan.convert("L").point(lambda tone: 255 * (tone > 110)).convert("1")

    assert code_in(as_bytes(copy)) == (CODE,)


def test_two_pages_in_one_picture_have_both_their_codes_and_twice_the_same_one():
    sheet, paper, rows, _ = EXAMPLES["two"]
    other = pypdfium2.PdfDocument(draw_sheet(sheet, paper_for(paper, rows)))
    pages = [page.render(scale=150 / 72).to_pil() for page in other]
    six, paper, rows, _ = EXAMPLES["shot-six"]
    third = pypdfium2.PdfDocument(draw_sheet(six, paper_for(paper, rows), pages=[1]))
    pages.append(third[0].render(scale=150 / 72).to_pil())
    side_by_side = Image.new("RGB", (sum(page.width for page in pages), pages[0].height), "white")
    for number, page in enumerate(pages):
        side_by_side.paste(page, (number * page.width, 0))
    other.close()
    third.close()

    assert sorted(code_in(as_bytes(side_by_side))) == ["K7QM-3", CODE]


def test_a_picture_without_a_code_has_none():
    assert code_in(as_bytes(drawing())) == ()
    assert code_in(as_bytes(Image.new("L", (4100, 4000), 255))) == ()


def test_bytes_that_are_no_picture_are_refused():
    with pytest.raises(SheetError, match=r"cannot be read .*: give a whole PNG or JPEG"):
        code_in(b"TR-7K3Q-9XWD")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("text", [CODE, "K7QM-3"])
def test_modules_are_half_a_millimetre_at_least(paper: str, text: str):
    """ISO/IEC 18004: version 1 has 21 modules and holds 20 alphanumeric letters at level M; quiet zones have 4 each."""
    (code,) = (mark for mark in read.pages_of(EXAMPLES["shot-six"][0], paper)[0].marks if isinstance(mark, SquareCode))

    assert len(text) <= 20
    assert code.size / (21 + 2 * 4) / MILLIMETRE >= 0.5
