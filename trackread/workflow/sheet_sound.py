"""The level and pitch of a reading as a sheet draws them: POINTS values to a frame, each taken at its middle."""

import math
from statistics import quantiles

from trackread.core.reading import Reading, Track
from trackread.core.sheet import POINTS
from trackread.core.timebase import Frame, FrameRate, Sample, first_sample_of

# dB below a take's loudest where the drawing ends: a whisper is drawn as wide as a shout, room tone is not.
LEVEL_RANGE = 40.0
# A voice that keeps within half an octave has that half octave drawn, so that a tremor is no leap.
LEAST_OCTAVES = 0.5
# Hundredths of the voiced values left out at each end of the range: a slip of the octave is no part of a melody.
STRAYS = 2


def level_points(reading: Reading, rate: FrameRate, length: Frame) -> tuple[float, ...]:
    """From 0 to 1, the loudest of the take; after its end 0."""
    heard = [value for value in reading.level.values if value is not None]
    values = points(reading.level, reading.sound.sample_rate, rate, length)
    floor = max(heard, default=0.0) - LEVEL_RANGE
    return tuple(0.0 if value is None else clamped((value - floor) / LEVEL_RANGE) for value in values)


def pitch_points(reading: Reading, rate: FrameRate, length: Frame) -> tuple[float | None, ...]:
    """From 0 to 1, the lowest and highest of the voice in this take, by octaves; None where it has no pitch."""
    octaves = [math.log2(value) for value in reading.pitch.values if value]
    values = points(reading.pitch, reading.sound.sample_rate, rate, length)
    low, high = pitch_range(octaves) if octaves else (0.0, 1.0)
    return tuple(clamped((math.log2(value) - low) / (high - low)) if value else None for value in values)


def pitch_range(octaves: list[float]) -> tuple[float, float]:
    """The range of a voice without its strays, and not less than LEAST_OCTAVES."""
    hundredths = quantiles(octaves, n=100, method="inclusive") if len(octaves) > 1 else octaves
    low, high = hundredths[min(STRAYS, len(hundredths)) - 1], hundredths[-min(STRAYS, len(hundredths))]
    spare = max(0.0, LEAST_OCTAVES - (high - low)) / 2
    return low - spare, high + spare


def points(track: Track, sample_rate: int, rate: FrameRate, length: Frame) -> list[float | None]:
    """The track's values at the middle of each of the POINTS parts of each frame."""
    halves = FrameRate(rate.per_second * POINTS * 2)
    middles = (first_sample_of(2 * point + 1, sample_rate, halves) for point in range(POINTS * length))
    return [value_at(track, middle) for middle in middles]


def value_at(track: Track, sample: Sample) -> float | None:
    """The track at a sample, on a straight line between two values; beside a gap the nearer one."""
    place, rest = divmod(sample, track.hop)
    before, after = (track.values[k] if k < len(track.values) else None for k in (place, place + 1))
    if before is None or after is None:
        return before if 2 * rest < track.hop else after
    return before + (after - before) * rest / track.hop


def clamped(share: float) -> float:
    return min(max(share, 0.0), 1.0)
