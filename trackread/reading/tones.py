"""Which way the pitch goes: over a syllable, and over the end of a phrase.

Contours are in semitones (above 1 Hz: only differences count), one value for each voiced frame, the
frames without pitch left out. A track has a hundred frames a second. Cuts are samples of the recording.
"""

import math
from collections.abc import Collection, Sequence
from itertools import pairwise

import numpy as np

from trackread.core.performance import Tone
from trackread.core.phones import PHONES
from trackread.core.reading import Track
from trackread.core.timebase import Sample
from trackread.reading.pitch import HELD
from trackread.reading.pitch import LEAP as LEAP_RATIO

FRAMES = 100  # of a track, in a second
LEAST = 5  # voiced frames: 50 ms is a short vowel, and fewer are as often a slip of the pitch tracker
SMOOTH = 5  # frames: the median of 50 ms drops slips of one or two frames

# A voice that leaps holds what it leapt to; a tracker that slips, in the creak at the end of a phrase above all,
# soon comes back. Runs of the pitch that LEAP semitones part from the rest and that are shorter than HELD are slips.
LEAP = 12 * math.log2(LEAP_RATIO)

# Semitones from which the pitch is said to move. Differences under 3 semitones play no part in what speech tells
# ('t Hart 1981), but those were between accents; consonants and vowel height move the pitch by 1 to 1.5 without
# meaning (Lehiste 1970; both from memory). 2 lies between.
MOVES = 2.0

# The part of a contour over which it is averaged before its turn is named. A singer's vibrato, 5 to 6 times a second
# and a semitone to either side, is then no turn, however long the note.
SHARE = 8

SONOROUS = frozenset(symbol for symbol, (kind, _, _) in PHONES.items() if kind in ("vowel", "approximant", "nasal"))


def contour(pitch: Track, symbols: Sequence[str], cuts: Sequence[Sample]) -> np.ndarray:
    """The pitch of the sonorous phones among `symbols` (each up to the next of `cuts`), in semitones, without slips.

    Stops and fricatives disturb the pitch beside them and carry no tune, so they count only where nothing else does.
    """
    hertz = hertz_in(pitch, symbols, cuts, SONOROUS) or hertz_in(pitch, symbols, cuts, PHONES.keys())
    values = without_slips(12 * np.log2(np.array(hertz, np.float64)))
    return np.asarray(np.median(windows(values, SMOOTH), axis=1)) if len(values) else values


def hertz_in(pitch: Track, symbols: Sequence[str], cuts: Sequence[Sample], kept: Collection[str]) -> list[float]:
    """The values within half a hop of the phones that are kept."""
    frames = [(cut + pitch.hop // 2) // pitch.hop for cut in cuts]
    return [
        value
        for symbol, (first, last) in zip(symbols, pairwise(frames), strict=True)
        if symbol in kept
        for value in pitch.values[first:last]
        if value is not None
    ]


def without_slips(values: np.ndarray) -> np.ndarray:
    """The runs that a leap parts from the others, if they are held; of none but short ones the longest."""
    runs = np.split(values, np.flatnonzero(np.abs(np.diff(values)) >= LEAP) + 1)
    longest = max(map(len, runs))
    return np.concatenate([run for run in runs if len(run) >= min(HELD, longest)])


def windows(values: np.ndarray, width: int) -> np.ndarray:
    """The `width` values (an odd number) about each value, shape (values, width), mirrored at the ends."""
    return np.lib.stride_tricks.sliding_window_view(np.pad(values, width // 2, mode="reflect"), width)


def tone_of(pitch: Track, symbols: Sequence[str], cuts: Sequence[Sample]) -> Tone | None:
    """The turn of the pitch in a syllable of these phones; None if it has hardly any pitch."""
    values = contour(pitch, symbols, cuts)
    if len(values) < LEAST:
        return None
    smooth = windows(values, 2 * (len(values) // SHARE // 2) + 1).mean(axis=1)
    rise, fall = smooth.max() - smooth[0], smooth.max() - smooth[-1]
    if rise >= MOVES and fall >= MOVES:
        return Tone.PEAK
    return last_move(smooth)


def last_move(values: np.ndarray) -> Tone:
    """RISE if the end lies MOVES above the lowest value, FALL if as far below the highest; the later of both."""
    rises, falls = values[-1] - values.min() >= MOVES, values.max() - values[-1] >= MOVES
    if rises and falls:
        return Tone.RISE if values.argmin() > values.argmax() else Tone.FALL
    return Tone.RISE if rises else Tone.FALL if falls else Tone.LEVEL
