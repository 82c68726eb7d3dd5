"""How the words of a take are said where that is unusual: whispered, or shouted.

A phrase is whispered if its vowels have no pitch and are noise; it is shouted if its vowels are as bright as a shout's
and are high, or much louder than those of the other phrases. Times are seconds.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from trackread.core.performance import EventKind, Phrase
from trackread.core.phones import VOWELS
from trackread.core.reading import Reading
from trackread.reading.events import CONFIDENCE, Found
from trackread.reading.listening import is_noise
from trackread.reading.scene import ROW, Scene, hertz_by_rows

WHISPER_VOICED = 0.10  # share of its vowels with a pitch, at most
WHISPER_VOWELS = 2  # one alone may have lost its voice to its neighbours
# The louder a voice, the more of its power lies above 1 kHz (the alpha ratio; Sundberg and Nordenberg 2006: -23 dB in
# soft speech, -8 dB in loud; from memory): in a shout, more than half.
SHOUT_LOW = 0.45  # share of power below 1 kHz in its vowels, at most
SHOUT_HERTZ = 230.0  # and a pitch that a talking man does not have,
SHOUT_LEVEL = 6.0  # or so many dB louder than the other phrases


@dataclass(frozen=True, slots=True)
class Vowels:
    """The vowels of one phrase, each (start, stop) in seconds, with the phrase's own start and stop."""

    start: float
    stop: float
    spans: tuple[tuple[float, float], ...]


def manners_in(reading: Reading, scene: Scene) -> list[Found]:
    """The phrases of a take that are whispered or shouted, neighbours said in one manner as one event."""
    phrases = [vowels_of(reading, phrase) for phrase in reading.phrases]
    hertz = hertz_by_rows(reading.pitch, reading.sound.sample_rate, len(scene.voiced))
    found: list[Found] = []
    levels = [level_of(phrase, scene) for phrase in phrases]
    for k, phrase in enumerate(phrases):
        others = [level for j, level in enumerate(levels) if j != k]
        kind = manner_of(phrase, scene, hertz, above=levels[k] - max(others) if others else 0.0)
        if kind and found and found[-1].kind is kind and found[-1].stop == phrases[k - 1].stop:
            found[-1] = Found(kind, found[-1].start, phrase.stop, CONFIDENCE)
        elif kind:
            found.append(Found(kind, phrase.start, phrase.stop, CONFIDENCE))
    return found


def vowels_of(reading: Reading, phrase: Phrase) -> Vowels:
    """The vowels of a phrase of a reading."""
    rate = reading.sound.sample_rate
    words = reading.words[phrase.first : phrase.stop]
    first, stop = words[0].first, words[-1].stop
    spans = [
        (reading.cuts[k] / rate, reading.cuts[k + 1] / rate)
        for k in range(first, stop)
        if reading.phones[k].symbol in VOWELS
    ]
    return Vowels(reading.cuts[first] / rate, reading.cuts[stop] / rate, tuple(spans))


def manner_of(phrase: Vowels, scene: Scene, hertz: np.ndarray, *, above: float) -> EventKind | None:
    rows = np.concatenate([np.zeros(0, int), *rows_of(phrase)])
    rows = rows[rows < len(scene.voiced)]
    if len(phrase.spans) < WHISPER_VOWELS or not len(rows):
        return None
    if scene.voiced[rows].mean() <= WHISPER_VOICED:
        noise = [is_noise(scene.signal, *span) for span in phrase.spans]
        return EventKind.WHISPER if np.mean(noise) > 0.5 else None
    voiced = rows[hertz[rows] > 0]
    bright = scene.view.low[voiced].mean() <= SHOUT_LOW
    high = np.median(hertz[voiced]) >= SHOUT_HERTZ
    return EventKind.SHOUT if bright and (high or above >= SHOUT_LEVEL) else None


def rows_of(phrase: Vowels) -> Iterator[np.ndarray]:
    for start, stop in phrase.spans:
        yield np.arange(int(start / ROW), max(int(stop / ROW), int(start / ROW) + 1))


def level_of(phrase: Vowels, scene: Scene) -> float:
    """The middle of the levels of a phrase's vowels, dB."""
    rows = np.concatenate([np.zeros(0, int), *rows_of(phrase)])
    rows = rows[rows < len(scene.view.level)]
    return float(np.median(scene.view.level[rows])) if len(rows) else -100.0
