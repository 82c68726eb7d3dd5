"""A production unpacked from a backup, whole or not at all."""

import hashlib
import os
import shutil
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO

from trackread.book.archive import digests_in
from trackread.book.book import FILE
from trackread.book.copying import fill_from
from trackread.book.database import Database, server_database, sqlite_database, use_write_ahead_log
from trackread.book.files import BLOCK, cannot_write, part_of, to_disk
from trackread.book.schema import bring_up_to_date
from trackread.book.settings import read_settings, write_settings
from trackread.errors import BookError


def restore(file: Path, folder: Path, *, database: str = "") -> None:
    """Unpacks a backup into a folder that is empty or not there, with its database in a file or on a server.

    Raises BookError, having left the folder and the server's database as they were, if the backup is damaged, the
    folder or the database holds anything, or nothing can be written.
    """
    refuse_taken(folder)
    with unpacked_beside(folder) as part:
        unpack(file, part)
        put_in_order(part, database)


def refuse_taken(folder: Path) -> None:
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise BookError(f"{folder} is not empty: restore into a new folder")


@contextmanager
def unpacked_beside(folder: Path) -> Iterator[Path]:
    """A new folder that becomes `folder` in the end."""
    part = part_of(folder.absolute())
    try:
        part.mkdir()
        yield part
        os.replace(part, folder)
        to_disk(folder.absolute().parent)
    except OSError as error:
        raise cannot_write(folder, error) from error
    finally:
        shutil.rmtree(part, ignore_errors=True)


def unpack(file: Path, part: Path) -> None:
    """Unpacks every file and compares it with the manifest."""
    try:
        with opened(file) as stream, zipfile.ZipFile(stream) as archive:
            for name, digest in digests_in(archive, file).items():
                target = part / name
                target.parent.mkdir(parents=True, exist_ok=True)
                if unpacked(archive, name, target) != digest:
                    raise damaged(file, name)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as error:
        raise damaged(file, str(error)) from error


def opened(file: Path) -> BinaryIO:
    try:
        return file.open("rb")
    except OSError as error:
        raise BookError(f"{file} cannot be read: {error.strerror or error}") from error


def damaged(file: Path, what: str) -> BookError:
    return BookError(f"{file} is damaged ({what}): use another backup")


def unpacked(archive: zipfile.ZipFile, name: str, target: Path) -> str:
    """Unpacks one file, and gives its SHA-256."""
    digest = hashlib.sha256()
    with archive.open(name) as packed, target.open("wb") as file:
        while block := packed.read(BLOCK):
            digest.update(block)
            file.write(block)
    to_disk(target)
    return digest.hexdigest()


def put_in_order(part: Path, address: str) -> None:
    """Brings the database up to date, and onto the server if one is named."""
    production = replace(read_settings(part), database=address)
    file = sqlite_database(part / FILE)
    with closed(file):
        bring_up_to_date(file)
        use_write_ahead_log(file)
        if address:
            with closed(server_database(address)) as server:
                fill_from(file, server)
    if address:
        write_settings(part, production)
        (part / FILE).unlink()


@contextmanager
def closed(database: Database) -> Iterator[Database]:
    try:
        yield database
    finally:
        database.close()
