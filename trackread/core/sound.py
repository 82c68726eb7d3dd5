"""A recording as the rest of the house knows it: what it is, not where it lies."""

from dataclasses import dataclass

from trackread.core.timebase import Sample

MIDNIGHT = Sample(0)


@dataclass(frozen=True, slots=True)
class Sound:
    """One recorded file: `digest` is the SHA-256 of its bytes in hex, `length` counts samples of one channel.

    `start` counts from midnight to the first sample, as recorders note it.
    """

    digest: str
    sample_rate: int
    length: Sample
    start: Sample = MIDNIGHT

    def __post_init__(self) -> None:
        if self.sample_rate <= 0 or self.length <= 0:
            raise ValueError(f"a sound has samples and a rate, not {self.length} at {self.sample_rate}")
