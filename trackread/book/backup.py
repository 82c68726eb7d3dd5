"""A backup of a production as one file, made while others go on working."""

import tempfile
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from trackread import __version__
from trackread.book.archive import BESIDE, KITS, NAME, put, put_manifest
from trackread.book.book import FILE, Book
from trackread.book.clock import now
from trackread.book.copying import fill_from
from trackread.book.database import copy_file, sqlite_database
from trackread.book.files import beside, blocks_of
from trackread.book.settings import SETTINGS, settings_text
from trackread.book.sounds import KeptSound, sounds


@dataclass(frozen=True, slots=True)
class BackupNotes:
    """What a backup has: how many recordings, and those `left_out`, in words with the reason."""

    file: Path
    sounds: int
    left_out: tuple[str, ...] = ()


def backup(book: Book, file: Path, *, with_sounds: bool = True) -> BackupNotes:
    """Writes a backup, whole or not at all, with the database as a SQLite file whatever it runs on.

    Recordings that lie outside the production's folder are not in it. Raises BookError if it cannot be written.
    """
    with beside(file) as part, tempfile.TemporaryDirectory(prefix=".trackread-", dir=file.absolute().parent) as place:
        copied = Path(place) / FILE
        snapshot(book, copied)
        every = sounds(book)
        left_out = {
            one.sound.digest: words for one in every if (words := reason_to_leave(one, with_sounds=with_sounds))
        }
        kept = [one for one in every if one.sound.digest not in left_out]
        with zipfile.ZipFile(part, "w") as archive:
            digests = {
                SETTINGS: put(archive, SETTINGS, [settings_of(book)]),
                FILE: put(archive, FILE, blocks_of(copied)),
            }
            for path in files_of(book, kept):
                name = path.relative_to(book.folder).as_posix()
                digests[name] = put(archive, name, blocks_of(path))
            put_manifest(archive, digests, made=now(), by=f"trackread {__version__}")
    return BackupNotes(file, len(kept), tuple(left_out.values()))


def snapshot(book: Book, target: Path) -> None:
    """The database as it is at one moment, as a SQLite file."""
    if book.database.file:
        copy_file(book.database, target)
        return
    copied = sqlite_database(target, new=True)
    try:
        fill_from(book.database, copied)
    finally:
        copied.close()


def reason_to_leave(recording: KeptSound, *, with_sounds: bool) -> str:
    """Why a recording is not in a backup, "" if it is."""
    if not with_sounds:
        return f"{recording.name}: recordings were not asked for"
    if recording.in_place:
        return f"{recording.name}: it lies outside the production, at {recording.path}"
    return "" if recording.path.is_file() else f"{recording.name}: its file {recording.path} is missing"


def settings_of(book: Book) -> bytes:
    """production.toml, but that the address of a server stays at home, since there may be a password in it."""
    if book.production.database:
        return settings_text(replace(book.production, database="")).encode()
    return (book.folder / SETTINGS).read_bytes()


def files_of(book: Book, kept: list[KeptSound]) -> Iterator[Path]:
    yield from (book.folder / name for name in BESIDE if (book.folder / name).is_file())
    yield from sorted(path for path in (book.folder / KITS).rglob("*") if is_part(book, path))
    yield from (recording.path for recording in kept)


def is_part(book: Book, path: Path) -> bool:
    """Whether a file among the kits belongs to them, rather than to the system, or to somewhere else."""
    named = NAME.fullmatch(path.relative_to(book.folder).as_posix())
    return named is not None and path.is_file() and path.resolve().is_relative_to(book.folder.resolve())
