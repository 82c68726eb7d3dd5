"""A voice session: one long recording, the stretches of it in which somebody speaks, and the takes among them.

Times are samples of the recording, `stop` not included. A stretch is named by its session and its place there
(`S2-017`), a take also by its line and its number among all takes of that line (`L0107-3`); both are given once.
"""

from dataclasses import dataclass
from enum import StrEnum

from trackread.core.sound import Sound
from trackread.core.timebase import Sample


class StretchKind(StrEnum):
    """What a stretch of speech is."""

    TAKE = "take"
    SLATE = "slate"
    CHATTER = "chatter"
    UNSURE = "unsure"  # for a person to decide


class Wholeness(StrEnum):
    """How much of its line a take says."""

    WHOLE = "whole"
    CUT_OFF = "cut off"
    RESTARTED = "restarted"  # broken off and begun again, then whole


@dataclass(frozen=True, slots=True)
class Guess:
    """A line that a stretch may be a take of; `likely` is the probability, 0 to 1."""

    line: str
    likely: float
    wholeness: Wholeness

    def __post_init__(self) -> None:
        if not 0 <= self.likely <= 1:
            raise ValueError(f"a probability lies from 0 to 1, not {self.likely}")


@dataclass(frozen=True, slots=True)
class Stretch:
    """Where somebody speaks, and what it is held to be; `guesses`, the likeliest first, are what it may be a take of.

    A take is of the first of its guesses. `heard` is what it sounds like, in plain letters, for a person who decides.
    """

    start: Sample
    stop: Sample
    kind: StretchKind
    guesses: tuple[Guess, ...] = ()
    heard: str = ""

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.stop:
            raise ValueError(f"a stretch has a length, not from {self.start} to {self.stop}")
        if self.kind is StretchKind.TAKE and not self.guesses:
            raise ValueError("a take is of a line")


@dataclass(frozen=True, slots=True)
class RecorderNotes:
    """What the recorder wrote into the file (bext and iXML); "" and None where it wrote nothing.

    `rate` is the timecode rate as written (`24000/1001`), `drop` whether it is drop-frame.
    """

    description: str = ""
    originator: str = ""
    date: str = ""
    time: str = ""
    scene: str = ""
    take: str = ""
    tape: str = ""
    note: str = ""
    circled: bool | None = None
    rate: str = ""
    drop: bool | None = None
    tracks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Session:
    """One recording of a session as the book has it. `channel` counts from 1; None is the only one, or all alike.

    `characters` are those who may speak in it, none if it may be anybody. `added` is a time as ISO 8601, in UTC.
    """

    id: int
    sound: Sound
    name: str
    channel: int | None
    characters: tuple[str, ...]
    stand_in: bool
    notes: RecorderNotes
    author: str
    added: str


@dataclass(frozen=True, slots=True)
class Take:
    """A stretch as it stands after all that people decided: `line` and `number` are None unless it is a take.

    `place` counts the stretches of its session from 1. `decided_by` is "" where nobody has decided anything.
    """

    session: int
    place: int
    stretch: Stretch
    kind: StretchKind
    line: str | None
    number: int | None
    wholeness: Wholeness | None
    circled: bool
    stand_in: bool
    decided_by: str = ""

    @property
    def stretch_name(self) -> str:
        return stretch_name(self.session, self.place)

    @property
    def name(self) -> str:
        """By its line where it has one, else by its session."""
        return f"{self.line}-{self.number}" if self.line and self.number else self.stretch_name


def stretch_name(session: int, place: int) -> str:
    """The name of a stretch of a session.

    >>> stretch_name(2, 17)
    'S2-017'
    """
    return f"S{session}-{place:03}"
