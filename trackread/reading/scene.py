"""What a take is like, row by row of 10 ms: where words are spoken, where there is pitch, how it sounds."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import VOWELS
from trackread.core.reading import Track
from trackread.reading.listening import Listening
from trackread.reading.recogniser import HOP as HEARD_HOP
from trackread.reading.recogniser import LATE, SYMBOLS, Posteriors

ROW = 0.010  # seconds
# A phone is heard at one moment but lasts from before it until after it.
BEFORE_PHONE, AFTER_PHONE = 0.10, 0.13
CONSONANTS = [k for k, symbol in enumerate(SYMBOLS) if symbol not in VOWELS and symbol != "HH"]


@dataclass(frozen=True, slots=True)
class Scene:
    """What the rules look at: the view of the sound, and by rows where words are spoken and where there is pitch.

    `consonants` marks the rows in which the recogniser heard one, word or no word.
    """

    signal: np.ndarray
    view: Listening
    spoken: np.ndarray
    voiced: np.ndarray
    consonants: np.ndarray

    @property
    def whispered(self) -> bool:
        """Whether nothing that is spoken has a pitch."""
        return bool(self.voiced[self.spoken].mean() < 0.05) if self.spoken.any() else False

    def level(self, first: int, stop: int) -> float:
        """The loudest of some rows beside the voice at its loudest, dB."""
        return float(self.view.level[first:stop].max()) - self.view.voice

    def loudness(self, start: float, stop: float) -> float:
        """The middle of the levels from `start` to `stop`, seconds, in dB."""
        first = min(int(start / ROW), len(self.view.level) - 1)
        return float(np.median(self.view.level[first : max(first + 1, int(stop / ROW))]))

    def since_word(self, row: int) -> float:
        """Seconds from the last row before `row` that is spoken or voiced; very many if there is none."""
        before = np.flatnonzero(self.spoken[:row] | self.voiced[:row])
        return (row - int(before[-1]) - 1) * ROW if len(before) else 1e6

    def until_word(self, row: int) -> float:
        """Seconds from `row` to the next spoken row; very many if there is none."""
        after = np.flatnonzero(self.spoken[row:])
        return int(after[0]) * ROW if len(after) else 1e6


def hertz_by_rows(pitch: Track, sample_rate: int, rows: int) -> np.ndarray:
    """A track of pitch (its hop counted at `sample_rate`) by rows of 10 ms, 0 where there is none."""
    hertz = np.array([value or 0.0 for value in pitch.values] or [0.0])
    place = np.rint(np.arange(rows) * ROW * sample_rate / pitch.hop).astype(int)
    return np.asarray(hertz[np.minimum(place, len(hertz) - 1)])


def scene_of(
    sound: tuple[np.ndarray, Listening], phones: Sequence[float], heard: Posteriors, tones: tuple[Track, int]
) -> Scene:
    """The scene of a take, given its signal and how that sounds, when phones of its words were heard (seconds), and its
    pitch with its sample rate."""
    signal, view = sound
    rows = len(view.level)
    spoken = np.zeros(rows, bool)
    for time in phones:
        spoken[max(0, int((time - BEFORE_PHONE) / ROW)) : int((time + AFTER_PHONE) / ROW)] = True
    best = heard.phones.argmax(1)
    sure = (heard.phones.max(1) > heard.blank) & np.isin(best, CONSONANTS)
    consonants = np.zeros(rows, bool)
    consonants[np.clip(((np.flatnonzero(sure) * HEARD_HOP - LATE) / ROW).astype(int), 0, rows - 1)] = True
    return Scene(signal, view, spoken, hertz_by_rows(*tones, rows) > 0, consonants)
