"""Files of a production, each written whole or not at all: beside its place first, then renamed into it."""

import os
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from trackread.errors import BookError

PART = ".part"
BLOCK = 1 << 20

Progress = Callable[[float], None]


@contextmanager
def beside(path: Path) -> Iterator[Path]:
    """A path to write to that becomes `path` once it is on the disk itself, so that a power cut leaves no half file.

    Raises BookError, with what was at `path` unchanged, if it cannot be written.
    """
    part = part_of(path)
    try:
        yield part
        to_disk(part)
        os.replace(part, path)
        to_disk(path.parent)
    except OSError as error:
        raise cannot_write(path, error) from error
    finally:
        part.unlink(missing_ok=True)


def part_of(path: Path) -> Path:
    """A name beside `path` that nobody else has."""
    return path.with_name(f".{path.name}-{secrets.token_hex(4)}{PART}")


def to_disk(path: Path) -> None:
    """Waits until a file or folder is on the disk itself."""
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def blocks_of(path: Path, progress: Progress | None = None) -> Iterator[bytes]:
    """A file's bytes, block by block; `progress` is told the share that has been read.

    Raises BookError if it cannot be read.
    """
    try:
        with path.open("rb") as file:
            size, read = os.fstat(file.fileno()).st_size, 0
            while block := file.read(BLOCK):
                yield block
                read += len(block)
                if progress:
                    progress(min(read / size, 1.0) if size else 1.0)
    except OSError as error:
        raise BookError(f"{path} cannot be read: {error.strerror or error}") from error


def cannot_write(path: Path, error: OSError) -> BookError:
    return BookError(f"{path} cannot be written: {error.strerror or error}")
