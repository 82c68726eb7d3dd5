"""What is done in worker processes for shots: sheets made from briefs, compared with those that are out, printed."""

import functools
import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from trackread.book.archive import KITS
from trackread.book.book import Book
from trackread.book.issues import Issue, issue_with_code, snapshot_of
from trackread.book.readings import readings_with
from trackread.book.shot_notes import board
from trackread.changes.sheets import SheetChange, compare_sheets
from trackread.core.drawing import Look
from trackread.core.plain_sheet import plain_of, sheet_to_plain
from trackread.core.sheet import Heading, Sheet
from trackread.errors import TrackreadError
from trackread.workflow.codes import code_of
from trackread.workflow.failure import Failure
from trackread.workflow.issued_sheet import issued_sheet
from trackread.workflow.kits import kit_of, looks_of
from trackread.workflow.printing import Form, Pictures, form_for, pages_with_changes, printed
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_sheet import SheetWish, reading_ids, sheet_of_shot

AT_ONCE = 8  # sheets in one task: enough that fetching readings costs little, few enough that all workers have some


@dataclass(frozen=True, slots=True)
class PaperWish:
    """The paper of sheets by its name, its rows, and what stands beside the frame numbers."""

    paper: str
    rows: int
    count: str


@dataclass(frozen=True, slots=True)
class Frozen:
    """What an issue says of itself, and the issue of its shot that is out before it, None for the first."""

    number: int
    unit: str
    date: str
    former: Issue | None


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sheet that is to be made; `frozen` if it is to be issued."""

    brief: ShotBrief
    frozen: Frozen | None = None


@dataclass(frozen=True, slots=True)
class ToDraw:
    """Sheets that are to be made and printed, of which production, and how."""

    folder: Path
    wanted: tuple[Wanted, ...]
    wish: SheetWish
    paper: PaperWish


@dataclass(frozen=True, slots=True)
class Drawn:
    """A shot's sheet printed; `changed` are those pages of it that differ from the issue before.

    An issue has its `code` and its sheet as plain values. One that says what the issue before says is `same`, and was
    not printed.
    """

    wanted: Wanted
    pdf: bytes
    changed: bytes = b""
    code: str = ""
    plain: dict[str, object] = field(default_factory=dict)
    same: bool = False


def in_tasks(folder: Path, wanted: Sequence[Wanted], wish: SheetWish, paper: PaperWish) -> Iterator[ToDraw]:
    """The tasks in which some sheets are drawn."""
    for first in range(0, len(wanted), AT_ONCE):
        yield ToDraw(folder, tuple(wanted[first : first + AT_ONCE]), wish, paper)


def draw(task: ToDraw) -> tuple[Drawn, ...] | Failure:
    """The sheets of a task, all or none."""
    try:
        book = opened(task.folder)
        form = form_for(task.wish.terms, task.paper.paper, task.paper.rows, task.paper.count)
        bodies = readings_with(book, reading_ids([one.brief for one in task.wanted]))
        return tuple(
            drawn(book, one, sheet_of_shot(one.brief, bodies, task.wish, heading_of(one)), form) for one in task.wanted
        )
    except TrackreadError as error:
        return Failure(str(error))


def heading_of(wanted: Wanted) -> Heading:
    frozen = wanted.frozen
    if frozen is None:
        return Heading()
    return Heading(unit=frozen.unit, issue=str(frozen.number), date=frozen.date)


def pictures_of(book: Book, wanted: Wanted) -> Pictures:
    """The board of a shot, and what its mouths look like if the production wants that."""
    brief, mouths = wanted.brief, book.production.mouth_pictures
    worn = {one.character: looks_in(book.folder, one.kit.name, one.digest) for one in brief.mouthed if mouths}
    return Pictures(board(book, brief.told.board) if brief.told.board else None, worn)


def drawn(book: Book, wanted: Wanted, sheet: Sheet, form: Form) -> Drawn:
    """A sheet printed; if it is an issue, with its code, and bars beside what has changed since the one before."""
    pictures = pictures_of(book, wanted)
    frozen = wanted.frozen
    if frozen is None:
        return Drawn(wanted, printed(sheet, form, pictures))
    change = change_since(book, frozen.former, wanted.brief, sheet) if frozen.former else None
    if change and not change.stale and frozen.former and frozen.former.unit == frozen.unit:
        return Drawn(wanted, b"", same=True)
    if change:
        sheet = replace(sheet, changed=change.spans)
    plain = sheet_to_plain(sheet)
    code = free_code(book, plain)
    sheet = replace(sheet, heading=replace(sheet.heading, code=code))
    pages = pages_with_changes(sheet, form, pictures) if change else ()
    changed = printed(sheet, form, pictures, pages=pages) if pages else b""
    return Drawn(wanted, printed(sheet, form, pictures), changed, code, {**plain, "heading": plain_of(sheet.heading)})


def change_since(book: Book, former: Issue, brief: ShotBrief, sheet: Sheet) -> SheetChange:
    """How a shot's sheet differs from an issue of it."""
    issued = issued_sheet(snapshot_of(book, former))
    return compare_sheets(issued.sheet, sheet, issued.head_lost(brief.shot))


def free_code(book: Book, plain: Mapping[str, object]) -> str:
    """The code of an issue, which is that of its content; another if that one is taken."""
    content = json.dumps(plain, ensure_ascii=False, sort_keys=True)
    salt, code = 0, ""
    while not code or issue_with_code(book, code):
        code = code_of(hashlib.sha256(f"{salt}{content}".encode()).digest())
        salt += 1
    return code


@functools.lru_cache(maxsize=64)
def looks_in(folder: Path, kit: str, digest: str) -> Mapping[str, Look]:  # noqa: ARG001
    """What the mouths of a kit look like, kept from sheet to sheet until the kit has another digest."""
    return looks_of(kit_of(folder / KITS / f"{kit}.toml"))


@functools.lru_cache(maxsize=1)
def opened(folder: Path) -> Book:
    """The production that this process works on, kept open from task to task."""
    return Book.open(folder)
