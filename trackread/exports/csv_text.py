"""A table as comma-separated values (RFC 4180), in UTF-8.

The file begins with a byte order mark, since spreadsheet programs take a file without one for text of a local code
page and spoil every letter beyond ASCII; `utf-8-sig` in Python reads it away, and so do other readers of tables.

A spreadsheet program runs a text that begins like a formula, so such a text has an apostrophe before it, which these
programs show as text (common practice: OWASP, "CSV injection"). Numbers are left: -12.5 is one. A text that has
apostrophes and then the beginning of a formula has one more, so that taking one away always gives the text. What only
looks like a number or a date (1e5, 1/2) is still read as one: in a workbook it stays text.
"""

import csv
import io
import re

from trackread.exports.table import Table, Value

# The last four are wide forms of the first, which some spreadsheet programs run as well.
FORMULA = re.compile("'*[=+\\-@\t\r\n＝＋－＠]")
NUMBER = re.compile(r"[+-]?[0-9]+([.][0-9]+)?")


def csv_of(table: Table) -> bytes:
    """The heading and the rows, lines ending with CR LF."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(map(shown, table.heading))
    writer.writerows(map(shown, row) for row in table.rows())
    return text.getvalue().encode("utf-8-sig")


def shown(value: Value) -> Value:
    """A value as a cell has it, so that no spreadsheet program takes a text for a formula."""
    if isinstance(value, str) and value and FORMULA.match(value) and not NUMBER.fullmatch(value):
        return f"'{value}"
    return value
