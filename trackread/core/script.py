"""A screenplay as the lines that are spoken in it, and what became of each from one draft to the next.

A line is what one character says under one cue: its words as written, with hints how to say them in parentheses. It is
numbered from 1 in the order of the draft; its `id` stays with it through every draft.
"""

import re
from dataclasses import dataclass, replace
from enum import StrEnum

ID = re.compile("L([0-9]{4,})")
DIGEST = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One line of a draft: `scene` is the scene's number, or its heading where it has none.

    `extension` says where the voice comes from if not from a seen mouth (`V.O.`, `O.S.`, as the script has it); `dual`
    is spoken at once with the line before; `source_line` counts the lines of the file from 1.
    """

    id: str
    number: int
    scene: str
    character: str
    text: str
    source_line: int
    extension: str = ""
    dual: bool = False

    def __post_init__(self) -> None:
        id_number(self.id)
        if self.number < 1 or self.source_line < 1:
            raise ValueError(f"lines count from 1, not {self.number} at {self.source_line}")
        for words in (self.character, self.text):
            if not words or words != " ".join(words.split()):
                raise ValueError(f"{words!r} is not one row of words")
        if self.dual and self.number == 1:
            raise ValueError("the first line has none before it to be spoken with")


@dataclass(frozen=True, slots=True)
class Script:
    """One draft. `digest` is the SHA-256 of its text in hex, line ends and byte order mark aside.

    `issued` is the highest id number ever given in the production, to lines of former drafts as well.
    """

    title: str
    lines: tuple[ScriptLine, ...]
    digest: str
    issued: int

    def __post_init__(self) -> None:
        if not self.title.strip():
            raise ValueError("a script has a title")
        if not DIGEST.fullmatch(self.digest):
            raise ValueError(f"{self.digest!r} is not a SHA-256 in hex")
        if [line.number for line in self.lines] != list(range(1, len(self.lines) + 1)):
            raise ValueError("lines are numbered 1, 2, 3 and so on")
        given = [id_number(line.id) for line in self.lines]
        if len(set(given)) < len(given):
            raise ValueError("each line has an id of its own")
        if self.issued < max(given, default=0):
            raise ValueError(f"id {max(given)} was given, though only {self.issued} were")


class ChangeKind(StrEnum):
    """What became of a line, or of the words in a changed one, which are the same, new or gone."""

    SAME = "same"
    CHANGED = "changed"
    MOVED = "moved"  # the same words in another place
    NEW = "new"
    GONE = "gone"


WORD_KINDS = (ChangeKind.SAME, ChangeKind.NEW, ChangeKind.GONE)
WordRuns = tuple[tuple[ChangeKind, str], ...]


@dataclass(frozen=True, slots=True)
class Change:
    """A line of one draft and what it is in the next: `before` is None for a new one, `after` for one that is gone.

    `words` of a changed line are runs of words that are the same, gone and new, in order. A line is changed also if
    only its extension or its being spoken at once with another is.
    """

    kind: ChangeKind
    before: ScriptLine | None
    after: ScriptLine | None
    words: WordRuns = ()

    def __post_init__(self) -> None:
        if (self.before is None) != (self.kind is ChangeKind.NEW):
            raise ValueError(f"a line that is {self.kind} has {'no ' * (self.before is not None)}line before")
        if (self.after is None) != (self.kind is ChangeKind.GONE):
            raise ValueError(f"a line that is {self.kind} has {'no ' * (self.after is not None)}line after")
        if bool(self.words) != (self.kind is ChangeKind.CHANGED):
            raise ValueError("a changed line, and no other, says which words are")
        if any(kind not in WORD_KINDS for kind, _ in self.words):
            raise ValueError("words are the same, new or gone")


def line_id(number: int) -> str:
    """The id with this number.

    >>> line_id(107)
    'L0107'
    """
    return f"L{number:04}"


def id_number(text: str) -> int:
    """The number of an id."""
    found = ID.fullmatch(text)
    if found is None or line_id(int(found[1])) != text or int(found[1]) == 0:
        raise ValueError(f"{text!r} is not the id of a line")
    return int(found[1])


def with_id(line: ScriptLine, number: int) -> ScriptLine:
    """The same line under the id with this number."""
    return replace(line, id=line_id(number))


def speaker_of(name: str) -> str:
    """What two spellings of one character's name share: `Miss  Pell` and `MISS PELL` are one."""
    return " ".join(name.replace("’", "'").split()).casefold()
