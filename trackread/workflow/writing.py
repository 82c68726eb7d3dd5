"""Writes files whole or not at all: all of them beside their places first, and only then renamed into them."""

import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path

from trackread.errors import OutputError


def check_places(places: Iterable[Path], *, kept: Iterable[Path] = ()) -> None:
    """Raises OutputError if a place cannot take a file, is named twice, or holds a file that must be kept."""
    taken = {os.path.realpath(path): "it is among the files to be read" for path in kept}
    for path in places:
        place = os.path.realpath(path)
        if place in taken:
            raise cannot_write(path, taken[place])
        taken[place] = "two outputs have this name"
        if problem := place_problem(Path(place)):
            raise cannot_write(path, problem)


def place_problem(place: Path) -> str:
    """Why no file can be written at `place`, or nothing."""
    try:
        if not place.parent.is_dir():
            return f"there is no folder {place.parent}"
        if place.is_dir():
            return "a folder has this name"
        if place.exists() and not place.is_file():
            return "it is no file but a device"
    except OSError as error:
        return error.strerror or str(error)
    return "" if os.access(place.parent, os.W_OK) else f"the folder {place.parent} may not be written to"


def write_all(contents: Mapping[Path, bytes]) -> None:
    """Writes each file's bytes, replacing what is there. Raises OutputError, having changed none of them."""
    check_places(contents)
    besides: dict[Path, Path] = {}
    try:
        for path, content in contents.items():
            besides[path] = Path(os.path.realpath(path)).with_name(f".{os.getpid()}-{len(besides)}.part")
            write_through(besides[path], content)
        for path, beside in besides.items():
            os.replace(beside, os.path.realpath(path))
    except OSError as error:
        raise cannot_write(path, error.strerror or str(error)) from error
    finally:
        for beside in besides.values():
            beside.unlink(missing_ok=True)


def write_through(path: Path, content: bytes) -> None:
    """Writes to the disk itself, so that a power cut after the renaming leaves no empty file."""
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def write_json(path: Path, value: Mapping[str, object]) -> None:
    """Writes a value as JSON. Raises OutputError, having changed nothing."""
    write_all({path: as_json(value)})


def as_json(value: Mapping[str, object]) -> bytes:
    """JSON with a line for each name, so that a person can look into it too."""
    rows = (
        f"{json.dumps(name)}: {json.dumps(part, ensure_ascii=False, allow_nan=False)}" for name, part in value.items()
    )
    return ("{" + ",\n ".join(rows) + "}\n").encode()


def make_folder(path: Path) -> None:
    """Makes a folder with those above it, where it is not there yet. Raises OutputError if it cannot."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(f"the folder {path} cannot be made: {error.strerror or error}") from error


def cannot_write(path: Path, reason: str) -> OutputError:
    return OutputError(f"{path} cannot be written: {reason}")
