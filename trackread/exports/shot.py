"""The shots of a film with their sheets, as every export is given them.

Frames of a sheet count from 0 in its shot, frames of a film from 0 in its cut.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame, FrameRate


@dataclass(frozen=True, slots=True)
class ExportedShot:
    """A shot by its `name`, with the sheet of what is seen of it from frame `first` of the cut on.

    Each character has one voice on the sheet.
    """

    name: str
    scene: str
    first: Frame
    sheet: Sheet

    def __post_init__(self) -> None:
        if self.first < 0:
            raise ValueError(f"{self.name} starts on frame {self.first}, and the frames of a cut count from 0")
        if len({voice.character for voice in self.sheet.voices}) < len(self.sheet.voices):
            raise ValueError(f"a character has two voices in {self.name}")

    @property
    def stop(self) -> Frame:
        return Frame(self.first + self.sheet.length)


@dataclass(frozen=True, slots=True)
class Film:
    """Shots of a cut, in its order; `start` is what timecode counts for frame 0 of the cut.

    A shot may be seen while the next one already is, in a dissolve, but not longer than that one.
    """

    title: str
    rate: FrameRate
    start: Frame
    shots: tuple[ExportedShot, ...]

    def __post_init__(self) -> None:
        if self.start < 0:
            raise ValueError(f"timecode counts from 0, not {self.start}")
        if not self.shots:
            raise ValueError("a film has a shot at least")
        for shot in self.shots:
            if shot.sheet.rate != self.rate:
                raise ValueError(f"{shot.name} runs at {shot.sheet.rate}, the film at {self.rate}")
        for shot, following in pairwise(self.shots):
            if shot.first >= following.first or shot.stop > following.stop:
                raise ValueError(f"{shot.name} is not before {following.name}")


def characters_of(shots: Iterable[ExportedShot]) -> tuple[str, ...]:
    """Everybody who has a voice in the shots, in the order in which they are met."""
    return tuple(dict.fromkeys(voice.character for shot in shots for voice in shot.sheet.voices))
