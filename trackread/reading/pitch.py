"""The pitch of a voice at given times, by Praat's autocorrelation in two passes.

The first pass takes any voice from a growl to a child's shriek; the second searches only where this
take's voice was found, from 0.75 of the first quartile to twice the third (after De Looze and Hirst
2008), which halves the octave errors. An acted voice leaps on purpose: what is held beyond that range
widens it. After either pass the spectrum is asked whether the pitch is an octave off. Times are float
seconds from the first sample; a signal is (samples,) at 16 kHz.
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
# tells: 0.54 to 0.80 in the whispers and breaths that were tried, 0.88 to 0.99 in falsetto. Creak rings there too,
# lower: 0.44 to 0.61 where 76 pulses a second in an "ee" were read as 290 Hz.
SURE = 0.85
RINGING = (400.0, SURE), (250.0, 0.65)  # hertz, and how periodic at least a voice above it is
HOP = 160  # samples from frame to frame: 10 ms
PIECE = 30 * RATE  # samples analysed at once: about 10 MB
OVERLAP = RATE  # samples heard on either side of a piece, so that its path of pitch is that of the whole
QUIET = 0.02  # of the signal's peak: Praat takes what is softer for room
# What a leap of an octave costs a path, and being an octave too low: Praat's own 0.35 and 0.01 read a leap of
# less than 0.7 s as none at all. These read such leaps from 0.2 s on, and change 3 frames in 1000 of read speech,
# 9 of acted game lines.
LEAP_COST, OCTAVE_COST = 0.2, 0.02
# Where a pitch is an octave too high, something stands halfway between its harmonics: odd harmonics of the true one.
# Beside all harmonics, and above what lies a quarter to either side, they are more than 0.07 at twice the pitch in 996
# frames of 1000, and less at the pitch itself in 996 (the targets of scripts/measure-pitch, noise 10 dB down included).
NONE, SOME = 0.04, 0.07  # up to here the octave above is the pitch, from here the octave below
HARMONICS, HIGHEST_HARMONIC = 8, 4000.0  # so many, and below so many hertz: above it lies more noise than voice
EVEN = 90.0  # hertz: lower voices creak, too unevenly for the window to part their harmonics
WINDOW = 1024  # samples: 64 ms
TOGETHER = 200  # frames whose spectra are held at once: about 8 MB
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
    frames = frames_of(centred, LOWEST, HIGHEST)
    if has_voice(frames):
        frames = frames_of(centred, *reach_of(frames))
    if not has_voice(frames):
        return (None,) * len(times)
    found = between(frames, np.asarray(times, np.float64))
    return tuple(value if value > 0 else None for value in found.tolist())


def has_voice(frames: Frames) -> bool:
    """Whether pitch is held anywhere: scattered frames are whisper and room."""
    return bool(held(frames.hertz > 0).any())


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
    origin = float(pitch.xs()[first]) - OVERLAP / RATE
    hertz, strength = in_octave(signal, origin, whole["frequency"]), whole["strength"]
    return Frames(origin, without_ringing(hertz, strength), strength)


def in_octave(signal: np.ndarray, start: float, hertz: np.ndarray) -> np.ndarray:
    """The pitch every HOP samples from `start` seconds on, an octave higher or lower where its harmonics tell so."""
    centres = round(start * RATE) + np.arange(len(hertz)) * HOP
    here, above = np.zeros(len(hertz)), np.zeros(len(hertz))
    voiced = np.flatnonzero(hertz > 0)
    for first in range(0, len(voiced), TOGETHER):
        some = voiced[first : first + TOGETHER]
        spectra = spectra_at(signal, centres[some])
        here[some], above[some] = halfway(spectra, hertz[some]), halfway(spectra, 2 * hertz[some])
    up = most((above < NONE) & (hertz >= EVEN) & (2 * hertz <= HIGHEST * SPARE), hertz > 0)
    down = most((here > SOME) & (hertz >= 2 * EVEN), hertz > 0)
    return np.where(up, 2 * hertz, np.where(down, hertz / 2, hertz))


def most(marks: np.ndarray, voiced: np.ndarray) -> np.ndarray:
    """Where more than half of the voiced frames from one before to one after are marked, shape (frames,)."""
    marked, of = (np.convolve(np.pad(each, 1), np.ones(3), "valid") for each in (marks, voiced))
    return 2 * marked > of


def spectra_at(signal: np.ndarray, centres: np.ndarray) -> np.ndarray:
    """The amplitudes around these samples, every half bin, shape (centres, WINDOW + 1); noughts past the ends."""
    places = centres[:, None] + np.arange(-WINDOW // 2, WINDOW // 2)
    inside = (places >= 0) & (places < len(signal))
    pieces = np.where(inside, signal[np.clip(places, 0, len(signal) - 1)], 0)
    return np.abs(np.fft.rfft(pieces * np.hanning(WINDOW).astype(np.float32), 2 * WINDOW))


def halfway(spectra: np.ndarray, hertz: np.ndarray) -> np.ndarray:
    """What stands halfway between the harmonics of each frame's pitch, as a share of that and the harmonics."""
    numbers = np.arange(1, HARMONICS + 1)
    counted = numbers * hertz[:, None] < HIGHEST_HARMONIC

    def amplitude(below: float) -> np.ndarray:
        places = np.clip((numbers - below) * hertz[:, None] * 2 * WINDOW / RATE, 0, WINDOW - 1)
        left = places.astype(int)
        low, high = (np.take_along_axis(spectra, left + step, axis=1) for step in (0, 1))
        return np.where(counted, low + (places - left) * (high - low), 0)

    half = amplitude(0.5)
    standing = np.sum(half - (amplitude(0.25) + amplitude(0.75)) / 2, axis=1)
    every = np.sum(half + amplitude(0.0), axis=1)
    share: np.ndarray = standing / np.maximum(every, 1e-12)
    return share


def piece_of(signal: np.ndarray, start: int, length: int) -> np.ndarray:
    """The signal from `start` on with OVERLAP on either side, noughts where it has ended."""
    piece = np.zeros(length + 2 * OVERLAP)
    inside = signal[max(0, start - OVERLAP) : start + length + OVERLAP]
    place = max(0, OVERLAP - start)
    piece[place : place + len(inside)] = inside
    return piece


def without_ringing(hertz: np.ndarray, strength: np.ndarray) -> np.ndarray:
    """The pitch without the runs that lie above a pitch of RINGING and are not as periodic as a voice there."""
    kept = hertz.copy()
    for lowest, least in RINGING:
        for start, stop in runs_of(hertz > lowest):
            if np.median(strength[start:stop]) < least:
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
