"""Sheets as PDF, read back by libraries that had no part in drawing them."""

from io import BytesIO

import pdfplumber
import pypdfium2
import pytest
import zxingcpp

from tests.sheets import reading_marks as read
from tests.sheets.boards import board_of
from tests.sheets.examples import EXAMPLES
from tests.sheets.voices import a_cell, a_speaker, two_voices
from trackread.core.sheet import Beat
from trackread.core.timebase import Frame
from trackread.sheets.counts import count_for
from trackread.sheets.paper import paper_for
from trackread.sheets.pdf import draw, draw_sheet

EVERY = pytest.mark.parametrize("name", EXAMPLES)


def drawn(name: str) -> bytes:
    sheet, paper, rows, count = EXAMPLES[name]
    return draw_sheet(sheet, paper_for(paper, rows), count=count_for(count, sheet.rate), board=board_of(sheet))


def words_of(page: pdfplumber.page.Page) -> list[tuple[str, float, float]]:
    """Each upright word with its left edge and the height of its lower edge."""
    return [(word["text"], word["x0"], word["bottom"]) for word in page.extract_words() if word["upright"]]


@pytest.mark.parametrize("rate", ["23.976", "24", "25", "29.97df", "60"])
@pytest.mark.parametrize(("paper", "rows"), [("A4", 48), ("Letter", 48), ("A4", 24), ("Tabloid", 48)])
def test_numbers_words_and_sounds_read_back_on_their_rows(rate: str, paper: str, rows: int):
    content = draw_sheet(two_voices(rate, first_number=101), paper_for(paper, rows))
    found: dict[str, list[str]] = {}
    with pdfplumber.open(BytesIO(content)) as document:
        for page in document.pages:
            words = words_of(page)
            for number, left, bottom in words:
                if left < 70 and number.isdigit() and len(number) == 3:
                    beside = [word for word, x, lower in words if x > left and abs(lower - bottom) < 0.5]
                    found[number] = beside

    assert list(found) == [str(number) for number in range(101, 185)]
    for frame, *expected in ((4, "Mind", "m"), (8, "nd"), (9, "the", "th"), (33, "never", "n"), (68, "tonight.", "t")):
        assert set(expected) <= set(found[str(101 + frame)])


def test_words_that_run_down_the_page_read_back_from_their_first_row():
    with pdfplumber.open(BytesIO(drawn("six"))) as document:
        page = document.pages[0]
        turned = page.extract_words(vertical_ttb=True)
        rows = {word: bottom for word, left, bottom in words_of(page) if left < 50}
        tops = [word["top"] for word in turned if word["text"] == "please!"]

    assert len(tops) == 3
    assert rows["22"] - 13 < min(tops) < rows["22"] + 3


@EVERY
def test_the_same_sheet_gives_the_same_bytes(name: str):
    assert drawn(name) == drawn(name)


@EVERY
def test_only_embedded_fonts_are_asked_for(name: str):
    content = drawn(name)

    assert b"Helvetica" not in content
    with pdfplumber.open(BytesIO(content)) as document:
        assert document.pages
        for page in document.pages:
            assert page.chars
            assert {char["fontname"].split("+")[1].startswith("DejaVuSans") for char in page.chars} == {True}


@EVERY
def test_pages_have_the_size_of_their_paper(name: str):
    _, paper, rows, _ = EXAMPLES[name]
    expected = paper_for(paper, rows)
    with pdfplumber.open(BytesIO(drawn(name))) as document:
        sizes = {(float(page.width), float(page.height)) for page in document.pages}

    assert len(sizes) == 1
    assert next(iter(sizes)) == pytest.approx((expected.width, expected.height), abs=0.01)


def test_the_document_is_titled():
    with pdfplumber.open(BytesIO(drawn("two"))) as document:
        assert document.metadata["Title"] == "THE LATE TRAM 12 045"


@EVERY
def test_the_square_code_of_each_page_is_read_by_a_scanner(name: str):
    """ISO/IEC 18004, read by ZXing from a page printed at 150 dots to the inch."""
    document = pypdfium2.PdfDocument(drawn(name))
    assert len(document) > 0
    for page in document:
        picture = page.render(scale=150 / 72).to_pil()
        found = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)

        assert [code.text for code in found] == [EXAMPLES[name][0].heading.code]
        page.close()
    document.close()


def test_a_bad_copy_in_black_and_white_tells_the_degrees_of_stress_apart():
    """Rendered at 100 dots to the inch and cut to two tones, each degree leaves far less ink than the next."""
    words = [a_cell(first, first + 8, "x") for first in (0, 10, 20)]
    beats = tuple(Beat(word.first, word.stop, degree) for degree, word in enumerate(words))
    sheet = two_voices(voices=(a_speaker(*words, beats=beats),), changed=())
    page = read.pages_of(sheet)[0]
    # The stress lane lies between the voice's left rule and its word.
    left, right = (rule.x1 for rule in read.uprights(page)[4:6])
    rows = [rule.y1 for rule in read.levels(page)]
    document = pypdfium2.PdfDocument(draw((page,), title="stress"))
    scale = 100 / 72
    picture = document[0].render(scale=scale).to_pil().convert("L").point(lambda tone: 255 * (tone > 110))
    ink = []
    for word in words:
        edges = (left + 1.2, rows[word.first + 1] + 1.5, right - 0.8, rows[word.stop - 1] - 1.5)
        lane = picture.crop(tuple(round(edge * scale) for edge in edges))
        ink.append(lane.histogram()[0] / (lane.width * lane.height))
    document.close()

    assert 0.02 < ink[0] < 0.6 * ink[1] < 0.6 * 0.6 * ink[2]


def test_a_sheet_without_a_heading_has_a_title_all_the_same():
    sheet = two_voices(heading=EXAMPLES["two"][0].heading.__class__(), length=Frame(84))
    with pdfplumber.open(BytesIO(draw_sheet(sheet, paper_for("A4", 48)))) as document:
        assert document.metadata["Title"] == "Exposure sheet"
