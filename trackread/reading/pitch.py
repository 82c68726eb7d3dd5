"""The pitch of a voice at given times, by Praat's autocorrelation in two passes.

The first pass takes any voice from a growl to a child's shriek; the second searches only where this
take's voice was found, from 0.75 of the first quartile to twice the third (after De Looze and Hirst
2008), which halves the octave errors. An acted voice leaps on purpose: what is held beyond that range
widens it. Times are float seconds from the first sample; a signal is (samples,) at 16 kHz.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import parselmouth

from trackread.reading.sounds import RATE

LOWEST, HIGHEST = 60.0, 1000.0  # hertz: speech, and the squeaks of children and animals
FLOOR_SHARE, CEILING_SHARE = 0.75, 2.0
SPARE = 1.1  # the search reaches this much beyond a held leap
HELD = 8  # frames: 80 ms, a short vowel; a voice lasts as long somewhere, and most octave errors do not
# Breath rings at the vowel's first formant, and whisper would be read as a high voice. Its autocorrelation
# tells: 0.54 to 0.80 in the whispers and breaths that were tried, 0.88 to 0.99 in falsetto.
RINGING = 400.0  # hertz
SURE = 0.85
HOP = 160  # samples from frame to frame: 10 ms
PIECE = 30 * RATE  # samples analysed at once: about 10 MB
OVERLAP = RATE  # samples heard on either side of a piece, so that its path of pitch is that of the whole
QUIET = 0.02  # of the signal's peak: Praat takes what is softer for room
# What a leap of an octave costs a path, and being an octave too low: Praat's own 0.35 and 0.01 read a leap of
# less than 0.7 s as none at all. These read such leaps from 0.2 s on, and change 3 frames in 1000 of read speech,
# 9 of acted game lines.
LEAP_COST, OCTAVE_COST = 0.2, 0.02
LEAP = 1.3  # neighbouring frames further apart than this have no pitch between them


@dataclass(frozen=True, slots=True)
class Frames:
    """The pitch every HOP samples from `start` seconds on, 0 where there is no voice; how periodic, 0 to 1."""

    start: float
    hertz: np.ndarray
    strength: np.ndarray


def pitch_at(signal: np.ndarray, times: Sequence[float] | np.ndarray) -> tuple[float | None, ...]:
    """The pitch at each time in hertz, None where there is no voice."""
    centred = signal - signal.mean(dtype=np.float64).astype(np.float32) if len(signal) else signal
    if not centred.any():
        return (None,) * len(times)
    first = frames_of(centred, LOWEST, HIGHEST)
    if not held(first.hertz > 0).any():  # scattered frames are whisper and room
        return (None,) * len(times)
    found = between(frames_of(centred, *reach_of(first)), np.asarray(times, np.float64))
    return tuple(value if value > 0 else None for value in found.tolist())


def reach_of(first: Frames) -> tuple[float, float]:
    """The lowest and highest pitch to search for, given a first pass that found a voice."""
    hertz = first.hertz
    low, high = np.percentile(hertz[hertz > 0], [25, 75])
    floor, ceiling = low * FLOOR_SHARE, high * CEILING_SHARE
    below = hertz[held((hertz > 0) & (hertz < floor))]
    above = hertz[held((hertz > ceiling) & (first.strength >= SURE))]
    floor = below.min() / SPARE if len(below) else floor
    ceiling = above.max() * SPARE if len(above) else ceiling
    return max(LOWEST, float(floor)), min(HIGHEST, float(ceiling))


def runs_of(rows: np.ndarray) -> np.ndarray:
    """The runs of marks in `rows` (bool), shape (runs, 2): first and stop."""
    return np.flatnonzero(np.diff(np.concatenate([[False], rows, [False]]))).reshape(-1, 2)


def held(rows: np.ndarray) -> np.ndarray:
    """The marks in `rows` (bool) that stand in runs of HELD or more."""
    kept = np.zeros(len(rows), bool)
    for start, stop in runs_of(rows):
        kept[start:stop] = stop - start >= HELD
    return kept


def frames_of(signal: np.ndarray, floor: float, ceiling: float) -> Frames:
    """The pitch of a whole signal, centred and not silent, found piece by piece on one grid, without ringing."""
    peak = float(max(signal.max(), -signal.min()))
    length = min(PIECE, -(-len(signal) // HOP) * HOP)
    found = []
    for start in range(0, len(signal), length):
        sound = parselmouth.Sound(piece_of(signal, start, length), RATE)
        # Praat calls quiet what is quiet beside the peak of the sound it is given, here one piece.
        quiet = QUIET * peak / max(float(np.abs(sound.values - sound.values.mean()).max()), 1e-9)
        pitch = sound.to_pitch_ac(
            time_step=HOP / RATE,
            pitch_floor=floor,
            pitch_ceiling=ceiling,
            silence_threshold=quiet,
            octave_cost=OCTAVE_COST,
            octave_jump_cost=LEAP_COST,
        )
        first = int(np.searchsorted(pitch.xs(), OVERLAP / RATE - 1e-6))
        found.append(pitch.selected_array[first : first + length // HOP])
    whole = np.concatenate(found)
    hertz, strength = whole["frequency"], whole["strength"]
    return Frames(float(pitch.xs()[first]) - OVERLAP / RATE, without_ringing(hertz, strength), strength)


def piece_of(signal: np.ndarray, start: int, length: int) -> np.ndarray:
    """The signal from `start` on with OVERLAP on either side, noughts where it has ended."""
    piece = np.zeros(length + 2 * OVERLAP)
    inside = signal[max(0, start - OVERLAP) : start + length + OVERLAP]
    place = max(0, OVERLAP - start)
    piece[place : place + len(inside)] = inside
    return piece


def without_ringing(hertz: np.ndarray, strength: np.ndarray) -> np.ndarray:
    """The pitch without the runs above RINGING that are not periodic enough to be a voice."""
    kept = hertz.copy()
    for start, stop in runs_of(hertz > RINGING):
        if np.median(strength[start:stop]) < SURE:
            kept[start:stop] = 0
    return kept


def between(frames: Frames, times: np.ndarray) -> np.ndarray:
    """The pitch at times of any spacing, 0 where the nearest frame has none or there is no frame."""
    place = (times - frames.start) * RATE / HOP
    last = len(frames.hertz) - 1
    left = np.clip(np.floor(place).astype(int), 0, last)
    right = np.minimum(left + 1, last)
    share = np.clip(place - left, 0, 1)
    low, high = frames.hertz[left], frames.hertz[right]
    nearest = np.where(share < 0.5, low, high)
    near = (np.minimum(low, high) > 0) & (np.maximum(low, high) < LEAP * np.minimum(low, high))
    return np.where((place < -1) | (place > last + 1), 0, np.where(near, low + share * (high - low), nearest))
