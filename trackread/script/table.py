"""Scripts as a table (RFC 4180, or with semicolons or tabs): the columns scene, character and line, in any order.

Other columns are left alone. An empty scene is that of the row above, as in merged cells.
"""

from trackread.core.csv_rows import table_of
from trackread.core.script import Script
from trackread.script.cues import cue_parts, one_row, without_page_marks
from trackread.script.rows import Row, Source, check, script_of

COLUMNS = ("scene", "character", "line")

QUOTE = 'put words that have the separator in them in "quotes"'
NAMELESS = "nobody speaks these words: name a character"
WORDLESS = "this character has no words: write them in the column line, or leave the row out"


def read_table(source: Source) -> Script:
    """The lines of a table.

    Raises ScriptError with every faulty row at once, or with the columns that the first row lacks.
    """
    table = table_of(source.text)
    check([(table.broken.line, table.broken.text)] if table.broken else [], source)
    check([(table.start, told) for told in (*table.missing(COLUMNS), *table.twice(COLUMNS))], source)
    rows: list[Row] = []
    problems: list[tuple[int, str]] = []
    for row in table.rows:
        if told := table.uneven(row, QUOTE):
            problems.append((row.line, told))
            continue
        scene, cue, words = (one_row(table.named(row)[column]) for column in COLUMNS)
        (name, extension), text = cue_parts(cue), without_page_marks(words)
        if name and text:
            rows.append(Row(scene or (rows[-1].scene if rows else ""), name, text, row.line, extension))
        elif name or text:
            problems.append((row.line, WORDLESS if name else NAMELESS))
    check(problems, source)
    return script_of(rows, source)
