"""Scripts as tables: cells as RFC 4180 quotes them."""

import pytest

from trackread.errors import ScriptError
from trackread.script.rows import Source
from trackread.script.table import read_table


def read(text):
    return read_table(Source("tram.csv", text, "tram"))


def told(text):
    with pytest.raises(ScriptError) as error:
        read(text)
    return str(error.value).split("\n")


def test_columns_are_found_by_name_in_any_order_and_case_among_others():
    (line,) = read(" LINE ,Remark,Character,scene\nNo.,loud,TUM,7\n").lines

    assert (line.scene, line.character, line.text, line.source_line) == ("7", "TUM", "No.", 2)


def test_a_quoted_cell_may_hold_separators_quotes_and_line_ends():
    script = read('scene,character,line\n7,TUM,"No, ""hat""\nhere."\n7,TUM,Yes.\n')

    assert [(line.text, line.source_line) for line in script.lines] == [('No, "hat" here.', 2), ("Yes.", 4)]


def test_an_empty_scene_is_that_of_the_row_above_and_empty_rows_are_none():
    script = read("\nscene,character,line\n,TUM,One.\n7,TUM,Two.\n,,\n,TUM,Three.\n")

    assert [line.scene for line in script.lines] == ["", "7", "7"]


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("", ["scene", "character", "line"]),
        ("scene,who,line\n7,TUM,No.\n", ["character"]),
        ("7,TUM,No.\n", ["scene", "character", "line"]),
    ],
)
def test_every_missing_column_is_told(text, problems):
    rule = "name the columns scene, character, line in the first row"

    assert told(text) == [f"tram.csv:1: there is no column {name}: {rule}" for name in problems]


def test_a_column_that_is_there_twice_is_told():
    assert told("scene,Line,line,character\n") == ["tram.csv:1: there are two columns line: keep one"]


def test_every_faulty_row_is_told_at_once():
    assert told("scene,character,line\n7,TUM,\n7,,No.\n7,TUM,No, no.\n7,TUM,Yes.\n7,TUM\n") == [
        "tram.csv:2: this character has no words: write them in the column line, or leave the row out",
        "tram.csv:3: nobody speaks these words: name a character",
        'tram.csv:4: this row has 4 cells, the first row has 3: put words that have the separator in them in "quotes"',
        'tram.csv:6: this row has 2 cells, the first row has 3: put words that have the separator in them in "quotes"',
    ]


@pytest.mark.parametrize("row", ['7,TUM,"No.\n7,TUM,No.\n', '7,TUM,"No" hat.\n'])
def test_a_quote_that_does_not_close_is_told_where_its_row_begins(row):
    (problem,) = told(f"scene,character,line\n7,TUM,No.\n{row}")

    assert problem.startswith("tram.csv:3: this row cannot be read (")
