"""A kit shown: a row for each of its mouths, and all of them on one page."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from trackread.book.archive import KITS
from trackread.book.settings import read_settings
from trackread.core.mouth import Kit
from trackread.core.phones import PHONES, ipa, respelling
from trackread.core.production import Production
from trackread.errors import KitError
from trackread.mouths.kit_check import spoken_with
from trackread.sheets.kit_page import KitHead, as_png, kit_pdf
from trackread.workflow.counted import counted
from trackread.workflow.kits import KitInUse, kit_files, kit_of, looks_of
from trackread.workflow.printing import form_for
from trackread.workflow.sheet_of_take import terms_of

# How a page is written, by the ending of its file.
FORMS = (".pdf", ".png")
STATE = 8  # letters of a kit's digest that tell one state of it from another


@dataclass(frozen=True, slots=True)
class MouthRow:
    """A mouth of a kit: its number, from 1, and the phones it is spoken with when nothing is around them."""

    number: int
    name: str
    copies: int
    rest: bool
    sounds: tuple[str, ...]
    picture: str


@dataclass(frozen=True, slots=True)
class ShownKit:
    """A kit, and the production on whose terms it is shown."""

    one: KitInUse
    production: Production


def kit_named(folder: Path, name: str) -> ShownKit:
    """A kit of the production in a folder.

    Raises KitError if there is none of this name, or if it cannot be read; ProductionError if the folder holds no
    production.
    """
    production = read_settings(folder)
    files = {file.stem.casefold(): file for file in kit_files(folder)}
    file = files.get(name.removesuffix(".toml").casefold())
    if file is None:
        known = ", ".join(one.stem for one in files.values())
        there = f"there are {known}" if known else "there is none yet: make one with `trackread kit new`"
        raise KitError(f"no kit is called {name!r} in {folder / KITS}: {there}")
    return ShownKit(kit_of(file), production)


def mouth_rows(kit: Kit) -> tuple[MouthRow, ...]:
    """The mouths of a kit in its order."""
    spoken = {symbol: spoken_with(kit, symbol) for symbol in PHONES}
    return tuple(
        MouthRow(
            number=number,
            name=mouth.name,
            copies=mouth.copies,
            rest=mouth.name == kit.rest,
            sounds=tuple(symbol for symbol, found in spoken.items() if found == mouth),
            picture=mouth.picture,
        )
        for number, mouth in enumerate(kit.mouths, 1)
    )


def sounds_told(symbols: Sequence[str], *, as_ipa: bool) -> str:
    """Phones in a row, respelt or in IPA; two that are written alike are one."""
    return "  ".join(dict.fromkeys(ipa(one) if as_ipa else respelling(one) for one in symbols))


def kit_page(shown: ShownKit, form: str) -> bytes:
    """All mouths of a kit on a page of the production's paper, as one of FORMS."""
    one, production = shown.one, shown.production
    kit, rows = one.kit, mouth_rows(one.kit)
    about = [(row.name, short_of(row, kit), sounds_told(row.sounds, as_ipa=production.ipa)) for row in rows]
    detail = f"{production.title}: kit {kit.name}, {counted(len(rows), 'mouth')}, state {one.digest[:STATE]}"
    paper = form_for(terms_of(production), production.paper, production.rows).paper
    pdf = kit_pdf(KitHead(kit.character, detail), about, looks_of(one), paper)
    return pdf if form == ".pdf" else as_png(pdf)


def table_rows(shown: ShownKit) -> tuple[tuple[str, ...], ...]:
    """For each mouth its number, name, copies, sounds and picture, as texts."""
    as_ipa = shown.production.ipa
    return tuple(
        (
            str(row.number),
            row.name,
            str(row.copies),
            ", ".join(filter(None, ("at rest" if row.rest else "", sounds_told(row.sounds, as_ipa=as_ipa)))),
            row.picture,
        )
        for row in mouth_rows(shown.one.kit)
    )


def plain_kit(shown: ShownKit) -> dict[str, object]:
    """A kit as plain values, for JSON."""
    kit = shown.one.kit
    return {
        "kit": kit.name,
        "character": kit.character,
        "jaw": kit.jaw,
        "digest": shown.one.digest,
        "mouths": [asdict(row) for row in mouth_rows(kit)],
    }


def short_of(row: MouthRow, kit: Kit) -> str:
    """How many there are of a mouth, which nobody counts for a jaw, and whether it is at rest."""
    copies = "" if kit.jaw else counted(row.copies, "copy", "copies")
    return ", ".join(filter(None, (copies, "at rest" if row.rest else "")))
