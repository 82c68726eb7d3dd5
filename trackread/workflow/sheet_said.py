"""A reading where it plays: which frames its samples fall on, and on which of them it is heard.

Frames count from the first of the cut, or of the take where that is the whole sheet.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby
from operator import attrgetter
from typing import TypeVar

from trackread.core.clock import Clock, clock_of_take
from trackread.core.reading import Reading
from trackread.core.sheet import Beat, Cell, Phrase
from trackread.core.timebase import Frame, FrameRate, frames_covering

Span = TypeVar("Span", Cell, Beat, Phrase)


@dataclass(frozen=True, slots=True)
class Said:
    """A reading, its clock, and the frames of it that are heard."""

    reading: Reading
    clock: Clock
    heard: range


def said_of_take(reading: Reading, rate: FrameRate) -> Said:
    """A take as it is heard by itself, from its first frame to its last."""
    sound = reading.sound
    length = frames_covering(sound.length, sound.sample_rate, rate)
    return Said(reading, clock_of_take(sound.sample_rate, rate), range(length))


def seen_through(spans: Iterable[Span], window: range) -> list[Span]:
    """What of the spans lies within a window, on its own frames; told where it began before or goes on beyond."""
    return [through(one, window) for one in spans if one.first < window.stop and window.start < one.stop]


def through(one: Span, window: range) -> Span:
    if window.start <= one.first and one.stop <= window.stop:
        return one
    first, stop = Frame(max(one.first, window.start)), Frame(min(one.stop, window.stop))
    before, beyond = first > one.first, stop < one.stop
    if isinstance(one, Cell):
        return replace(one, first=first, stop=stop, before=one.before or before, beyond=one.beyond or beyond)
    if isinstance(one, Beat):
        return replace(one, first=first, stop=stop, before=one.before or before)
    # Where the end of a phrase is not heard, its pitch does not end.
    return replace(one, first=first, stop=stop, ending=None if beyond else one.ending)


def in_turn(spans: Iterable[Span]) -> list[Span]:
    """Spans of several readings of one voice, no two on one frame.

    On each frame stands what began last, of those that began on one frame the last; what that covers goes on after it.
    So it does not matter which part of the cut is looked at.
    """
    begun = sorted(spans, key=attrgetter("first"))
    on = {frame: place for place, one in enumerate(begun) for frame in range(one.first, one.stop)}
    runs = ((place, list(frames)) for place, frames in groupby(sorted(on), key=on.__getitem__))
    return [through(begun[place], range(frames[0], frames[-1] + 1)) for place, frames in runs]


def from_frame(spans: Iterable[Span], first: int) -> tuple[Span, ...]:
    """Spans with their frames counted from another one on."""
    return tuple(replace(one, first=Frame(one.first - first), stop=Frame(one.stop - first)) for one in spans)
