"""Tables as a workbook (XLSX, ISO/IEC 29500): a worksheet each, its heading row frozen.

Texts are texts whatever they look like, and numbers numbers. Nothing says when it was written.
"""

import io
from collections.abc import Iterable, Iterator
from datetime import datetime
from zipfile import ZIP_DEFLATED

from openpyxl import Workbook
from openpyxl.cell import Cell, WriteOnlyCell
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from trackread.exports.archive import NO_DATE, UndatedArchive
from trackread.exports.room import check_room, held_by_xml
from trackread.exports.table import EMPTY, Record, Table, Value

BELOW_HEADING = "A2"
TEXT = "s"


def workbook_of(tables: Iterable[Table]) -> bytes:
    """The file's bytes. Raises OutputError for a table that has no room in a worksheet."""
    # Rows are written as they come, so that memory does not grow with their number.
    book = Workbook(write_only=True)
    book.properties.created = book.properties.modified = datetime(*NO_DATE)
    for table in tables:
        check_room(table)
        sheet = book.create_sheet(table.name)
        sheet.freeze_panes = BELOW_HEADING
        sheet.append(cells_of(sheet, table.heading))
        for row in table.rows():
            sheet.append(cells_of(sheet, row))
    content = io.BytesIO()
    ExcelWriter(book, UndatedArchive(content, "w", ZIP_DEFLATED)).save()
    return content.getvalue()


def cells_of(sheet: Worksheet, row: Record) -> Iterator[Value | Cell | None]:
    for value in row:
        if not isinstance(value, str):
            yield value
        elif value == EMPTY:
            yield None
        else:
            yield text_cell(sheet, value)


def text_cell(sheet: Worksheet, text: str) -> Cell:
    """A cell that is a text, even where openpyxl would guess a formula or an error from it."""
    cell = WriteOnlyCell(sheet, held_by_xml(text))
    cell.data_type = TEXT
    return cell
