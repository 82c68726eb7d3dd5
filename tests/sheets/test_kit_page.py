"""A kit on one page: every mouth is there whole, whatever there are of them, and nothing lies on anything else."""

from io import BytesIO
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from trackread.core.drawing import Drawing, Shape
from trackread.core.phones import PHONES, respelling
from trackread.sheets.kit_page import Cell, KitHead, as_png, kit_page, kit_pdf
from trackread.sheets.marks import Drawn, Text
from trackread.sheets.paper import PAPERS, TYPE_SIZES, paper_for
from trackread.sheets.pdf import width_of

HEAD = KitHead("MISS PELL", "The Late Tram: kit miss-pell")
LOOK = Drawing((Shape(((0.1, 0.1), (0.9, 0.1), (0.5, 0.9)), fill=0.5),))
ALL_PAPERS = [paper_for(*key) for key in TYPE_SIZES]

words = st.text("abcdefghijkl ", min_size=1, max_size=60)
cells = st.lists(
    st.builds(
        Cell,
        words.filter(str.strip),
        st.just(LOOK),
        st.sampled_from(("", "at rest", "12 copies, at rest")),
        st.lists(st.sampled_from([respelling(one) for one in PHONES])).map("  ".join),
    ),
    min_size=1,
    max_size=40,
)


def a_page(these, paper=ALL_PAPERS[0]):
    return kit_page(HEAD, these, paper=paper, measure=width_of)


def boxes(page):
    """Where each text and each picture lies: left, top, right, bottom; letters from the baseline up to their capitals.

    0.73 is the height of capitals in DejaVu Sans.
    """
    for mark in page.marks:
        if isinstance(mark, Text):
            width = width_of(mark.text, mark.face) * mark.size * mark.stretch
            yield mark.x, mark.baseline - 0.73 * mark.size, mark.x + width, mark.baseline
        elif isinstance(mark, Drawn):
            yield mark.x, mark.y, mark.x + mark.side, mark.y + mark.side


def test_there_are_papers_to_print_on():
    assert {paper.name for paper in ALL_PAPERS} == set(PAPERS)


@given(cells, st.sampled_from(ALL_PAPERS))
def test_nothing_lies_on_anything_else_or_beyond_the_page(these, paper):
    page = a_page(these, paper)
    found = list(boxes(page))

    assert all(
        left >= 0 and top >= 0 and right <= page.width and bottom <= page.height for left, top, right, bottom in found
    )
    for one, other in combinations(found, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


@given(cells, st.sampled_from(ALL_PAPERS))
def test_every_mouth_has_its_picture_and_its_number_in_order(these, paper):
    page = a_page(these, paper)
    pictures = [(mark.y, mark.x) for mark in page.marks if isinstance(mark, Drawn)]
    numbers = [mark.text for mark in page.marks if isinstance(mark, Text) and mark.text.isdigit()]

    assert len(pictures) == len(these)
    assert pictures == sorted(pictures)
    assert numbers == [str(number) for number in range(1, len(these) + 1)]


@pytest.mark.parametrize(("count", "least"), [(3, 45), (12, 35), (40, 20)])
def test_pictures_are_seen_from_the_table(count, least):
    """Drawings are made to be told apart at 12 mm near by, and a wall is further off."""
    these = [Cell(f"mouth {number}", LOOK, "2 copies", "t  d  n") for number in range(count)]
    sides = {mark.side / 72 * 25.4 for mark in a_page(these).marks if isinstance(mark, Drawn)}

    assert len(sides) == 1
    assert sides.pop() > least


def test_the_picture_of_a_page_is_the_page_itself():
    """A4 (ISO 216) at 150 dots to the inch."""
    pdf = kit_pdf(HEAD, [("shut", "at rest", "p  b  m")], {"shut": LOOK}, ALL_PAPERS[0])
    with Image.open(BytesIO(as_png(pdf))) as picture:
        size, shades = picture.size, picture.convert("L").getextrema()

    assert size == pytest.approx((210 / 25.4 * 150, 297 / 25.4 * 150), abs=2)
    assert shades == (0, 255)


def test_one_kit_is_one_pdf_to_the_byte():
    pages = {kit_pdf(HEAD, [("shut", "", "p")], {"shut": LOOK}, ALL_PAPERS[0]) for _ in range(2)}

    assert len(pages) == 1
