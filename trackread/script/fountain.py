"""Screenplays in Fountain, the open plain-text syntax (fountain.io/syntax), as lines.

fountain-py reads the syntax. Cues are marked for it first (`@`), because it knows names in ASCII only and takes a cue
for action if a note or a line in capitals follows; a name in any script, with `&`, `/` or `,`, is a cue as well.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from fountain import ElementType, FountainElement, FountainParser

from trackread.core.script import Script, speaker_of
from trackread.script.cues import PAGE_MARK, cue_parts, is_continued, one_row, without_page_marks
from trackread.script.rows import Row, Source, check, script_of

SPOKEN = {ElementType.DIALOGUE, ElementType.PARENTHETICAL, ElementType.LYRICS}
UNHEARD = {ElementType.NOTE, ElementType.BONEYARD, ElementType.PAGE_BREAK}
PROBLEMS = {
    "unclosed-boneyard": "this /* is never closed, and all that follows would be left out: write */ where it ends",
    "unclosed-note": "this [[ is never closed: write ]] where the note ends, in the same paragraph",
}
NAMELESS = "this cue names nobody: write a character's name before the parenthesis"
REMARK = re.compile(r"\[\[(?:(?!\[\[).)*?\]\]|/\*(?:(?!/\*).)*?\*/")
CUE = re.compile(r"(?P<name>[^\W_][\w .'’\"#&/,+-]*)(?:\([^()]+\)\s*)*")
CARET = re.compile(r"\s*\^\s*$")
# A printed page says this at its foot and head, between the halves of a speech.
PAGE_TURN = re.compile(r"\(?CONTINUED\)?:?|[0-9]+\.", re.IGNORECASE)


@dataclass
class Speech:
    """A cue and what is said under it, while it is being gathered."""

    scene: str
    cue: FountainElement
    dual: bool
    follows: bool
    parts: list[str] = field(default_factory=list)

    @property
    def cue_text(self) -> str:
        extension = self.cue.metadata.get("extension")
        return f"{self.cue.text} ({extension})" if extension else self.cue.text

    def goes_on_from(self, former: "Speech") -> bool:
        """Whether this is the rest of a speech that began on the page before."""
        breaks_off = any(PAGE_MARK.search(part) for part in former.parts[-1:])
        same = speaker_of(self.cue.text) == speaker_of(former.cue.text)
        return self.follows and same and breaks_off and is_continued(self.cue_text)


def read_fountain(source: Source) -> Script:
    """The lines of a screenplay in Fountain.

    Raises ScriptError for a comment or a note that never ends, and for a script in which nobody speaks.
    """
    lines = [line if line == "  " else line.rstrip() for line in source.text.split("\n")]
    cues = {number: line for number, line in enumerate(lines) if is_cue(lines, number)}
    duals = {number + 1 for number, line in cues.items() if CARET.search(unremarked(line))}
    marked = [marked_cue(cues[number]) if number in cues else line for number, line in enumerate(lines)]
    document = FountainParser().parse("\n".join(marked))
    found = joined(speeches(document.elements, lines, duals))
    endless = [(one.line_number, PROBLEMS[one.code]) for one in document.issues if one.code in PROBLEMS]
    check(endless + [(one.cue.line_number, NAMELESS) for one in found if not cue_parts(one.cue_text)[0]], source)
    rows = rows_of(found)
    return script_of(rows, source, one_row(document.metadata.get("title", "").translate({ord(c): None for c in "*_"})))


def rows_of(found: Iterable[Speech]) -> list[Row]:
    """A row for each speech that has words, or hints at least."""
    rows: list[Row] = []
    for speech in found:
        name, extension = cue_parts(speech.cue_text)
        if text := without_page_marks(" ".join(speech.parts)):
            dual = speech.dual and bool(rows) and rows[-1].scene == speech.scene
            rows.append(Row(speech.scene, name, text, speech.cue.line_number, extension=extension, dual=dual))
    return rows


def is_cue(lines: list[str], number: int) -> bool:
    """Whether a line is a character's cue: in capitals with a letter, or forced; an empty line before, none after."""
    if not any(lines[number + 1 : number + 2]) or any(lines[max(0, number - 1) : number]):
        return False
    line = CARET.sub("", unremarked(lines[number]))
    if line.startswith("@"):
        return True
    found = CUE.fullmatch(line)
    heading = FountainParser.SCENE_HEADING_PATTERN.match(line)
    return found is not None and found["name"].isupper() and heading is None


def unremarked(line: str) -> str:
    return REMARK.sub("", line).strip()


def marked_cue(line: str) -> str:
    """A cue as fountain-py takes it whatever its letters: forced, and without the caret, which it drops at times."""
    return f"@{CARET.sub('', unremarked(line)).removeprefix('@')}"


def speeches(elements: Iterable[FountainElement], lines: list[str], duals: set[int]) -> list[Speech]:
    """Each cue with what is said under it."""
    scene = ""
    found: list[Speech] = []
    open_speech: Speech | None = None
    for element in elements:
        if element.type is ElementType.SCENE_HEADING:
            scene = str(element.metadata.get("scene_number") or one_row(element.text))
        if element.type is ElementType.CHARACTER:
            open_speech = Speech(scene, element, element.line_number in duals, follows=open_speech is not None)
            found.append(open_speech)
        elif open_speech and element.type in SPOKEN and lines[element.line_number - 2]:
            open_speech.parts.append(element.text)
        elif not is_silent(element):
            open_speech = None  # a lyric after an empty line as well: nobody is said to sing it
    return found


def is_silent(element: FountainElement) -> bool:
    """Whether an element comes between speeches only on paper."""
    if element.type is ElementType.ACTION:
        return all(PAGE_TURN.fullmatch(line.strip()) for line in element.text.split("\n"))
    return element.type in UNHEARD


def joined(speeches: Iterable[Speech]) -> list[Speech]:
    """The speeches, those made one again that a page break has cut: (MORE) below the first half, (CONT'D) above."""
    whole: list[Speech] = []
    for speech in speeches:
        former = whole[-1] if whole else None
        if former and speech.goes_on_from(former):
            former.parts += speech.parts
        else:
            whole.append(speech)
    return whole
