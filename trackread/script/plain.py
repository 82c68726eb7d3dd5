"""Scripts as `NAME: words`, a line each; empty lines mean nothing, `# 12 INT. DEPOT` begins a scene.

What follows `#` is the scene's number if it has a figure in its first word (`12`, `12A`), else its heading.
"""

from trackread.core.script import Script
from trackread.script.cues import cue_parts, one_row, without_page_marks
from trackread.script.rows import Row, Source, check, script_of


def read_plain(source: Source) -> Script:
    """The lines of a plain script.

    Raises ScriptError with every row that is neither a line, a scene nor empty.
    """
    rows: list[Row] = []
    problems: list[tuple[int, str]] = []
    scene = ""
    for number, line in enumerate(source.text.split("\n"), 1):
        if line.lstrip().startswith("#"):
            scene = scene_named(line)
        elif is_said(line):
            rows.append(row_of(line, scene, number))
        elif line.strip():
            problems.append((number, problem_of(line)))
    check(problems, source)
    return script_of(rows, source)


def is_said(line: str) -> bool:
    """Whether a line is a name with a letter in it, a colon and words."""
    return has_name(line.partition(":")[0]) and bool(words_of(line))


def has_name(cue: str) -> bool:
    return any(map(str.isalpha, cue_parts(cue)[0]))


def words_of(line: str) -> str:
    return without_page_marks(line.partition(":")[2])


def row_of(line: str, scene: str, number: int) -> Row:
    name, extension = cue_parts(line.partition(":")[0])
    return Row(scene, name, words_of(line), number, extension)


def scene_named(heading: str) -> str:
    name = one_row(heading.strip().strip("#"))
    first = name.partition(" ")[0]
    return first.rstrip(".") if any(map(str.isdigit, first)) else name


def problem_of(line: str) -> str:
    """What is wrong with a line that is no `NAME: words`."""
    told = one_row(line)
    told = told if len(told) <= 40 else f"{told[:40]}…"
    name, colon, _ = line.partition(":")
    if not colon:
        return f"{told!r} does not say who speaks: write `NAME: words`, all the words in one row"
    if not has_name(name):
        return f"{told!r} has no name before the colon: write `NAME: words`"
    return f"{told!r} has no words after the colon: write what is said, or leave the row out"
