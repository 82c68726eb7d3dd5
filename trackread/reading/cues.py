"""What speaks for the strength of each syllable of a take, against what its phones, place and speaker would have.

Level is heard against how loud the vowel usually is, pitch above a line that falls through the phrase as
voices do, lengths against those of the same phones in the same place; each then against the middle syllable of the
take, in units of its own, so a line of one syllable differs in nothing. Spans are samples of the recording.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from statistics import median

from trackread.core.phones import PAUSE
from trackread.core.reading import Track
from trackread.core.timebase import Sample
from trackread.reading.tones import FRAMES, LEAST, contour
from trackread.reading.usual import usual_lengths, usual_level

# Words without a meaning of their own, said weak unless the actor wants them (after the list of weak forms in Roach,
# English Phonetics and Phonology, chapter 12, and the personal words beside them; from memory).
WEAK_WORDS = frozenset(
    word
    for row in (
        "a an the some and but or nor if as than that at by for from in into of on to with",
        "i me my you your he him his she her it its we us our they them their there who",
        "am is are was were be been do does did have has had can could shall should will would may might must",
        "i'm i'll i'd i've you're you'll you'd you've he's he'll he'd she's she'll she'd it's it'll",
        "we're we'll we'd we've they're they'll they'd they've there's that's",
    )
    for word in row.split()
)

# What the dictionary promises by its stress digit; half for secondary stress, which no label here could weigh.
PROMISE = {0: 0.0, 1: 1.0, 2: 0.5}

# One unit of difference (dB, semitones, natural logarithm: 0.5 is a factor of 1.65) and the furthest that counts.
UNITS = {"level": 6.0, "pitch": 4.0, "movement": 4.0, "length": 0.5, "nucleus": 0.5}
FURTHEST = 2.0

# How fast a voice falls through a phrase of some seconds, in semitones a second: -11 / (seconds + 1.5), and from 5 s on
# -8.5 / seconds in all ('t Hart, Collier and Cohen, A Perceptual Study of Intonation, 1990; from memory). Fitting a
# line to the phrase itself would take the accents of a short one for its fall.
LONG_PHRASE = 5.0


@dataclass(frozen=True, slots=True)
class Span:
    """One syllable to be judged: its phones (`symbols`, each up to the next of `cuts`), nucleus, word and phrase.

    `word` is the spoken word it is of, `lexical` its dictionary stress digit, `phrase` the number of its phrase.
    """

    symbols: tuple[str, ...]
    cuts: tuple[Sample, ...]
    nucleus: int
    word: str
    lexical: int
    phrase: int

    def nucleus_cuts(self) -> tuple[Sample, Sample]:
        return self.cuts[self.nucleus], self.cuts[self.nucleus + 1]


def cues_of(spans: Sequence[Span], *, pitch: Track, level: Track) -> list[dict[str, float]]:
    """What speaks for each syllable, under the names of UNITS: differences from the take's median; and the promise."""
    phrases = [list(group) for _, group in groupby(spans, key=lambda span: span.phrase)]
    stops = [phrase[-1].cuts[-1] for phrase in phrases for _ in phrase]
    starts = [phrase[0].cuts[0] for phrase in phrases for _ in phrase]
    columns = {
        "level": [level_above_usual(span, level) for span in spans],
        "pitch": [height(span, pitch, (a, b)) for span, a, b in zip(spans, starts, stops, strict=True)],
        "movement": [movement(span, pitch) for span in spans],
    }
    lengths = [lengths_over_usual(span, final=span.cuts[-1] == stop) for span, stop in zip(spans, stops, strict=True)]
    columns["length"], columns["nucleus"] = [whole for whole, _ in lengths], [nucleus for _, nucleus in lengths]
    relative = {name: differences(values, UNITS[name]) for name, values in columns.items()}
    relative["promise"] = [promise(span) for span in spans]
    return [dict(zip(relative, row, strict=True)) for row in zip(*relative.values(), strict=True)]


def promise(span: Span) -> float:
    """What the word itself leads one to expect, 0 to 1."""
    return 0.0 if span.word in WEAK_WORDS else PROMISE[span.lexical]


def level_above_usual(span: Span, level: Track) -> float | None:
    """The highest level of the nucleus above what its vowel usually has, in dB."""
    loudest = highest(level, span)
    return None if loudest is None else loudest - usual_level(span.symbols[span.nucleus])


def height(span: Span, pitch: Track, phrase: tuple[Sample, Sample]) -> float | None:
    """The highest pitch of the nucleus above the line on which the phrase (start, stop) falls, in semitones.

    The lines of all phrases of a take end at one pitch, as a speaker's phrases do (Liberman and Pierrehumbert 1984).
    """
    top = highest(pitch, span)
    if top is None:
        return None
    second = pitch.hop * FRAMES
    start, stop = phrase
    left = (stop - sum(span.nucleus_cuts()) / 2) / second
    return 12 * math.log2(top) - left * fall((stop - start) / second)


def fall(seconds: float) -> float:
    """How fast the pitch of a phrase that lasts so long falls, in semitones a second."""
    return 11 / (seconds + 1.5) if seconds < LONG_PHRASE else 8.5 / seconds


def movement(span: Span, pitch: Track) -> float | None:
    """How far the pitch moves within the syllable, in semitones."""
    values = contour(pitch, span.symbols, span.cuts)
    return float(values.max() - values.min()) if len(values) >= LEAST else None


def lengths_over_usual(span: Span, *, final: bool) -> tuple[float, float]:
    """The natural logarithms of the syllable's length and its nucleus' over what such phones have in such a place."""
    usual = usual_lengths(span.symbols, span.nucleus, final=final)
    heard = [b - a for symbol, (a, b) in zip(span.symbols, pairwise(span.cuts), strict=True) if symbol != PAUSE]
    nucleus = span.nucleus_cuts()
    return math.log(sum(heard) / sum(usual)), math.log((nucleus[1] - nucleus[0]) / usual[span.nucleus])


def highest(track: Track, span: Span) -> float | None:
    """The highest value within half a hop of the nucleus, None if it has none."""
    first, last = ((cut + track.hop // 2) // track.hop for cut in span.nucleus_cuts())
    return max((value for value in track.values[first : last + 1] if value is not None), default=None)


def differences(values: Sequence[float | None], unit: float) -> list[float]:
    """Each value less the median, in units, FURTHEST at most; a missing one stands as the lowest of the take."""
    known = [value for value in values if value is not None]
    if not known:
        return [0.0] * len(values)
    filled = [min(known) if value is None else value for value in values]
    middle = median(filled)
    return [min(FURTHEST, max(-FURTHEST, (value - middle) / unit)) for value in filled]
