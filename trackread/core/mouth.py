"""Mouths that a puppet can wear, what a face does as it speaks, and which mouth is worn on which frame.

What a face does is told by five numbers, each from 0 to 1, so that a mouth that somebody carved and a sound that
somebody says can be held against one another:

    opening   how far lips and jaw are apart: 0 closed, 1 as far as they go
    width     from corner to corner: 0 drawn together, 0.5 at rest, 1 spread
    rounding  how far the lips are pushed forward and made round
    bite      how far the upper teeth lie on the lower lip
    tongue    how much of the tongue is seen between or behind the teeth

Frames count from 0, `stop` is not included.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from trackread.core.phones import PAUSE, PHONES
from trackread.core.timebase import Frame

PARTS = ("opening", "width", "rounding", "bite", "tongue")
SYMBOLS = frozenset({*PHONES, PAUSE})

NeedKind = Literal["lips closed", "teeth on lip", "rest"]


@dataclass(frozen=True, slots=True)
class Face:
    """What a face does."""

    opening: float = 0.0
    width: float = 0.5
    rounding: float = 0.0
    bite: float = 0.0
    tongue: float = 0.0

    def __post_init__(self) -> None:
        if any(not 0 <= part <= 1 for part in self.parts):
            raise ValueError(f"each part of a face is from 0 to 1, not {self}")

    @property
    def parts(self) -> tuple[float, ...]:
        """All parts, in the order of PARTS."""
        return self.opening, self.width, self.rounding, self.bite, self.tongue


@dataclass(frozen=True, slots=True)
class Mouth:
    """One mouth of a kit: its `name`, what it looks like, how many `copies` were made, and what it can stand for.

    `phones` are those it was made for, in ARPAbet without stress, SIL for rest; none if its face is to tell. `picture`
    is a file of the production, "" if there is none.
    """

    name: str
    face: Face
    copies: int = 1
    phones: frozenset[str] = frozenset()
    picture: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip() or self.copies < 1:
            raise ValueError(f"a mouth has a name, and there is one of it at least, not {self.copies} of {self.name!r}")
        if self.phones - SYMBOLS:
            raise ValueError(f"{self.name} stands for sounds, not for {', '.join(sorted(self.phones - SYMBOLS))}")

    @property
    def closes(self) -> bool:
        """Whether the lips meet."""
        return self.face.opening == 0 and self.face.bite == 0


@dataclass(frozen=True, slots=True)
class Kit:
    """The mouths of one puppet; `rest` is the name of the one it wears when it says nothing.

    One whose mouth is a `jaw` that only opens has so many steps of it for mouths, and nothing to swap; 0 for others.
    """

    name: str
    character: str
    mouths: tuple[Mouth, ...]
    rest: str
    jaw: int = 0

    def __post_init__(self) -> None:
        names = [mouth.name for mouth in self.mouths]
        if len(set(names)) < len(names) or self.rest not in names:
            raise ValueError(f"the kit {self.name} has each mouth once, and among them the one at rest, {self.rest!r}")

    def mouth(self, name: str) -> Mouth:
        """The mouth of a name. Raises KeyError if there is none."""
        return {mouth.name: mouth for mouth in self.mouths}[name]


@dataclass(frozen=True, slots=True)
class Worn:
    """A mouth that is worn from frame `first` to before `stop`; `pinned` if a person set it."""

    mouth: str
    first: Frame
    stop: Frame
    pinned: bool = False

    def __post_init__(self) -> None:
        if self.first >= self.stop:
            raise ValueError(f"a mouth is worn for a frame at least, not from {self.first} to {self.stop}")


@dataclass(frozen=True, slots=True)
class Pin:
    """A mouth that a person has set, from frame `first` to before `stop`."""

    mouth: str
    first: Frame
    stop: Frame

    def __post_init__(self) -> None:
        if self.first >= self.stop:
            raise ValueError(f"a mouth is pinned for a frame at least, not from {self.first} to {self.stop}")


class Pace(StrEnum):
    """On which frames a mouth may change: each, or every second of a shot, in fast speech each or not."""

    ONES = "ones"
    TWOS = "twos"
    MIXED = "mixed"


@dataclass(frozen=True, slots=True)
class MouthRules:
    """How a mouth goes with a voice, in frames of film, 24 or 25 a second.

    It changes on those frames that `on` says; what is not held for `hold` frames is seen as a flash.

    `lead` is by how much a mouth is ahead of its sound: common practice says 1 or 2, no source. Where it must, it is up
    to `early` ahead or `late` behind: a picture ahead of its sound goes unseen to 125 ms and one behind it only to
    45 ms (ITU-R BT.1359-1), 3 frames and 1.

    All others are common practice, no source: lips close for `closed_hold`, teeth are on the lip for `bite_hold`; in a
    pause of less than `short_pause` a mouth does not rest, in one of `long_pause` it does, but for an ease into it and
    one out of it, each from `least_ease` to `most_ease`.
    """

    on: Pace = Pace.MIXED
    lead: int = 1
    early: int = 3
    late: int = 1
    closed_hold: int = 2
    bite_hold: int = 2
    short_pause: int = 6
    long_pause: int = 12
    least_ease: int = 2
    most_ease: int = 4
    hold: int = 2

    def __post_init__(self) -> None:
        if min(self.lead, self.late, self.least_ease) < 0 or min(self.closed_hold, self.bite_hold, self.hold) < 1:
            raise ValueError(f"nothing is shorter than no frame, and what is held lasts for one, not {self}")
        if self.lead > self.early or self.short_pause > self.long_pause or self.least_ease > self.most_ease:
            raise ValueError(f"the shorter of two is not the longer, in {self}")

    def hold_of(self, lips: NeedKind) -> int:
        """The fewest frames on which what lips do is seen."""
        return self.closed_hold if lips == "lips closed" else self.bite_hold


USUAL = MouthRules()
