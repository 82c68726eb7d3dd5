"""Sheets given out: numbered, coded, frozen for good, found again by their code."""

import shutil
from datetime import date
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from alembic.script import ScriptDirectory
from PIL import Image

from tests.shots.conftest import issue
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.issues import issues, pdf_of, snapshot_of
from trackread.book.schema import MIGRATIONS, bring_up_to_date
from trackread.core.sheet import Sheet
from trackread.errors import BookError, ClashError, SheetError
from trackread.workflow.codes import ALPHABET, code_of, code_typed
from trackread.workflow.correcting import correct, move, right
from trackread.workflow.issued_sheet import issued_sheet
from trackread.workflow.issuing import issued_sheets
from trackread.workflow.telling import Telling, tell
from trackread.workflow.which_sheet import pdf_as_issued, which


def test_sheets_of_a_shot_count_from_one_and_the_last_is_the_current_one(film, add_cut):
    add_cut()
    (first,) = issue(film, "SH010")
    correct(film, "L0001-1", move("ticket!", 13), "ANN")
    (second,) = issue(film, "SH010", unit="", reason="ticket is earlier")

    assert [(one.issue.number, one.issue.unit, one.again) for one in (first, second)] == [
        (1, "7", False),
        (2, "7", False),
    ]
    assert [(one.number, one.current, one.reason) for one in issued_sheets(film, "sh010", replaced=True)] == [
        (1, False, "first"),
        (2, True, "ticket is earlier"),
    ]
    assert first.issue.code != second.issue.code
    assert not second.again


def test_issued_twice_from_one_state_it_is_the_same_sheet_byte_for_byte(film, add_cut):
    add_cut()
    (first,) = issue(film, "SH010")
    (again,) = issue(film, "SH010", day=date(2027, 11, 26))

    assert again.again
    assert (again.pdf, again.issue) == (first.pdf, first.issue)


def test_two_copies_of_a_production_issue_the_same_bytes(film, folder, add_cut, tmp_path):
    add_cut()
    film.close()
    shutil.copytree(folder, tmp_path / "copy")
    found = []
    for place in (folder, tmp_path / "copy"):
        with Book.open(place) as book:
            found.append([(one.pdf, one.issue.code) for one in issue(book)])

    assert found[0] == found[1]
    assert len(found[0]) == 2


def test_what_changes_no_row_makes_no_new_issue(film, add_cut):
    add_cut()
    issue(film, "SH010")
    correct(film, "L0001-1", right("step,"), "ANN")
    (again,) = issue(film, "SH010")

    assert (again.again, again.issue.number) == (True, 1)


def test_another_unit_is_another_issue(film, add_cut):
    add_cut()
    issue(film, "SH010")
    (moved,) = issue(film, "SH010", unit="12")

    assert (moved.issue.number, moved.issue.unit, moved.again) == (2, "12", False)


def test_a_shot_that_was_never_issued_wants_a_unit(film, add_cut):
    add_cut()

    with pytest.raises(BookError, match=r"SH010, SH020: never issued before: say for which unit, with --unit"):
        issue(film, unit="")
    assert issues(film) == ()


def test_an_old_sheet_is_the_same_after_every_migration(film, add_cut, tmp_path):
    """A year later trackread has other tables: here one more column, as tests/book/test_book.py adds it."""
    add_cut()
    (given,) = issue(film, "SH010")
    forms = shutil.copytree(MIGRATIONS, tmp_path / "migrations")
    newest = ScriptDirectory(str(MIGRATIONS)).get_current_head()
    (forms / "versions" / "r9999_next.py").write_text(
        f'import sqlalchemy as sa\nfrom alembic import op\nrevision = "9999"\ndown_revision = "{newest}"\n'
        'def upgrade():\n    op.add_column("issues", sa.Column("colour", sa.Text()))\n'
    )
    bring_up_to_date(film.database, migrations=forms)

    assert pdf_of(film, given.issue) == given.pdf
    assert isinstance(issued_sheet(snapshot_of(film, given.issue)).sheet, Sheet)


def test_an_issue_is_whole_in_the_check_and_a_spoilt_one_is_told(film, add_cut):
    add_cut()
    (given,) = issue(film, "SH010")
    assert check(film) == ()
    with film.writing() as transaction:
        transaction.connection().exec_driver_sql("UPDATE issue_pdfs SET body = x'00'")

    assert check(film) == ("the PDF of issue 1 of SH010 is missing or not what it was",)
    with pytest.raises(BookError, match="restore a backup"):
        pdf_of(film, given.issue)


