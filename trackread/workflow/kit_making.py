"""A kit made for a character: mouths of ours, to be changed by whoever makes the puppet's."""

import re
from pathlib import Path

from trackread.book.archive import KITS
from trackread.book.settings import read_settings
from trackread.errors import KitError
from trackread.mouths.kit_file import kit_text
from trackread.mouths.ready_made import LEAST_STEPS, MOST_STEPS, jaw_kit, starting_kit
from trackread.workflow.cast import cast_of
from trackread.workflow.typed import typed
from trackread.workflow.writing import make_folder, write_all

NAME = re.compile(r"[^\W_][\w .-]*")  # of a file that no system hides or takes for an option


def make_kit(folder: Path, name: str, called: str, jaw: int | None = None) -> tuple[Path, str]:
    """Writes a kit for a character into the production in a folder, and gives its place and the character's name.

    It has a jaw that opens in so many steps, or mouths if `jaw` is None. Raises KitError for a name that no kit can
    have, or that one has already; ProductionError if the folder holds no production.
    """
    character = cast_of(read_settings(folder)).name(typed(called, "the name of the character"))
    if jaw is not None and not LEAST_STEPS <= jaw <= MOST_STEPS:
        raise KitError(f"a jaw opens in {LEAST_STEPS} to {MOST_STEPS} steps, not in {jaw}")
    path = folder / KITS / f"{kit_name(name)}.toml"
    if path.exists():
        raise KitError(f"{path} is there already: choose another name, or change it with any text editor")
    kit = jaw_kit(path.stem, character, jaw) if jaw else starting_kit(path.stem, character)
    make_folder(path.parent)
    write_all({path: kit_text(kit).encode()})
    return path, character


def kit_name(name: str) -> str:
    """A name as one of a file. Raises KitError if it cannot be one."""
    words = typed(name, "the name of the kit").removesuffix(".toml")
    if not NAME.fullmatch(words):
        raise KitError(f"{name!r} cannot be the name of a kit: use letters and digits, as brack or brack-winter")
    return words
