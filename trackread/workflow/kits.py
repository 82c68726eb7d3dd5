"""The kits of a production: what is in its folder `kits`, with the pictures that they name, checked all at once."""

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from trackread.book.archive import KITS
from trackread.core.drawing import Look
from trackread.core.mouth import Kit
from trackread.errors import BookError, KitError, SheetError
from trackread.mouths.drawing import drawing_of
from trackread.mouths.kit_check import problems_of
from trackread.mouths.kit_file import bare_text, read_kit
from trackread.sheets.pictures import small
from trackread.sheets.vectors import is_svg, rendered
from trackread.workflow.telling import bytes_of, text_of

PIXELS = 512  # along the longer side of a mouth: more than a sheet or a film has use for
MOST = 32 * 2**20  # bytes of a picture: more is no picture of a mouth


@dataclass(frozen=True, slots=True)
class KitInUse:
    """A kit with those pictures that it has, as PNG by the names of its mouths.

    `digest` is the SHA-256 of what its file says, remarks left out, and of its pictures as they are on the disk.
    """

    kit: Kit
    digest: str
    pictures: dict[str, bytes]


class Pictures:
    """The pictures that a kit's mouths name, in its folder or one inside that: as they are, and as PNG."""

    def __init__(self, beside: Path) -> None:
        self.beside = beside
        self.found: dict[str, tuple[bytes, bytes]] = {}

    def check(self, name: str) -> None:
        """Reads a picture. Raises KitError if it is not there, lies outside, or is no picture."""
        if name in self.found:
            return
        try:
            path = (self.beside / name).resolve()
            if not path.is_relative_to(self.beside.resolve()):
                raise KitError(f"{name!r} leads out of the folder of the kit: put the picture beside the kit")
            if not path.is_file():
                raise KitError(f"there is no file {name!r} beside the kit: put the picture there, or leave it out")
            content = bytes_of(path)
            self.found[name] = content, seen(content)
        except (BookError, SheetError, OSError, ValueError) as error:  # a path may hold what no system takes
            raise KitError(f"{name!r}: {error}") from error


def seen(content: bytes) -> bytes:
    """A picture as PNG, as it is looked at. Raises SheetError if it is no PNG, JPEG or SVG."""
    if len(content) > MOST:
        raise SheetError(f"the picture has {len(content) // 2**20} MB: a mouth has {MOST // 2**20} MB at most")
    return small(rendered(content, PIXELS) if is_svg(content) else content, PIXELS)


def kit_of(file: Path) -> KitInUse:
    """The kit in a file. Raises KitError with everything that is wrong in it."""
    try:
        text = text_of(file)
    except BookError as error:
        raise KitError(str(error)) from error
    pictures = Pictures(file.parent)
    kit = read_kit(text, file.stem, file=str(file), check_picture=pictures.check)
    named = {mouth.name: pictures.found[mouth.picture] for mouth in kit.mouths if mouth.picture}
    said = sha256(bare_text(kit).encode()).digest()
    digests = b"".join(sha256(content).digest() for content, _ in named.values())
    return KitInUse(kit, sha256(said + digests).hexdigest(), {name: png for name, (_, png) in named.items()})


def kit_files(folder: Path) -> list[Path]:
    """The kits of the production in a folder, in order of their names."""
    # Some systems leave hidden files beside others.
    found = (path for path in (folder / KITS).glob("*.toml") if not path.name.startswith("."))
    return sorted(found, key=lambda path: path.stem)


def kits_in(folder: Path) -> tuple[KitInUse, ...]:
    """The kits of the production in a folder, none if it has none.

    Raises KitError with all that is wrong in any, one that cannot speak among it.
    """
    found, problems = told_kits(kit_files(folder))
    if problems:
        raise KitError("\n".join(problems))
    return tuple(found.values())


def told_kits(files: list[Path]) -> tuple[dict[Path, KitInUse], list[str]]:
    """Those kits that can be read, and all problems of all of these files."""
    found: dict[Path, KitInUse] = {}
    problems: list[str] = []
    for file in files:
        try:
            found[file] = kit_of(file)
        except KitError as error:
            problems += str(error).splitlines()
        else:
            problems += problems_of(found[file].kit)
    return found, problems


def looks_of(one: KitInUse) -> dict[str, Look]:
    """What each mouth of a kit looks like: its picture, or a drawing of its face."""
    return {mouth.name: one.pictures.get(mouth.name) or drawing_of(mouth.face) for mouth in one.kit.mouths}
