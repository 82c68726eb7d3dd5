"""A production is made, found from where one stands, and opened."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from trackread.book.book import Book as Book  # by which the web knows it
from trackread.book.settings import SETTINGS, as_address, as_paper, as_rate, as_rows
from trackread.book.shares import MOUNTINFO, network_share
from trackread.core.production import Character, Production
from trackread.core.script import speaker_of
from trackread.errors import BookError, ProductionError
from trackread.workflow.typed import typed


@dataclass(frozen=True, slots=True)
class Wish:
    """What a new production is to be, as a person typed it."""

    title: str
    rate: str
    first_frame: int
    paper: str
    rows: int
    database: str
    characters: tuple[str, ...]


def open_production(given: Path | None) -> Book:
    """The book in the folder that is given, else in this one or the nearest above it that holds a production.

    Raises ProductionError if there is none, BookError if it cannot be opened.
    """
    return Book.open(given or production_above(Path.cwd()))


def production_above(folder: Path) -> Path:
    """The nearest folder, from this one up, that holds a production. Raises ProductionError if none does."""
    for place in (folder, *folder.parents):
        if (place / SETTINGS).is_file():
            return place
    raise ProductionError(
        f"no production here: neither {folder} nor any folder above it holds a {SETTINGS}: go to the production's "
        "folder, name it with --production, or make one with `trackread new`"
    )


def make_production(folder: Path, wish: Wish) -> str:
    """Makes a production in a folder, and says what is the matter with the place, "" if nothing is.

    Raises ProductionError with everything that is wrong in the wish, BookError if the folder holds one already.
    """
    with Book.create(folder, production_of(wish)):
        return "" if wish.database else warning_of_share(folder)


def production_of(wish: Wish) -> Production:
    """The production that is wished for. Raises ProductionError, a line for each problem."""
    if problems := list(problems_of(wish)):
        raise ProductionError("\n".join(problems))
    return Production(
        title=typed(wish.title, "the title"),
        rate=as_rate(wish.rate),
        first_frame=wish.first_frame,
        paper=as_paper(wish.paper),
        rows=wish.rows,
        characters=tuple(Character(typed(name, "a name")) for name in wish.characters),
        database=wish.database,
    )


def problems_of(wish: Wish) -> Iterator[str]:
    """All that is wrong in a wish, each with the option that is wrong."""
    yield from problem("--title", partial(typed, wish.title, "it"))
    yield from problem("--rate", partial(as_rate, wish.rate))
    if wish.first_frame < 0:
        yield f"--first-frame: must be 0 or more, not {wish.first_frame}"
    yield from problem("--paper", partial(as_paper, wish.paper))
    yield from problem("--rows", partial(as_rows, wish.rows))
    yield from problem("--database", partial(as_address, wish.database))
    seen: set[str] = set()
    for name in wish.characters:
        yield from problem("--character", partial(typed, name, "it"))
        if speaker_of(name) in seen:
            yield f"--character: {name!r} is named twice"
        seen.add(speaker_of(name))


def problem(option: str, check: Callable[[], object]) -> Iterator[str]:
    """What a check says of an option, if anything."""
    try:
        check()
    except (ValueError, BookError) as error:  # what the settings refuse is a ValueError, as pydantic wants it
        yield f"{option}: {error}"


def warning_of_share(folder: Path, *, mountinfo: Path = MOUNTINFO) -> str:
    """What is the matter with a folder on another machine's disk, "" if it is on one of this machine's."""
    share = network_share(folder, mountinfo=mountinfo)
    if not share:
        return ""
    return (
        f"{folder} lies on a network share ({share}). Two machines that write to a book there at once can damage it, "
        "since its locks do not reach from one machine to the other. Let only one machine work on it; or put the "
        "production on that machine's own disk, or its book on a database server with --database"
    )
