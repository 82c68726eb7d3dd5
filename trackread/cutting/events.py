"""What every kind of cut list is read into before it is a cut: events, each where its list has it.

Frames of the record are whole numbers; `stop` is not included. They count from the zero of timecode in a list that is
`clocked`, else from the first of the cut.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from trackread.core.cut import NORMAL, Handles, Place, Remark, Source
from trackread.core.footage import Gauge
from trackread.core.timebase import Frame, FrameRate
from trackread.errors import CutError

# Reels that name no recording: black or silence, and whatever is not on a reel (SMPTE 258M, from memory).
BLACK = "BL"
AUXILIARY = "AX"


@dataclass(frozen=True, slots=True)
class Terms:
    """What lists do not say of themselves.

    `code` finds the code of a shot, its one group, in the name of a clip, its file or its reel; without it the code is
    the clip's name. `start` is the frame of timecode with which the cut starts, where its first picture does not say
    so. `first_frame` is the number that tables give to the first frame of a shot or of the cut.
    """

    rate: FrameRate
    code: re.Pattern[str] | None = None
    start: Frame | None = None
    gauge: Gauge = Gauge.FOUR_PERFORATION_35
    first_frame: int = 0


@dataclass(frozen=True, slots=True)
class Event:
    """A piece of picture, or of sound on `tracks`, or both.

    `source` is None for black and silence, and where a list names none. `fade` counts the frames over which it comes in
    from what is before it, which is on the reel `fades_from` if the list says so. A picture hides those of lower
    `layer`s. `shot` is the code where the list says it; the frames of a sound with a `shot` count from the first of it.
    """

    place: Place
    start: int
    stop: int
    source: Source | None
    picture: bool = False
    tracks: tuple[str, ...] = ()
    speed: Fraction = NORMAL
    fade: int = 0
    fades_from: str = ""
    layer: int = 0
    black: bool = False
    handles: Handles | None = None
    shot: str = ""
    notes: tuple[str, ...] = ()


@dataclass
class Listed:
    """A list while it is being read: what was found in it and is wrong with it; `rate` is what its record counts."""

    file: str
    rate: FrameRate
    title: str = ""
    clocked: bool = True
    events: list[Event] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    problems: list[Remark] = field(default_factory=list)

    def at(self, line: int) -> Place:
        return Place(self.file, line)

    def remark(self, line: int, text: str) -> None:
        self.remarks.append(Remark(self.at(line), text))

    def problem(self, line: int, text: str) -> None:
        self.problems.append(Remark(self.at(line), text))


def code_rule(text: str) -> re.Pattern[str]:
    """The rule by which a clip's name gives the code of its shot.

    Raises CutError unless it is a regular expression with one group.
    """
    try:
        rule = re.compile(text)
    except re.error as error:
        raise CutError(f"{text!r} is no rule for the codes of shots: {error}") from error
    if rule.groups != 1:
        raise CutError(
            f"{text!r} is no rule for the codes of shots: put ( ) around what is the code, and around nothing else, "
            f"and (?: ) where you only group"
        )
    return rule


def once(events: Iterable[Event], kind: str, remarks: list[Remark]) -> Iterator[Event]:
    """The events, those that another list has as well taken from one: lists of sound often have the picture."""
    known: dict[tuple[object, ...], Event] = {}
    for event in events:
        key = (event.start, event.stop, event.source, event.black, event.shot, kind == "sound" and event.tracks)
        first = known.setdefault(key, event)
        if first.place.file == event.place.file:
            yield event
        else:
            remarks.append(Remark(event.place, f"is the same {kind} as at {first.place}: taken once"))


def in_order(told: Iterable[Remark], files: Sequence[str]) -> list[Remark]:
    """Remarks or problems of several lists, by list and line."""
    return sorted(told, key=lambda one: (files.index(one.place.file), one.place.line))


def check(problems: Iterable[Remark], files: Sequence[str]) -> None:
    """Raises CutError with every problem where it is, if there is one."""
    if told := "\n".join(f"{one.place}: {one.text}" for one in in_order(problems, files)):
        raise CutError(told)
