"""Kits checked: everything that is wrong in them, and what is as well to know, all at once."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from trackread.book.archive import KITS
from trackread.book.settings import read_settings
from trackread.core.mouth import Kit
from trackread.core.production import Production
from trackread.core.script import speaker_of
from trackread.mouths.kit_check import remarks_on
from trackread.workflow.cast import cast_of
from trackread.workflow.kits import KitInUse, kit_files, told_kits


@dataclass(frozen=True, slots=True)
class Checked:
    """The kits that could be read of how many, all that is wrong, and what else is told."""

    kits: tuple[Kit, ...]
    files: int
    problems: tuple[str, ...]
    remarks: tuple[str, ...]


def checked_files(files: Iterable[Path]) -> Checked:
    """Some kits, each by itself."""
    found: dict[Path, KitInUse] = {}
    problems: list[str] = []
    count = 0
    for file in dict.fromkeys(files):
        count += 1
        kits, wrong = told_kits([file])
        found |= kits
        problems += wrong
    return checked(found, count, problems, ())


def checked_production(folder: Path) -> Checked:
    """All kits of the production in a folder, and whether they go with its characters.

    Raises ProductionError if the folder holds none.
    """
    production = read_settings(folder)
    files = kit_files(folder)
    found, problems = told_kits(files)
    # Whose a kit is that cannot be read, nobody knows.
    missing = without_kit(production, found.values()) if len(found) == len(files) else ()
    return checked(found, len(files), problems, (*unknown(found, production), *missing))


def checked(found: dict[Path, KitInUse], files: int, problems: Iterable[str], remarks: Iterable[str]) -> Checked:
    kits = tuple(one.kit for one in found.values())
    own = (remark for kit in kits for remark in remarks_on(kit))
    return Checked(kits, files, tuple(problems), (*own, *remarks))


def unknown(found: dict[Path, KitInUse], production: Production) -> Iterator[str]:
    """The kits of those who are not in the production."""
    names = cast_of(production).names
    for file, one in found.items():
        if speaker_of(one.kit.character) not in names:
            yield f"{file}: production.toml has no character {one.kit.character!r}: nobody wears these mouths"


def without_kit(production: Production, kits: Iterable[KitInUse]) -> Iterator[str]:
    """The characters of a production whose mouths nobody has told."""
    cast = cast_of(production)
    having = {cast.name(one.kit.character) for one in kits}
    for character in production.characters:
        if character.name not in having:
            yield f"{character.name} has no kit in {KITS}: no mouths are chosen for this puppet"
