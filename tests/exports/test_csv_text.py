"""Tables as comma-separated values, read back by the grammar of RFC 4180 and by Python's csv."""

import csv
import io
import re

import pytest
from hypothesis import given

from tests.exports.makers import a_film
from tests.exports.tables import LOOK_ALIKES, a_table, tables, whole
from trackread.exports.csv_text import csv_of
from trackread.exports.table import frames_table

# RFC 4180, 2: a field is either quoted, with quotes doubled, or has no quote, comma or line end.
FIELD = re.compile('(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)')

SIGNED = re.compile("[+-][0-9.]+")


def by_grammar(content):
    """The fields of a file, which must be made of nothing else."""
    text, place, rows = content.decode("utf-8-sig"), 0, [[]]
    while place < len(text):
        found = FIELD.match(text, place)
        assert found, text[place:]
        rows[-1].append(found[2] if found[1] is None else found[1].replace('""', '"'))
        rows += [[]] if found[3] == "\r\n" else []
        place = found.end()
    assert rows.pop() == []
    return rows


def bare(text):
    """A text without the apostrophe that keeps it from being taken for a formula."""
    return re.sub("^'(?='*[=+\\-@\t\r\n＝＋－＠])", "", text)


@given(tables())
def test_every_value_comes_back_as_its_text(table):
    expected = [[str(value) for value in row] for row in whole(table)]
    content = csv_of(table)

    assert [[bare(field) for field in row] for row in by_grammar(content)] == expected
    assert list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""))) == by_grammar(content)


@given(tables())
def test_no_field_begins_like_a_formula_unless_it_is_a_number(table):
    for row in by_grammar(csv_of(table)):
        for field in row:
            # OWASP, "CSV injection": these begin formulas (as in its list; the wide forms from memory).
            assert not field.startswith(tuple("=+-@\t\r\n＝＋－＠")) or SIGNED.fullmatch(field)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("=1+1", "'=1+1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("-12.5", "-12.5"),
        ("+5", "+5"),
        ("-1+1", "'-1+1"),
        ("- Mind!", "'- Mind!"),
        ("'=1", "''=1"),
        ("'tis", "'tis"),
        ("1/2", "1/2"),
    ],
)
def test_what_begins_a_formula_has_an_apostrophe_and_a_number_none(text, field):
    assert by_grammar(csv_of(a_table((text,))))[1] == [field]


def test_a_file_begins_with_a_byte_order_mark():
    # RFC 3629, 6: the signature of UTF-8.
    assert csv_of(a_table(("naïve",))).startswith(b"\xef\xbb\xbfcolumn 0\r\n")


def test_the_examples_of_the_rfc_are_written_as_they_stand_there():
    # RFC 4180, 2, rules 6 and 7.
    content = csv_of(a_table(("aaa", "b\r\nbb", "ccc"), ("aaa", 'b"bb', "ccc"))).decode("utf-8-sig")

    assert content.split("\r\n", 1)[1] == 'aaa,"b\r\nbb",ccc\r\naaa,"b""bb",ccc\r\n'


def test_every_frame_of_a_film_is_a_row():
    rows = by_grammar(csv_of(frames_table(a_film())))

    assert len(rows) == 1 + 48
    assert rows[3][:6] == ["SH010", "12", "3", "01:00:00:02", "Mind", "6"]


def test_look_alikes_are_among_the_texts():
    rows = by_grammar(csv_of(a_table(LOOK_ALIKES)))

    assert [bare(field) for field in rows[1]] == list(LOOK_ALIKES)
