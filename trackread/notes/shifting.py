"""Notes and keys moved with the first frame of their shot."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from trackread.core.timebase import Frame
from trackread.notes.action import Note
from trackread.notes.camera import Key

Told = TypeVar("Told", Note, Key)


def shifted(told: Iterable[Told], by: int) -> tuple[Told, ...]:
    """All of them `by` frames later, so that a shot trimmed by 12 frames at its head shifts them by -12.

    What comes to lie before frame 0 is kept, for the shot may grow again.
    """
    return tuple(replace(one, frame=Frame(one.frame + by)) for one in told)
