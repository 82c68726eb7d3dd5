"""Tables of any values for tests of the forms that they are written in."""

from functools import partial

from hypothesis import strategies as st

from tests.exports.makers import texts
from trackread.exports.table import Table

# What spreadsheet programs take for a formula, an error, a number, a date or a truth if they are let.
LOOK_ALIKES = (
    "=1+1",
    "+5",
    "-12.5",
    "@SUM(A1)",
    "1/2",
    "1e5",
    "#N/A",
    "#REF!",
    "TRUE",
    "01:00:00:00",
    "'=1",
    "0012",
    "=",
)


def a_table(*rows, name="frames"):
    """A table with a row of headings as long as its first row."""
    heading = tuple(f"column {k}" for k in range(len(rows[0])))
    return Table(name, heading, len(rows), partial(iter, rows))


@st.composite
def tables(draw, name="frames"):
    width = draw(st.integers(0, 3))
    value = st.one_of(texts(), st.just(""), st.integers(0, 10**6))
    # The rows that are exported begin with a shot; readers leave out those that are empty at the end.
    row = st.tuples(texts(), *[value] * width)
    return a_table(*draw(st.lists(row, min_size=1, max_size=5)), name=name)


def whole(table):
    """The heading and the rows."""
    return [table.heading, *table.rows()]
