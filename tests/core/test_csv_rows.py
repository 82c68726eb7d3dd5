"""Tables as text: quoting by RFC 4180, section 2 (its examples from memory), written by Python's csv module."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.csv_rows import CsvRow, table_of

# Surrogates are no text; a lone carriage return ends a line, and is one line feed when it is read.
CELLS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\r\ufeff"), max_size=6)


def rows_in(text):
    return [(row.line, row.cells) for row in table_of(text).rows]


def test_quoted_cells_hold_separators_quotes_and_line_ends():
    text = 'a,b,c\r\n"aaa","b ""bb","c\r\nc,c"\r\nzzz,yyy,xxx\r\n'

    assert rows_in(text) == [(2, ("aaa", 'b "bb', "c\nc,c")), (4, ("zzz", "yyy", "xxx"))]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_separators_line_ends_and_a_byte_order_mark_change_nothing(separator, ending, mark):
    table = table_of(mark + "frame,text\n1,Pulls the bell.\n".replace(",", separator).replace("\n", ending))

    assert (table.names, table.rows) == (("frame", "text"), (CsvRow(2, ("1", "Pulls the bell.")),))


def test_the_separator_is_the_one_of_the_heading_whatever_the_texts_have():
    assert rows_in("\nframe;text\n1;Stops, waits, rings, opens.\n") == [(3, ("1", "Stops, waits, rings, opens."))]


@given(st.lists(st.lists(CELLS, min_size=2, max_size=2), max_size=6), st.sampled_from(",;\t"))
def test_what_a_program_writes_is_read_as_it_was(rows, separator):
    written = io.StringIO()
    csv.writer(written, delimiter=separator).writerows([["frame", "text"], *rows])
    table = table_of(written.getvalue())

    assert table.broken is None
    assert [row.cells for row in table.rows] == [tuple(row) for row in rows if any(cell.strip() for cell in row)]


@given(st.lists(st.lists(CELLS, min_size=2, max_size=2), max_size=6))
def test_every_row_stands_at_the_line_where_it_begins(rows):
    text, lines = "frame,text\n", []
    for row in rows:
        lines += [text.count("\n") + 1] if any(cell.strip() for cell in row) else []
        text += ",".join(f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in row) + "\n"

    assert [row.line for row in table_of(text).rows] == lines


def test_the_first_row_with_anything_in_it_names_the_columns_in_any_case_and_spacing():
    table = table_of("\n,,\n Frame , What  Happens,\n1,Waits.,\n")

    assert (table.start, table.names) == (3, ("frame", "what happens", ""))


def test_an_empty_text_has_no_columns():
    table = table_of("\n \n")

    assert (table.start, table.names, table.rows, table.broken) == (1, (), (), None)
    assert table.missing(("frame",)) == ["there is no column frame: name the columns frame in the first row"]


def test_columns_that_are_missing_or_there_twice_are_told():
    table = table_of("text,frame,Text,more,more\n")

    assert table.missing(("frame", "axis", "text", "value")) == [
        "there is no column axis: name the columns frame, axis, text, value in the first row",
        "there is no column value: name the columns frame, axis, text, value in the first row",
    ]
    assert table.twice(("frame", "text")) == ["there are two columns text: keep one"]


def test_a_row_with_more_or_fewer_cells_than_columns_is_told():
    table = table_of("frame,text\n1,No, no.\n2\n3,Yes.\n")

    assert [table.uneven(row) for row in table.rows] == [
        'this row has 3 cells, the first row has 2: put what has the separator in it in "quotes"',
        'this row has 1 cells, the first row has 2: put what has the separator in it in "quotes"',
        "",
    ]
    assert table.uneven(table.rows[1], "add words") == "this row has 1 cells, the first row has 2: add words"


def test_cells_have_the_names_of_their_columns():
    table = table_of("TEXT,Frame\n Waits. ,1\n")

    assert table.named(table.rows[0]) == {"text": "Waits.", "frame": "1"}


@pytest.mark.parametrize("row", ['2,"No.\n3,No.\n', '2,"No" hat.\n'])
def test_a_row_that_cannot_be_read_ends_the_table_and_is_told_where_it_begins(row):
    table = table_of(f"frame,text\n1,Waits.\n{row}")

    assert [row.line for row in table.rows] == [2]
    assert table.broken.line == 3
    assert table.broken.text.startswith("this row cannot be read (")
    assert table.broken.text.endswith('): close every " and double those within')
