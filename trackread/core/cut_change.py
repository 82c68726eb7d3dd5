"""What became of each shot from one cut to the next, and of the sounds within it.

Frames are those of the shot as it was before, counted from 0; a shot that is new counts its own. `first` is the first
frame on which the shot is no longer what it was: the one from which a sheet that is out is stale.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from trackread.core.cut import Placement, Shot
from trackread.core.timebase import Frame


class DifferenceKind(StrEnum):
    """How a shot, or a sound in it, differs."""

    MOVED = "moved"  # the shot has another place among the shots
    SHIFTED = "shifted"  # it is pushed along by what is before it
    HEAD = "head"  # it starts earlier or later in the picture that is its own
    TAIL = "tail"  # it ends earlier or later
    RETIMED = "retimed"
    REPLACED = "replaced"  # its picture has another source, so that no frame can be told from another
    FADED = "faded"  # the dissolve into it is another
    SOUND_NEW = "sound new"
    SOUND_GONE = "sound gone"
    SOUND_MOVED = "sound moved"  # it plays earlier or later
    SOUND_SLIPPED = "sound slipped"  # another part of the recording plays on the same frames
    SOUND_RETIMED = "sound retimed"
    SOUND_HEAD = "sound head"  # it begins earlier or later, what both have being in its place
    SOUND_TAIL = "sound tail"


# These change no frame of the shot that its sheet has.
ELSEWHERE = (DifferenceKind.MOVED, DifferenceKind.SHIFTED, DifferenceKind.REPLACED)
SOUNDS = tuple(kind for kind in DifferenceKind if kind.value.startswith("sound"))


@dataclass(frozen=True, slots=True)
class Difference:
    """One way in which a shot differs.

    `frames` says by how much: later where above 0 (MOVED, SHIFTED, SOUND_MOVED), later in the recording
    (SOUND_SLIPPED), so many frames more or, below 0, fewer (HEAD, TAIL, FADED and those of a sound); 0 of the others.
    It need not be whole for a sound that plays at another speed. `first` is None where no frame of the shot differs.
    """

    kind: DifferenceKind
    frames: Fraction
    first: Frame | None
    before: Placement | None = None
    after: Placement | None = None

    def __post_init__(self) -> None:
        if (self.first is None) != (self.kind in ELSEWHERE):
            raise ValueError(f"{self.kind}: {'a' if self.first is None else 'no'} frame differs")
        if (self.kind in SOUNDS) != (self.before is not None or self.after is not None):
            raise ValueError(f"{self.kind}: a difference of a sound, and no other, has a placement")


@dataclass(frozen=True, slots=True)
class ShotChange:
    """A shot before and after: `before` is None for a new one, `after` for one that is gone."""

    before: Shot | None
    after: Shot | None
    differences: tuple[Difference, ...] = ()

    def __post_init__(self) -> None:
        if self.before is None and self.after is None:
            raise ValueError("a change is of a shot")
        if self.differences and (self.before is None or self.after is None):
            raise ValueError("a shot that is new or gone differs as a whole")

    @property
    def first(self) -> Frame | None:
        """The first frame from which the shot differs; 0 if it is new or gone, None if none does."""
        if self.before is None or self.after is None:
            return Frame(0)
        return min((one.first for one in self.differences if one.first is not None), default=None)
