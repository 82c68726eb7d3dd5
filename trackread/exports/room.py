"""What the cells of an office's spreadsheets can hold: the limits are those of the programs that open them."""

import re

from trackread.errors import OutputError
from trackread.exports.table import Table

# The limits of a worksheet in the programs of an office; the formats themselves have none.
MOST_ROWS = 1_048_576
MOST_COLUMNS = 16_384
MOST_LETTERS = 32_767

# XML 1.0, production [2] Char, leaves these out.
UNHELD = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
LINE_END = re.compile("\r\n?")


def check_room(table: Table) -> None:
    """Raises OutputError for a table that a spreadsheet has no room for."""
    for count, most, what in ((table.count + 1, MOST_ROWS, "rows"), (len(table.heading), MOST_COLUMNS, "columns")):
        if count > most:
            told = f"the table of {table.name} has {count} {what}, and a spreadsheet holds {most}"
            raise OutputError(f"{told}: export fewer shots at once, or write CSV or JSON")


def held_by_xml(text: str) -> str:
    """A text with `?` for what XML cannot hold, and with one kind of line end.

    Raises OutputError for one that a cell has no room for.
    """
    if len(text) > MOST_LETTERS:
        told = f"{text[:40]!r}… has {len(text)} letters, and a spreadsheet's cell holds {MOST_LETTERS}"
        raise OutputError(f"{told}: shorten it, or write CSV or JSON")
    return UNHELD.sub("?", LINE_END.sub("\n", text))
