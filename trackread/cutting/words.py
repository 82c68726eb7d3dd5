"""What became of a shot, in words for an animator."""

from fractions import Fraction

from trackread.core.cut import NORMAL, Placement
from trackread.core.cut_change import Difference, DifferenceKind, ShotChange
from trackread.cutting.spelling import counted, decimal

# What follows the name of the shot.
TOLD = {
    DifferenceKind.MOVED: "stands elsewhere among the shots: {frames} {later} in the cut",
    DifferenceKind.SHIFTED: "is pushed along by what is before it: {frames} {later} in the cut",
    DifferenceKind.REPLACED: "has another picture: its frames cannot be told from those before",
    DifferenceKind.HEAD: "{gains} {frames} at its head: what was frame {was} is now frame {now}",
    DifferenceKind.TAIL: "{gains} {frames} at its end, from frame {first}",
    DifferenceKind.RETIMED: "has a picture that plays at another speed, from frame {first}",
    DifferenceKind.FADED: "comes in over {frames} {more}",
    DifferenceKind.SOUND_NEW: "has a new sound, {sound}, from frame {first}",
    DifferenceKind.SOUND_GONE: "no longer has the sound {sound}, from frame {first}",
    DifferenceKind.SOUND_MOVED: "has {sound} {frames} {later}, from frame {first}",
    DifferenceKind.SOUND_SLIPPED: "has {sound} on the same frames, but what is {frames} {later} in the recording, "
    "from frame {first}",
    DifferenceKind.SOUND_RETIMED: "has {sound} at {speed} times its own speed, and before at {former_speed}, "
    "from frame {first}",
    DifferenceKind.SOUND_HEAD: "has {frames} {more} of {sound} at its beginning, from frame {first}",
    DifferenceKind.SOUND_TAIL: "has {frames} {more} of {sound} at its end, from frame {first}",
}


def in_words(change: ShotChange, *, first_frame: int) -> tuple[str, ...]:
    """A sentence for each difference; none for a shot that is what it was.

    `first_frame` is the number that sheets give to the first frame of a shot.
    """
    if change.after is None:
        return (f"{change.before.name} is gone",) if change.before else ()
    name = change.after.name
    if change.before is None:
        return (f"{name} is new: {counted(change.after.seen)}",)
    return tuple(f"{name} {told(one, first_frame)}" for one in change.differences)


def told(one: Difference, first_frame: int) -> str:
    """What follows the name of the shot."""
    more = one.frames > 0
    return TOLD[one.kind].format(
        frames=counted(one.frames),
        later="later" if more else "earlier",
        more="more" if more else "fewer",
        gains="gains" if more else "loses",
        first=first_frame + (one.first or 0),
        was=decimal(first_frame + max(Fraction(0), -one.frames)),
        now=decimal(first_frame + max(Fraction(0), one.frames)),
        sound=sound_name(one.after or one.before),
        speed=speed_of(one.after),
        former_speed=speed_of(one.before),
    )


def sound_name(placement: Placement | None) -> str:
    """What the list calls a sound, surest first."""
    source = placement.source if placement else None
    return (source.file or source.clip or source.reel) if source else ""


def speed_of(placement: Placement | None) -> str:
    return decimal(placement.speed if placement else NORMAL)