def test_a_sheet_that_somebody_else_issues_meanwhile_is_not_issued_twice(film, folder, add_cut, monkeypatch):
    add_cut()
    from trackread.workflow import issuing

    drawn = issuing.drawn_sheets

    def meanwhile(*arguments, **more):
        made = list(drawn(*arguments, **more))
        monkeypatch.setattr(issuing, "drawn_sheets", drawn)
        with Book.open(folder) as other:
            issue(other, "SH010", unit="9")
        return made

    monkeypatch.setattr(issuing, "drawn_sheets", meanwhile)
    with pytest.raises(ClashError, match="SH010 has been issued since it was looked at"):
        issue(film, "SH010")
    assert [(one.number, one.unit) for one in issues(film)] == [(1, "9")]


def a_scan(pdf, *, turned):
    """The first page of a PDF at 150 dpi, grey, turned by so many degrees, as a PNG."""
    page = pypdfium2.PdfDocument(pdf)[0].render(scale=150 / 72).to_pil().convert("L")
    target = BytesIO()
    page.rotate(turned, expand=True, fillcolor=200).save(target, "PNG")
    return target.getvalue()


@pytest.mark.parametrize("turned", [0, 7, 90, 183])
def test_a_scan_of_the_page_says_which_sheet_it_is(film, add_cut, tmp_path, turned):
    add_cut()
    (given,) = issue(film, "SH010")
    picture = tmp_path / "scan.png"
    picture.write_bytes(a_scan(given.pdf, turned=turned))
    (found,) = which(film, str(picture))

    assert found.issue == given.issue
    assert (found.by, found.stale) == (None, None)
    assert pdf_as_issued(film, found.issue) == given.pdf


def test_a_sheet_that_was_replaced_says_by_which_and_what_differs(film, add_cut):
    add_cut()
    (first,) = issue(film, "SH010")
    correct(film, "L0001-1", move("ticket!", 13), "ANN")
    (second,) = issue(film, "SH010")
    (found,) = which(film, first.issue.code.lower().replace("-", " "))

    assert (found.issue.number, found.by) == (1, second.issue)
    assert "BRACK: “ticket!” moves from 25 to 23" in found.told


def test_what_is_no_code_of_ours_is_refused(film, add_cut, tmp_path):
    add_cut()
    empty, text = tmp_path / "empty.png", tmp_path / "text.png"
    Image.new("L", (50, 50), 255).save(empty)
    text.write_text("no picture")

    for asked, error, told in (
        ("TR-0000-0000", BookError, "TR-0000-0000 is no sheet of The Late Tram: is it another production's?"),
        ("SH010", BookError, "'SH010' is not the code of a sheet: write it as TR-0000-0000"),
        (str(empty), BookError, "no square code is to be seen in it"),
        (str(text), SheetError, "PNG or JPEG"),
    ):
        with pytest.raises(error, match=told):
            which(film, asked)


def test_a_code_is_read_as_people_write_it():
    code = code_of(bytes(range(5)))

    assert code_typed(code.lower()) == code_typed(code.replace("-", "")) == code
    # Crockford's Base 32 reads O as 0, I and L as 1.
    assert code_typed("TR-OIL0-0000") == "TR-0110-0000"
    assert len(set(ALPHABET)) == 32


def test_the_pages_that_changed_are_fewer_than_the_whole(film, add_cut):
    add_cut(shots=(("SH010", 0, 0, 120),), pieces=((10, 0, 18), (20, 100, 20)))
    issue(film, "SH010")
    add_cut(shots=(("SH010", 0, 0, 120),), pieces=((10, 0, 18), (20, 99, 20)))
    (given,) = issue(film, "SH010")

    assert len(pypdfium2.PdfDocument(given.pdf)) == 3
    assert len(pypdfium2.PdfDocument(given.changed)) == 1
    assert issued_sheet(snapshot_of(film, given.issue)).sheet.changed[0][0] > 96


def test_a_note_that_is_told_makes_a_new_issue(film, add_cut):
    add_cut()
    issue(film, "SH010")
    tell(film, "SH010", Telling(about="Tum has no ticket."), "ANN")
    (given,) = issue(film, "SH010")

    assert (given.issue.number, given.again) == (2, False)


def test_other_codes_in_a_picture_are_left_alone(film, add_cut, tmp_path):
    """A poster on the wall of the stage: its code is made by zxing-cpp."""
    add_cut()
    (given,) = issue(film, "SH010")
    poster = zxingcpp.create_barcode("a poster", zxingcpp.BarcodeFormat.QRCode).to_image(scale=6)
    page = pypdfium2.PdfDocument(given.pdf)[0].render(scale=150 / 72).to_pil().convert("L")
    wall = Image.new("L", (page.width + 400, page.height), 255)
    wall.paste(page, (0, 0))
    wall.paste(Image.fromarray(np.asarray(poster)), (page.width + 60, 60))
    wall.save(tmp_path / "wall.png")
    (found,) = which(film, str(tmp_path / "wall.png"))

    assert found.issue == given.issue
