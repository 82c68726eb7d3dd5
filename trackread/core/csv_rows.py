"""Tables as CSV text (RFC 4180, or with semicolons or tabs): their rows, the names of their columns, what is wrong.

Lines count from 1, and a row stands where it begins: a cell in quotes may run over several lines. The first row that
has anything in it names the columns, in any case and spacing; rows with nothing in them are none. What is wrong is told
in words and not raised: the reader of the table knows the file, and what else is wrong with it.
"""

import csv
from collections.abc import Sequence
from dataclasses import dataclass

SEPARATORS = ",;\t"
# As the text begins where the reader of a file has left it in; it would be a part of the first column's name.
BYTE_ORDER_MARK = "\ufeff"

QUOTE = 'put what has the separator in it in "quotes"'


@dataclass(frozen=True, slots=True)
class CsvRow:
    """A row, with the line where it begins and its cells as they are written."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CsvFault:
    """What is wrong at a line."""

    line: int
    text: str


@dataclass(frozen=True, slots=True)
class CsvTable:
    """The rows below the head, which stands at line `start` and has the `names` of the columns, in small letters.

    `broken` is the row that cannot be read, and ends the table. An empty text has no names, at line 1.
    """

    start: int
    names: tuple[str, ...]
    rows: tuple[CsvRow, ...]
    broken: CsvFault | None = None

    def missing(self, columns: Sequence[str]) -> list[str]:
        """What to say of the columns that there must be and are not."""
        rule = f"name the columns {', '.join(columns)} in the first row"
        return [f"there is no column {column}: {rule}" for column in columns if column not in self.names]

    def twice(self, columns: Sequence[str]) -> list[str]:
        """What to say of the columns that there must not be two of."""
        return [f"there are two columns {column}: keep one" for column in columns if self.names.count(column) > 1]

    def uneven(self, row: CsvRow, mend: str = QUOTE) -> str:
        """What to say of a row with more cells than columns, or fewer, and how to `mend` it; "" if it has as many."""
        if len(row.cells) == len(self.names):
            return ""
        return f"this row has {len(row.cells)} cells, the first row has {len(self.names)}: {mend}"

    def named(self, row: CsvRow) -> dict[str, str]:
        """The cells of a row by the names of their columns, without space around. Raises ValueError if it is uneven."""
        return dict(zip(self.names, (cell.strip() for cell in row.cells), strict=True))


def table_of(text: str) -> CsvTable:
    """The table that a text is."""
    rows, broken = numbered_rows(text)
    head = rows[0] if rows else CsvRow(1, ())
    names = tuple(" ".join(name.split()).casefold() for name in head.cells)
    return CsvTable(head.line, names, tuple(rows[1:]), broken)


def numbered_rows(text: str) -> tuple[list[CsvRow], CsvFault | None]:
    """The rows that have anything in them, to the end of the text or to the row that cannot be read."""
    # Not by splitlines, to which a line ends with a form feed too.
    lines = text.removeprefix(BYTE_ORDER_MARK).replace("\r\n", "\n").replace("\r", "\n").split("\n")
    head = next((line for line in lines if line.strip()), "")
    reader = csv.reader((f"{line}\n" for line in lines), delimiter=max(SEPARATORS, key=head.count), strict=True)
    rows: list[CsvRow] = []
    number = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append(CsvRow(number, tuple(cells)))
            number = reader.line_num + 1
    except csv.Error as error:
        return rows, CsvFault(number, f'this row cannot be read ({error}): close every " and double those within')
    return rows, None
