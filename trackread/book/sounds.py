"""Recordings: kept in the production's folder under the SHA-256 of their bytes, or referred to where they lie.

A path in the book is from the folder on where the two have a folder in common, so that both can be moved together.
"""

import hashlib
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import SOUNDS, Book
from trackread.book.clock import now
from trackread.book.files import Progress, beside, blocks_of, cannot_write
from trackread.book.tables import SoundRow
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.errors import BookError, SoundError

ENDING = re.compile("[A-Za-z0-9]{1,8}")


@dataclass(frozen=True, slots=True)
class KeptSound:
    """A recording of the book: `name` is its file's first name, `path` where it lies, `bytes` its size."""

    sound: Sound
    name: str
    path: Path
    in_place: bool
    bytes: int
    channels: int
    added: str


def keep_sound(
    book: Book, path: Path, sound: Sound, channels: int, *, in_place: bool = False, progress: Progress | None = None
) -> Path:
    """Puts a recording into the book and gives where it lies; a recording that is there already is not copied again.

    With `in_place` the file is left where it is, and referred to. One that was referred to can be kept later, or
    referred to elsewhere. Raises SoundError if the file cannot be read or has changed since `sound` was made of it,
    BookError if it cannot be written.
    """
    with book.reading() as transaction:
        known = transaction.get(SoundRow, sound.digest)
    if known and is_there(book, known) and (in_place or not known.in_place):
        return book.folder / known.path
    where = referred(book, path, sound, progress) if in_place else copied(book, path, sound, progress)
    with book.writing() as transaction:
        row = transaction.get(SoundRow, sound.digest) or added_row(transaction, path, sound, channels)
        row.path, row.in_place = where, in_place
        row.bytes = (book.folder / where).stat().st_size
    return book.folder / where


def is_there(book: Book, row: SoundRow) -> bool:
    try:
        return (book.folder / row.path).stat().st_size == row.bytes
    except OSError:
        return False


def added_row(transaction: Transaction, path: Path, sound: Sound, channels: int) -> SoundRow:
    row = SoundRow(
        digest=sound.digest,
        name=printable(path.name),
        ending=ending_of(path),
        sample_rate=sound.sample_rate,
        length=sound.length,
        channels=channels,
        start=sound.start,
        added=now(),
    )
    transaction.add(row)
    return row


def ending_of(path: Path) -> str:
    """What follows the last dot, "" if it is nothing usual."""
    ending = path.suffix.removeprefix(".")
    return ending if ENDING.fullmatch(ending) else ""


def printable(name: str) -> str:
    """A file's name as text, since one from elsewhere may not be UTF-8."""
    return os.fsencode(name).decode("utf-8", "backslashreplace")


def kept_path(digest: str, ending: str) -> str:
    """Where a recording is kept, from the folder on: spread over 256 folders, since one with all would be slow."""
    return f"{SOUNDS}/{digest[:2]}/{digest}{'.' * bool(ending)}{ending}"


def copied(book: Book, path: Path, sound: Sound, progress: Progress | None) -> str:
    """Copies the recording into the folder, and gives where it is from there on."""
    where = kept_path(sound.digest, ending_of(path))
    target = book.folder / where
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise cannot_write(target, error) from error
    with beside(target) as part, part.open("wb") as file:
        for block in checked_blocks(path, sound, progress):
            file.write(block)
    return where


def referred(book: Book, path: Path, sound: Sound, progress: Progress | None) -> str:
    """Reads the recording through, and gives its path from the folder on, or from the root where they share nothing."""
    for _ in checked_blocks(path, sound, progress):
        pass
    folder, there = book.folder.resolve(), path.resolve()
    shared = Path(os.path.commonpath((folder, there)))
    where = there if shared == Path(shared.anchor) else Path(os.path.relpath(there, folder))
    if where.as_posix() != printable(where.as_posix()):
        raise SoundError(f"{printable(str(path))}: its path is not UTF-8: rename it, or keep it in the production")
    return where.as_posix()


def checked_blocks(path: Path, sound: Sound, progress: Progress | None) -> Iterator[bytes]:
    """The file's bytes. Raises SoundError at their end if they are not what `sound` was made of."""
    digest = hashlib.sha256()
    try:
        for block in blocks_of(path, progress):
            digest.update(block)
            yield block
    except BookError as error:
        raise SoundError(str(error)) from error
    if digest.hexdigest() != sound.digest:
        raise SoundError(f"{path} has changed since it was looked at: add it again once nobody writes to it")


def sound_path(book: Book, digest: str) -> Path:
    """Where a recording lies. Raises BookError if the book has none such, SoundError if its file is missing or another.

    Another is told by its size alone: to read all of it each time would take too long, and `check` does it.
    """
    with book.reading() as transaction:
        row = transaction.get(SoundRow, digest)
    if row is None:
        raise BookError(f"{book.folder} has no recording {digest}: add it first")
    path = book.folder / row.path
    if not path.is_file():
        raise SoundError(f"the recording {row.name} is missing: put it back at {path}, or add it again")
    if path.stat().st_size != row.bytes:
        raise SoundError(f"{path} is not the recording {row.name} that was added: put that back, or add it again")
    return path


def sounds(book: Book) -> tuple[KeptSound, ...]:
    """All recordings, in the order of their being added."""
    with book.reading() as transaction:
        rows = transaction.scalars(select(SoundRow).order_by(SoundRow.added, SoundRow.digest))
        return tuple(
            KeptSound(sound_of(row), row.name, book.folder / row.path, row.in_place, row.bytes, row.channels, row.added)
            for row in rows
        )


def sound_of(row: SoundRow) -> Sound:
    return Sound(row.digest, row.sample_rate, Sample(row.length), Sample(row.start))
