"""Tables as a spreadsheet (ODS, OpenDocument 1.3, ISO/IEC 26300): a sheet each, its heading row frozen.

Texts are texts whatever they look like, and numbers numbers. Nothing says when it was written. The XML is written row
by row: odfpy, which builds the whole document first, needs 33 kB of memory for each row of 20 cells.
"""

import io
import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipInfo

from trackread.exports.archive import UndatedArchive
from trackread.exports.room import check_room, held_by_xml
from trackread.exports.table import EMPTY, Table, Value

KIND = "application/vnd.oasis.opendocument.spreadsheet"
HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
URN = "urn:oasis:names:tc:opendocument:xmlns"
SPACES = " ".join(f'xmlns:{name}="{URN}:{name}:1.0"' for name in ("office", "table", "text", "config", "manifest"))
VERSION = "1.3"

MANIFEST = (
    f'{HEAD}<manifest:manifest {SPACES} manifest:version="{VERSION}">'
    f'<manifest:file-entry manifest:full-path="/" manifest:version="{VERSION}" manifest:media-type="{KIND}"/>'
    '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>'
    '<manifest:file-entry manifest:full-path="settings.xml" manifest:media-type="text/xml"/>'
    "</manifest:manifest>"
)
# OpenDocument 1.3 part 3, 6.1.2: tabs are read as spaces, and spaces at an end or beside another are left out.
BLANKS = re.compile("\t|^ +| +$|  +")


def spreadsheet_of(tables: Iterable[Table]) -> bytes:
    """The file's bytes. Raises OutputError for a table that has no room in a sheet."""
    tables = tuple(tables)
    content = ZipInfo("content.xml")
    content.compress_type = ZIP_DEFLATED
    file = io.BytesIO()
    with UndatedArchive(file, "w", ZIP_DEFLATED) as archive:
        # OpenDocument 1.3 part 2, 3.3: the first file says what this is, and is not packed.
        archive.writestr("mimetype", KIND, compress_type=ZIP_STORED)
        with archive.open(content, "w") as written:
            for part in document(tables):
                written.write(part.encode())
        archive.writestr("settings.xml", settings(tables))
        archive.writestr("META-INF/manifest.xml", MANIFEST)
    return file.getvalue()


def document(tables: Iterable[Table]) -> Iterator[str]:
    """The XML of all sheets, a row at a time."""
    yield f'{HEAD}<office:document-content {SPACES} office:version="{VERSION}"><office:body><office:spreadsheet>'
    for table in tables:
        check_room(table)
        yield f"<table:table table:name={quoteattr(table.name)}>"
        yield f'<table:table-column table:number-columns-repeated="{len(table.heading)}"/>'
        yield row_of(table.heading)
        yield from map(row_of, table.rows())
        yield "</table:table>"
    yield "</office:spreadsheet></office:body></office:document-content>"


def row_of(values: Iterable[Value]) -> str:
    cells = []
    for empty, group in groupby(values, key=lambda value: value == EMPTY):
        if empty:
            cells.append(f'<table:table-cell table:number-columns-repeated="{len(list(group))}"/>')
        else:
            cells += map(cell_of, group)
    return f"<table:table-row>{''.join(cells)}</table:table-row>\n"


def cell_of(value: Value) -> str:
    if isinstance(value, str):
        lines = "".join(f"<text:p>{kept(line)}</text:p>" for line in held_by_xml(value).split("\n"))
        return f'<table:table-cell office:value-type="string">{lines}</table:table-cell>'
    number = f'office:value-type="float" office:value="{value}"'
    return f"<table:table-cell {number}><text:p>{value}</text:p></table:table-cell>"


def kept(line: str) -> str:
    """A line of a text with its blanks as elements where they would be lost."""
    return BLANKS.sub(blank, escape(line))


def blank(found: re.Match[str]) -> str:
    return "<text:tab/>" if found[0] == "\t" else f'<text:s text:c="{len(found[0])}"/>'


def settings(tables: Iterable[Table]) -> str:
    """What freezes the first row of every sheet: OpenDocument leaves the names of such settings to the programs."""
    frozen = item("VerticalSplitMode", "short", 2) + item("VerticalSplitPosition", "int", 1)
    frozen += item("PositionBottom", "int", 1)
    views = "".join(
        f"<config:config-item-map-entry config:name={quoteattr(table.name)}>{frozen}</config:config-item-map-entry>"
        for table in tables
    )
    return (
        f'{HEAD}<office:document-settings {SPACES} xmlns:ooo="http://openoffice.org/2004/office" '
        f'office:version="{VERSION}"><office:settings><config:config-item-set config:name="ooo:view-settings">'
        '<config:config-item-map-indexed config:name="Views"><config:config-item-map-entry>'
        f'<config:config-item-map-named config:name="Tables">{views}</config:config-item-map-named>'
        "</config:config-item-map-entry></config:config-item-map-indexed></config:config-item-set></office:settings>"
        "</office:document-settings>"
    )


def item(name: str, kind: str, value: int) -> str:
    return f'<config:config-item config:name="{name}" config:type="{kind}">{value}</config:config-item>'
