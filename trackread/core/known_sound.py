"""Recordings that a cut list may mean, and what of them it does."""

from dataclasses import dataclass
from fractions import Fraction

from trackread.core.cut import Source
from trackread.core.sound import Sound
from trackread.core.timebase import FrameRate, Sample
from trackread.core.timecode import frames_in_day


def start_in(source: Source, sound: Sound, rate: FrameRate) -> Fraction:
    """The sample of a recording at which a source starts, exactly; outside the recording if the two do not belong.

    A recording that runs over midnight is begun the day before, as timecode at `rate` counts days.
    """
    if source.file_start is not None:
        return (source.start - source.file_start) * sound.sample_rate
    since = source.start * sound.sample_rate - sound.start
    day = frames_in_day(rate) * sound.sample_rate / rate.per_second
    return since + day if since < 0 and since + day < sound.length else since


@dataclass(frozen=True, slots=True)
class KnownSound:
    """A recording that a list may mean, or a take: the samples of one from `first` to before `stop`.

    `name` is the file's, or the take's; `also` are other names for it, such as the reel that the recorder noted.
    """

    name: str
    sound: Sound
    first: Sample
    stop: Sample
    also: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not 0 <= self.first < self.stop <= self.sound.length:
            raise ValueError(f"{self.name} is a part of its recording, not from {self.first} to {self.stop}")


@dataclass(frozen=True, slots=True)
class Match:
    """The recordings that a list may mean by a source: one if it is known, none or several if a person must say.

    `reason` says why in words, to follow the name of the source and a colon.
    """

    found: tuple[KnownSound, ...]
    reason: str
