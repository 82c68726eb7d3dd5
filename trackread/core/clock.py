"""On which picture frames the samples of a recording are heard: a straight line, in whole numbers and so exact.

Frames count from the first of whatever is looked at, the film or a take; a sound may play backwards.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from trackread.core.cut import Placement, known
from trackread.core.timebase import Frame, FrameRate, Sample


@dataclass(frozen=True, slots=True)
class Clock:
    """Sample s is heard at frame (s · `per` + `offset`) / `scale`; `per` is below 0 for what plays backwards."""

    per: int
    offset: int
    scale: int

    def __post_init__(self) -> None:
        if not self.per or self.scale <= 0:
            raise ValueError(f"a clock runs, not {self.per}/{self.scale}")

    @property
    def forwards(self) -> bool:
        return self.per > 0

    def position(self, edge: int) -> Fraction:
        """Where the edge before a sample is heard, exactly, in frames."""
        return Fraction(edge * self.per + self.offset, self.scale)

    def frame(self, sample: int) -> Frame:
        """The frame on which a sample begins to be heard; backwards it begins with its later end."""
        return Frame(((sample + (not self.forwards)) * self.per + self.offset) // self.scale)

    def frames(self, start: int, stop: int) -> tuple[Frame, Frame]:
        """The first frame on which any of the samples from `start` to before `stop` is heard, and the one after all."""
        first, last = sorted((self.frame(start), self.frame(stop - 1)))
        return first, Frame(last + 1)

    def sample(self, part: int, parts: int) -> Sample:
        """The first sample, as it plays, that does not begin before `part`/`parts` frames have passed."""
        wanted, unit = part * self.scale - self.offset * parts, self.per * parts
        # Backwards, sample s begins at s + 1, and what comes later has lower numbers.
        return Sample(-(-wanted // unit) if self.forwards else wanted // unit - 1)

    def from_sample(self, start: int) -> "Clock":
        """The same clock for a part of the recording, whose sample 0 is the recording's sample `start`."""
        return replace(self, offset=self.offset + start * self.per)


def clock_of_take(sample_rate: int, rate: FrameRate) -> Clock:
    """The clock of a whole take, whose first sample is heard as frame 0 begins."""
    return Clock(rate.per_second.numerator, 0, sample_rate * rate.per_second.denominator)


def clock_of_placement(placement: Placement, rate: FrameRate) -> Clock:
    """The clock of a recording as it plays in a cut. Raises ValueError if the recording is not known."""
    sound, start = known(placement)
    step = rate.per_second / (placement.speed * sound.sample_rate)
    per = step.numerator * start.denominator
    scale = step.denominator * start.denominator
    return Clock(per, placement.at * scale - start.numerator * step.numerator, scale)
