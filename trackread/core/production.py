"""A production: what its sheets are ruled by, and who speaks in it."""

from dataclasses import dataclass

from trackread.core.timebase import FrameRate


@dataclass(frozen=True, slots=True)
class Character:
    """Someone who speaks: the `name` as the script has it, other names the script may use, and who lends the voice."""

    name: str
    also: tuple[str, ...] = ()
    voice: str = ""


@dataclass(frozen=True, slots=True)
class Production:
    """What holds for every sheet. `first_frame` is the number of a shot's first frame; `database` is "" for the
    production's own file, or the URL of a server.
    """

    title: str
    rate: FrameRate
    first_frame: int = 1
    paper: str = "a4"
    rows: int = 48
    characters: tuple[Character, ...] = ()
    database: str = ""

    def __post_init__(self) -> None:
        if not self.title.strip():
            raise ValueError("a production has a title")
