"""What every kind of script is read into before it is one: rows of who says what, where."""

import hashlib
from dataclasses import dataclass
from operator import itemgetter

from trackread.core.script import Script, ScriptLine, line_id, speaker_of
from trackread.errors import ScriptError


@dataclass(frozen=True, slots=True)
class Row:
    """One line as its file has it."""

    scene: str
    character: str
    text: str
    source_line: int
    extension: str = ""
    dual: bool = False


@dataclass(frozen=True, slots=True)
class Source:
    """The text of a script, with plain line ends, and the name that its errors give."""

    name: str
    text: str
    title: str


def script_of(rows: list[Row], source: Source, title: str = "") -> Script:
    """The rows as a first draft: numbered, each with an id, a character's name always in its first spelling.

    Raises ScriptError if there is no row.
    """
    if not rows:
        raise ScriptError(
            f"{source.name}: nobody speaks in it: write a character's name in capitals after an empty line and the "
            f"words below it (Fountain), `NAME: words` a line, or a table with the columns scene, character and line"
        )
    spelt: dict[str, str] = {}
    for row in rows:
        spelt.setdefault(speaker_of(row.character), row.character)
    lines = tuple(
        ScriptLine(
            id=line_id(number),
            number=number,
            scene=row.scene,
            character=spelt[speaker_of(row.character)],
            text=row.text,
            source_line=row.source_line,
            extension=row.extension,
            dual=row.dual,
        )
        for number, row in enumerate(rows, 1)
    )
    digest = hashlib.sha256(source.text.encode()).hexdigest()
    return Script(title or source.title, lines, digest, issued=len(lines))


def check(problems: list[tuple[int, str]], source: Source) -> None:
    """Raises ScriptError with every problem at its line of the file, if there is one."""
    if problems:
        raise ScriptError(
            "\n".join(f"{source.name}:{line}: {problem}" for line, problem in sorted(problems, key=itemgetter(0)))
        )
