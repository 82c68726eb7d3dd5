"""A production: what its sheets are ruled by, and who speaks in it."""

from dataclasses import dataclass

from trackread.core.mouth import USUAL, MouthRules
from trackread.core.timebase import FrameRate
from trackread.core.work import STANDARD, WorkRule


@dataclass(frozen=True, slots=True)
class Character:
    """Someone who speaks: the `name` as the script has it, other names the script may use, and who lends the voice."""

    name: str
    also: tuple[str, ...] = ()
    voice: str = ""


@dataclass(frozen=True, slots=True)
class Production:
    """What holds for every sheet. `first_frame` is the number of a shot's first frame; `count` is what stands beside
    the frame numbers, and `ipa` says whether sounds are in IPA instead of being respelt; `database` is "" for the
    production's own file, or the URL of a server.

    `mouths` is how puppets wear theirs, and `mouth_pictures` says whether sheets show them.

    `shot_code` finds the code of a shot in the name of a clip, `scene_code` the scene in the code of a shot: regular
    expressions with one group, "" for none. `units` are those that shoot at once, and `work` is how quickly they do.
    """

    title: str
    rate: FrameRate
    first_frame: int = 1
    paper: str = "a4"
    rows: int = 48
    count: str = "none"
    ipa: bool = False
    characters: tuple[Character, ...] = ()
    database: str = ""
    shot_code: str = ""
    scene_code: str = ""
    units: int = 1
    work: WorkRule = STANDARD
    mouths: MouthRules = USUAL
    mouth_pictures: bool = True

    def __post_init__(self) -> None:
        if not self.title.strip():
            raise ValueError("a production has a title")
        if self.units < 1:
            raise ValueError("somebody shoots")
