"""The level and pitch of a reading as a sheet draws them: POINTS values to a frame, each taken at its middle."""

import math
from collections.abc import Iterable
from statistics import quantiles

from trackread.core.reading import Track
from trackread.core.sheet import POINTS
from trackread.core.timebase import Sample
from trackread.workflow.sheet_said import Said

# dB below a take's loudest where the drawing ends: a whisper is drawn as wide as a shout, room tone is not.
LEVEL_RANGE = 40.0
# A voice that keeps within half an octave has that half octave drawn, so that a tremor is no leap.
LEAST_OCTAVES = 0.5
# Hundredths of the voiced values left out at each end of the range: a slip of the octave is no part of a melody.
STRAYS = 2


def level_points(said: Said, window: range) -> tuple[float, ...]:
    """From 0 to 1, the loudest of the take, on the frames of a window; where it is not heard 0."""
    heard = [value for value in said.reading.level.values if value is not None]
    values = points(said.reading.level, said, window)
    floor = max(heard, default=0.0) - LEVEL_RANGE
    return tuple(0.0 if value is None else clamped((value - floor) / LEVEL_RANGE) for value in values)


def pitch_points(said: Said, window: range) -> tuple[float | None, ...]:
    """From 0 to 1, the lowest and highest of the voice in this take, by octaves; None where it has no pitch."""
    octaves = [math.log2(value) for value in said.reading.pitch.values if value]
    values = points(said.reading.pitch, said, window)
    low, high = pitch_range(octaves) if octaves else (0.0, 1.0)
    return tuple(clamped((math.log2(value) - low) / (high - low)) if value else None for value in values)


def pitch_range(octaves: list[float]) -> tuple[float, float]:
    """The range of a voice without its strays, and not less than LEAST_OCTAVES."""
    hundredths = quantiles(octaves, n=100, method="inclusive") if len(octaves) > 1 else octaves
    low, high = hundredths[min(STRAYS, len(hundredths)) - 1], hundredths[-min(STRAYS, len(hundredths))]
    spare = max(0.0, LEAST_OCTAVES - (high - low)) / 2
    return low - spare, high + spare


def points(track: Track, said: Said, window: range) -> list[float | None]:
    """The track's values at the middle of each of the POINTS parts of each frame of a window."""
    found: list[float | None] = [None] * (POINTS * len(window))
    first, stop = max(window.start, said.heard.start), min(window.stop, said.heard.stop)
    for part in range(POINTS * first, POINTS * stop):
        found[part - POINTS * window.start] = value_at(track, said.clock.sample(2 * part + 1, 2 * POINTS))
    return found


def loudest(levels: Iterable[tuple[float, ...]]) -> tuple[float, ...]:
    """The level of one voice from several readings of it: whatever is loudest."""
    return tuple(map(max, zip(*levels, strict=True)))


def last_heard(pitches: Iterable[tuple[float | None, ...]]) -> tuple[float | None, ...]:
    """The pitch of one voice from several readings of it: of two, that of the later one."""
    return tuple(
        next((value for value in reversed(values) if value is not None), None) for values in zip(*pitches, strict=True)
    )


def value_at(track: Track, sample: Sample) -> float | None:
    """The track at a sample, on a straight line between two values; beside a gap the nearer one."""
    place, rest = divmod(sample, track.hop)
    before, after = (track.values[k] if 0 <= k < len(track.values) else None for k in (place, place + 1))
    if before is None or after is None:
        return before if 2 * rest < track.hop else after
    return before + (after - before) * rest / track.hop


def clamped(share: float) -> float:
    return min(max(share, 0.0), 1.0)
