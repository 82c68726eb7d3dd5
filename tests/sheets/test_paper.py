"""Papers: their sizes, and type large enough for the distance they are read from."""

import math

import pytest
from reportlab.lib import pagesizes

from tests.sheets import reading_marks as read
from trackread.errors import SheetError
from trackread.sheets.marks import Face
from trackread.sheets.paper import PAPERS, TYPE_SIZES, paper_for

# ISO 216 and the North American sizes as the drawing library has them.
PUBLISHED = {"A4": pagesizes.A4, "Letter": pagesizes.LETTER, "A3": pagesizes.A3, "Tabloid": pagesizes.TABLOID}


@pytest.mark.parametrize("name", PAPERS)
def test_papers_have_their_published_sizes(name: str):
    paper = paper_for(name, 48)

    assert (paper.width, paper.height) == pytest.approx(PUBLISHED[name], abs=0.01)


@pytest.mark.parametrize(("size", "metres"), [(13.0, 0.7), (18.5, 1.0)])
def test_capitals_are_seen_under_sixteen_minutes_of_arc(size: float, metres: float):
    """ISO 9241-3 asks for 16 minutes at the least."""
    height = read.capital_height(Face.REGULAR) * size * 0.0254 / 72

    assert math.degrees(math.atan(height / metres)) * 60 >= 16
    assert size in TYPE_SIZES.values()


def test_no_paper_has_type_below_the_floor():
    assert min(TYPE_SIZES.values()) == 13.0
    assert {rows: size for (name, rows), size in TYPE_SIZES.items() if name == "A3"}[48] == 18.5


def test_an_unknown_paper_is_refused_with_those_there_are():
    with pytest.raises(SheetError, match="'B5' is not a paper for sheets: use one of A4, Letter, A3, Tabloid"):
        paper_for("B5", 48)


def test_an_unknown_number_of_rows_is_refused_with_those_there_are():
    with pytest.raises(SheetError, match="a sheet on A4 has 48 or 24 rows, not 96"):
        paper_for("A4", 96)
