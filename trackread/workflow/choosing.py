"""Which take of a line is meant where only the line is named."""

from collections.abc import Iterable

from trackread.core.session import Take, Wholeness


def choice_of(takes: Iterable[Take]) -> Take | None:
    """The actor's circled take, else the stand-in's; else the last whole one, the actor's before the stand-in's.

    A take that breaks off is chosen only where there is no other; None if there is no take at all.
    """
    return max(takes, key=worth, default=None)


def worth(take: Take) -> tuple[bool, bool, bool, int]:
    """Of several takes the best has most of this."""
    whole = take.wholeness is not Wholeness.CUT_OFF
    return take.circled and not take.stand_in, take.circled, whole and not take.stand_in, order_of(take, whole=whole)


def order_of(take: Take, *, whole: bool) -> int:
    """Later takes are better, but none that breaks off is as good as one that does not."""
    return (take.number or 0) + (whole and 10**6)
