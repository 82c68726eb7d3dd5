"""Sheets of shots printed, by workers or here, and the files they go into."""

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from trackread.book.book import Book
from trackread.book.files import Progress
from trackread.book.issues import Issue
from trackread.core.cut import Shot
from trackread.core.production import Production
from trackread.errors import CutError
from trackread.workflow.drawing import Drawn, PaperWish, Wanted, draw, in_tasks
from trackread.workflow.failure import Failure
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_sheet import SheetWish
from trackread.workflow.workers import Workers
from trackread.workflow.writing import make_folder, write_all

UNSAFE = re.compile(r"[^\w.+-]+")


def paper_wish(production: Production) -> PaperWish:
    """The paper that a production's settings ask for."""
    return PaperWish(production.paper, production.rows, production.count)


def drawn_sheets(
    book: Book, wanted: Sequence[Wanted], wish: SheetWish, paper: PaperWish, *, workers: Workers | None = None
) -> Iterator[Drawn]:
    """Sheets printed, as they are done: by workers, or one after another in this process.

    Raises CutError for what a worker could not do.
    """
    tasks = in_tasks(book.folder.absolute(), wanted, wish, paper)
    done = (found for _, found in workers.done(draw, tasks)) if workers else map(draw, tasks)
    for found in done:
        if isinstance(found, Failure):
            raise CutError(found.reason)
        yield from found


def write_sheets(
    book: Book,
    briefs: Sequence[ShotBrief],
    folder: Path,
    *,
    wish: SheetWish,
    paper: PaperWish,
    workers: Workers | None,
    progress: Progress,
) -> list[Path]:
    """Prints a PDF for each shot into a folder, each whole or not at all, and gives their files in the order of shots.

    Raises CutError, and OutputError where they cannot be written.
    """
    make_folder(folder)
    names = file_names([brief.shot for brief in briefs])
    wanted = [Wanted(brief) for brief in briefs]
    for count, one in enumerate(drawn_sheets(book, wanted, wish, paper, workers=workers), 1):
        write_all({folder / names[one.wanted.brief.shot.name]: one.pdf})
        progress(count / len(briefs))
    return [folder / names[brief.shot.name] for brief in briefs]


def issue_files(shots: Sequence[Shot]) -> Callable[[Issue], str]:
    """A file's name for each issue of some shots: SH010-issue-2.pdf."""
    names = file_names(shots)
    return lambda issue: f"{names[issue.shot].removesuffix('.pdf')}-issue-{issue.number}.pdf"


def file_stem(code: str) -> str:
    """A shot's code as the beginning of a file's name, fit for any disk."""
    return UNSAFE.sub("-", code).strip("-.") or "shot"


def file_names(shots: Sequence[Shot]) -> dict[str, str]:
    """A file's name for the sheet of each shot, by the shot's name: its code and part, fit for any disk."""
    found: dict[str, str] = {}
    taken: set[str] = set()
    for shot in shots:
        stem = file_stem(shot.code)
        name = stem if shot.part == 1 else f"{stem}-part-{shot.part}"
        count = 1
        while name.casefold() in taken:  # two codes may differ in their signs only, or in capitals
            count += 1
            name = f"{stem}-{count}"
        taken.add(name.casefold())
        found[shot.name] = f"{name}.pdf"
    return found
