"""A draft of the script is read, compared with the current one, and added; any two drafts are compared."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from trackread.book.book import Book
from trackread.book.drafts import DraftNote, add_draft, current_script, draft_number, draft_script
from trackread.book.drafts import drafts as drafts_of
from trackread.book.sounds import printable
from trackread.core.script import Change, ChangeKind, Script, ScriptLine, speaker_of
from trackread.errors import BookError
from trackread.script.drafts import compare, with_ids
from trackread.script.reading import read_script
from trackread.workflow.cast import cast_of
from trackread.workflow.hanging import Hanging, hanging_on

TOUCHED = (ChangeKind.CHANGED, ChangeKind.GONE)


@dataclass(frozen=True, slots=True)
class Comparison:
    """A draft in a file beside draft `after` of the book, 0 for none; `again` if it is that draft once more."""

    file: Path
    script: Script
    after: int
    changes: tuple[Change, ...]
    again: bool

    @property
    def touched(self) -> set[str]:
        """The lines whose words have changed or gone, so that what hangs on them is touched."""
        return {change.before.id for change in self.changes if change.before and change.kind in TOUCHED}


@dataclass(frozen=True, slots=True)
class Added:
    """What came of a draft: its `number`, what hangs on each line that it touches, and who is no character yet."""

    number: int
    hanging: dict[str, Hanging]
    strangers: tuple[str, ...]


def compared(book: Book, file: Path) -> Comparison:
    """Reads a draft and compares it with the current one. Raises ScriptError with all that is wrong in the file."""
    script = read_script(file)
    after, current = draft_number(book), current_script(book)
    if current is None:
        changes = tuple(Change(ChangeKind.NEW, None, line) for line in script.lines)
        return Comparison(file, script, after, changes, again=False)
    script = with_ids(current, script)
    return Comparison(file, script, after, compare(current, script), again=current.digest == script.digest)


def add(book: Book, draft: Comparison, author: str) -> Added:
    """Adds a draft that was compared with the current one. Raises ClashError if another came in between."""
    number = add_draft(book, draft.script, printable(draft.file.name), author, after=draft.after)
    return Added(number, hanging_on(book, draft.touched), strangers_in(book, draft.script))


def strangers_in(book: Book, script: Script) -> tuple[str, ...]:
    """Characters of the script whom production.toml, if it names any, does not name."""
    cast = cast_of(book.production)
    names = dict.fromkeys(line.character for line in script.lines)
    return tuple(name for name in names if cast.names and speaker_of(name) not in cast.names)


def changes_between(book: Book, first: int | None, second: int | None) -> tuple[int, int, tuple[Change, ...]]:
    """What became of every line from one draft to another, the last two unless said, with their numbers.

    Raises BookError for a draft that is not there.
    """
    later = second or draft_number(book)
    earlier = first or later - 1
    if later and not earlier:
        raise BookError(f"draft {later} is the first one, so there is none to compare it with")
    after = draft_script(book, later)
    return earlier, later, compare(draft_script(book, earlier), after)


def counts_of(changes: Sequence[Change]) -> dict[ChangeKind, int]:
    """How many lines are of each kind, those of none too."""
    counts = Counter(change.kind for change in changes)
    return {kind: counts[kind] for kind in ChangeKind}


def drafts(book: Book) -> tuple[DraftNote, ...]:
    """All drafts, the first one first."""
    return drafts_of(book)


def script_lines(book: Book, scene: str | None, character: str | None) -> tuple[ScriptLine, ...]:
    """The lines of the current draft, of a scene or a character where given.

    Raises BookError if there is no draft, scene or character.
    """
    script = current_script(book)
    if script is None:
        raise BookError("there is no script yet: add it with `trackread script add FILE`")
    cast = cast_of(book.production, [line.character for line in script.lines])
    name = cast.known(character) if character else None
    if scene is not None:
        check_scene(scene, script.lines)
    return tuple(
        line
        for line in script.lines
        if (scene is None or same_scene(line.scene, scene)) and (name is None or cast.name(line.character) == name)
    )


def same_scene(one: str, other: str) -> bool:
    """Whether two writings of a scene are one."""
    return one.casefold() == " ".join(other.split()).casefold()


def check_scene(scene: str, lines: Sequence[ScriptLine]) -> None:
    """Raises BookError, naming those there are, unless a line is in the scene."""
    if not any(same_scene(line.scene, scene) for line in lines):
        scenes = ", ".join(filter(None, dict.fromkeys(line.scene for line in lines)))
        right = f"there are {scenes}" if scenes else "it has none"
        raise BookError(f"there is no scene {scene!r} in the script: {right}")
