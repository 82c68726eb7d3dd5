"""Tables as XLSX and as ODS, read back by openpyxl 3.1 and by odfpy 1.4, which has no part in writing."""

import io
import re
from xml.dom import Node
from xml.etree import ElementTree
from zipfile import ZIP_STORED, ZipFile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from odf import opendocument, teletype
from odf.namespaces import OFFICENS, TABLENS
from odf.table import Table as Sheet
from odf.table import TableCell, TableRow
from odf.text import P

from tests.exports.makers import a_film
from tests.exports.tables import LOOK_ALIKES, a_table, tables, whole
from trackread.errors import OutputError
from trackread.exports.spreadsheet import spreadsheet_of
from trackread.exports.table import Table, frames_table, lines_table
from trackread.exports.workbook import workbook_of

EMPTY = (None, "")


def by_openpyxl(content):
    """The rows of each sheet, with None for an empty cell; whatever is no number must be a text."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    for sheet in book:
        kinds = {(type(cell.value), cell.data_type) for row in sheet.iter_rows() for cell in row}
        assert kinds <= {(str, "s"), (int, "n"), (type(None), "n")}
    return {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in book}


def by_odfpy(content):
    """The same, of a file of OpenDocument."""
    sheets = opendocument.load(io.BytesIO(content)).spreadsheet.getElementsByType(Sheet)
    return {
        sheet.getAttrNS(TABLENS, "name"): [
            [value for cell in row.getElementsByType(TableCell) for value in values_of(cell)]
            for row in sheet.getElementsByType(TableRow)
        ]
        for sheet in sheets
    }


def values_of(cell):
    kind = cell.getAttrNS(OFFICENS, "value-type")
    if kind is None:
        return [None] * int(cell.getAttrNS(TABLENS, "number-columns-repeated"))
    if kind == "float":
        return [int(cell.getAttrNS(OFFICENS, "value"))]
    assert kind == "string"
    return ["\n".join(text_of(line) for line in cell.getElementsByType(P))]


def text_of(line):
    """The text of a paragraph, whose characters must be such that no reader takes blanks away from them."""
    letters = "\0".join(str(node) for node in line.childNodes if node.nodeType == Node.TEXT_NODE)
    # OpenDocument 1.3, part 3, 6.1.2: what is collapsed, and at the ends left out.
    assert not re.search("[\t\r\n]|  ", letters)
    for node, end in ((line.firstChild, str.startswith), (line.lastChild, str.endswith)):
        assert node is None or node.nodeType != Node.TEXT_NODE or not end(str(node), " ")
    return teletype.extractText(line)


FORMS = [pytest.param(workbook_of, by_openpyxl, id="xlsx"), pytest.param(spreadsheet_of, by_odfpy, id="ods")]
forms = pytest.mark.parametrize(("written", "read"), FORMS)


def held(value):
    """What a cell of a file of XML can hold of a value (XML 1.0, 2.2 and 2.11)."""
    if not isinstance(value, str):
        return value
    text = value.replace("\r\n", "\n").replace("\r", "\n")
    return re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]", "?", text) or None


@forms
@settings(max_examples=60)
@given(table=tables())
def test_every_text_and_number_comes_back(written, read, table):
    rows = [[held(value) for value in row] for row in whole(table)]
    found = read(written([table]))["frames"]

    assert [row + [None] * (len(rows[0]) - len(row)) for row in found] == rows


@forms
def test_a_text_stays_text_whatever_it_looks_like(written, read):
    assert read(written([a_table(LOOK_ALIKES)]))["frames"][1] == list(LOOK_ALIKES)


@forms
def test_blanks_stay_where_they_are(written, read):
    texts = (" a", "a ", "a  b", "   ", "a\tb", "\t", "a\n b\n\nc", "a\n")

    assert read(written([a_table(texts)]))["frames"][1] == list(texts)


@forms
def test_what_xml_cannot_hold_is_a_question_mark(written, read):
    # XML 1.0 (fifth edition), production [2] Char.
    odd = "".join(map(chr, (0, 1, 8, 9, 11, 12, 31, 32, 0x7F, 0x85, 0xFFFD, 0xFFFE, 0xFFFF, 0x10000, 0x1F68B)))
    kept = "???\t??? \x7f\x85\ufffd??\U00010000\U0001f68b"

    assert read(written([a_table((odd, "\ud800x"))]))["frames"][1] == [kept, "?x"]


@forms
def test_a_film_has_a_sheet_of_frames_and_one_of_lines(written, read):
    tables = [frames_table(a_film()), lines_table(a_film())]
    found = read(written(tables))

    assert list(found) == ["frames", "lines"]
    assert [len(rows) for rows in found.values()] == [1 + 48, 1 + 1]
    assert found["frames"][3][:6] == ["SH010", "12", 3, "01:00:00:02", "Mind", 6]


@forms
@pytest.mark.parametrize(
    ("count", "width", "told"),
    [
        (1_048_576, 1, "the table of frames has 1048577 rows, and a spreadsheet holds 1048576: export fewer shots"),
        (1, 16_385, "the table of frames has 16385 columns, and a spreadsheet holds 16384: export fewer shots"),
    ],
)
def test_a_table_that_has_no_room_is_refused_before_a_row_of_it_is_made(written, read, count, width, told):  # noqa: ARG001
    table = Table("frames", ("a",) * width, count, lambda: pytest.fail("a row was asked for"))

    with pytest.raises(OutputError, match=told):
        written([table])


@forms
def test_a_text_too_long_for_a_cell_is_refused_and_not_cut(written, read):
    longest = "a" * 32_767

    assert read(written([a_table((longest,))]))["frames"][1] == [longest]
    with pytest.raises(OutputError, match=r"'aaaa.*has 32768 letters, and a spreadsheet's cell holds 32767"):
        written([a_table((f"{longest}a",))])


@forms
@settings(max_examples=20)
@given(data=st.data())
def test_one_table_has_one_file_that_has_no_date(written, read, data):  # noqa: ARG001
    table = data.draw(tables())
    content = written([table])
    with ZipFile(io.BytesIO(content)) as archive:
        dates = {entry.date_time for entry in archive.infolist()}
        rights = {entry.external_attr >> 16 for entry in archive.infolist()}
        dated = [name for name in archive.namelist() if re.search(rb"20[2-9][0-9]-", archive.read(name))]

    assert content == written([table])
    # PKWARE's APPNOTE, 4.4.6: the date of MS-DOS, which begins with 1980.
    assert dates == {(1980, 1, 1, 0, 0, 0)}
    assert rights == {0o644}
    assert dated == []


def test_the_heading_of_every_worksheet_is_frozen():
    book = openpyxl.load_workbook(io.BytesIO(workbook_of([a_table((1,)), a_table((2,), name="lines")])))

    assert [sheet.freeze_panes for sheet in book] == ["A2", "A2"]


def test_a_spreadsheet_says_first_what_it_is():
    # OpenDocument 1.3, part 2, 3.3: "mimetype" is the first file and is not compressed.
    with ZipFile(io.BytesIO(spreadsheet_of([a_table((1,))]))) as archive:
        first = archive.infolist()[0]

        assert (first.filename, first.compress_type) == ("mimetype", ZIP_STORED)
        assert archive.read("mimetype") == b"application/vnd.oasis.opendocument.spreadsheet"


def test_the_heading_of_every_sheet_of_a_spreadsheet_is_frozen():
    content = spreadsheet_of([a_table((1,)), a_table((2,), name="lines")])
    with ZipFile(io.BytesIO(content)) as archive:
        settings = ElementTree.fromstring(archive.read("settings.xml"))
    name = "{urn:oasis:names:tc:opendocument:xmlns:config:1.0}name"
    frozen = [each.text for each in settings.iter() if each.get(name) == "VerticalSplitPosition"]
    modes = [each.text for each in settings.iter() if each.get(name) == "VerticalSplitMode"]

    # From memory: 2 stands for a frozen split in the programs that write such settings.
    assert (modes, frozen) == (["2", "2"], ["1", "1"])
