"""A reading where it plays: which frames its samples fall on, and on which of them it is heard.

Frames count from the first of the cut, or of the take where that is the whole sheet.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
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
    first, stop = Frame(max(one.first, window.start)), Frame(min(one.stop, window.stop))
    before, beyond = first > one.first, stop < one.stop
    if isinstance(one, Cell):
        return replace(one, first=first, stop=stop, before=one.before or before, beyond=one.beyond or beyond)
    if isinstance(one, Beat):
        return replace(one, first=first, stop=stop, before=one.before or before)
    # Where the end of a phrase is not heard, its pitch does not end.
    return replace(one, first=first, stop=stop, ending=None if beyond else one.ending)


def in_turn(spans: Sequence[Span]) -> list[Span]:
    """Spans of several readings of one voice: each gives way to the next, and of two on a frame the last one stays."""
    found: list[Span] = []
    for one in sorted(spans, key=attrgetter("first")):
        if found and found[-1].first == one.first:
            found.pop()
        elif found and found[-1].stop > one.first:
            found[-1] = through(found[-1], range(found[-1].first, one.first))
        found.append(one)
    return found


def from_frame(spans: Iterable[Span], first: int) -> tuple[Span, ...]:
    """Spans with their frames counted from another one on."""
    return tuple(replace(one, first=Frame(one.first - first), stop=Frame(one.stop - first)) for one in spans)
