"""A production is backed up, restored and checked."""

import zipfile
from collections.abc import Callable
from pathlib import Path

from trackread.book.archive import NAME
from trackread.book.backup import BackupNotes
from trackread.book.backup import backup as back_up
from trackread.book.checking import check as check_book
from trackread.book.restoring import restore as restore_book
from trackread.errors import BookError
from trackread.workflow.production import open_production, warning_of_share

Progress = Callable[[float], None]


def backup(production: Path | None, file: Path, *, with_sounds: bool) -> BackupNotes:
    """Writes a backup, whole or not at all, over an older one if need be.

    Raises BookError if it cannot be written, or if another file would be lost by it.
    """
    with open_production(production) as book:
        place, folder = file.resolve(), book.folder.resolve()
        if place.is_relative_to(folder) and NAME.fullmatch(place.relative_to(folder).as_posix()):
            raise BookError(f"{file} is a part of the production itself: choose another name for its backup")
        if file.is_file() and not zipfile.is_zipfile(file):
            raise BookError(f"{file} is there already and is no backup: choose another name")
        return back_up(book, file, with_sounds=with_sounds)


def restore(file: Path, folder: Path, database: str) -> str:
    """Unpacks a backup into a new folder, and says what is the matter with the place, "" if nothing is.

    Raises BookError, having left nothing, if the backup is damaged or the folder is not empty.
    """
    restore_book(file, folder, database=database)
    return "" if database else warning_of_share(folder)


def check(production: Path | None, progress: Progress) -> tuple[str, ...]:
    """Everything that is wrong with a production, nothing if it is whole."""
    with open_production(production) as book:
        return check_book(book, progress)
