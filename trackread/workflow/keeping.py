"""A production is backed up, restored and checked."""

import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from trackread.book.archive import NAME
from trackread.book.backup import BackupNotes
from trackread.book.backup import backup as back_up
from trackread.book.checking import check as check_book
from trackread.book.keys import end_visits, keys
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


@dataclass(frozen=True, slots=True)
class Restored:
    """What to know of a production that was restored: what is the matter with the place, "" if nothing is, and how many
    keys open its server.
    """

    warning: str
    keys: int


def restore(file: Path, folder: Path, database: str) -> Restored:
    """Unpacks a backup into a new folder.

    A key opens if it opened when the backup was made, though it may have been revoked since: a backup cannot know, so
    whoever restores is told. Everybody who had signed in is signed out.

    Raises BookError, having left nothing, if the backup is damaged or the folder is not empty.
    """
    restore_book(file, folder, database=database)
    with open_production(folder) as book:
        end_visits(book)
        opening = sum(not key.revoked for key in keys(book))
    return Restored("" if database else warning_of_share(folder), opening)


def check(production: Path | None, progress: Progress) -> tuple[str, ...]:
    """Everything that is wrong with a production, nothing if it is whole."""
    with open_production(production) as book:
        return check_book(book, progress)
