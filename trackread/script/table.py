"""Scripts as a table (RFC 4180, or with semicolons or tabs): the columns scene, character and line, in any order.

Other columns are left alone. An empty scene is that of the row above, as in merged cells.
"""

import csv
from collections.abc import Iterator

from trackread.core.script import Script
from trackread.errors import ScriptError
from trackread.script.cues import cue_parts, one_row, without_page_marks
from trackread.script.rows import Row, Source, check, script_of

COLUMNS = ("scene", "character", "line")
SEPARATORS = ",;\t"

QUOTE = 'put words that have the separator in them in "quotes"'
NAMELESS = "nobody speaks these words: name a character"
WORDLESS = "this character has no words: write them in the column line, or leave the row out"


def read_table(source: Source) -> Script:
    """The lines of a table.

    Raises ScriptError with every faulty row at once, or with the columns that the first row lacks.
    """
    table = list(numbered_rows(source))
    start, head = table[0] if table else (1, [])
    names = [one_row(name).casefold() for name in head]
    check([(start, problem) for problem in head_problems(names)], source)
    places = [names.index(column) for column in COLUMNS]
    rows: list[Row] = []
    problems: list[tuple[int, str]] = []
    for number, cells in table[1:]:
        if len(cells) != len(names):
            problems.append((number, f"this row has {len(cells)} cells, the first row has {len(names)}: {QUOTE}"))
            continue
        scene, cue, words = (one_row(cells[place]) for place in places)
        (name, extension), text = cue_parts(cue), without_page_marks(words)
        if name and text:
            rows.append(Row(scene or (rows[-1].scene if rows else ""), name, text, number, extension))
        elif name or text:
            problems.append((number, WORDLESS if name else NAMELESS))
    check(problems, source)
    return script_of(rows, source)


def head_problems(names: list[str]) -> list[str]:
    """What is wrong with the names of the columns."""
    missing = [column for column in COLUMNS if column not in names]
    twice = [column for column in COLUMNS if names.count(column) > 1]
    return [
        *(f"there is no column {column}: name the columns {', '.join(COLUMNS)} in the first row" for column in missing),
        *(f"there are two columns {column}: keep one" for column in twice),
    ]


def numbered_rows(source: Source) -> Iterator[tuple[int, list[str]]]:
    """The rows that have anything in them, each with the line of the file where it begins."""
    lines = source.text.split("\n")
    head = next((line for line in lines if line.strip()), "")
    reader = csv.reader((f"{line}\n" for line in lines), delimiter=max(SEPARATORS, key=head.count), strict=True)
    number = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield number, cells
            number = reader.line_num + 1
    except csv.Error as error:
        wrong = f'this row cannot be read ({error}): close every " and double those within'
        raise ScriptError(f"{source.name}:{number}: {wrong}") from error
