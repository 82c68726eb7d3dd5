"""How strong each syllable of a take was said, 0 to 1, and its degree: weak, half or strong.

The strength is the chance that a person would mark a pitch accent on the syllable, since gestures are timed
off accents. It is strong if that is likelier than not, half strong if a person would likelier than not hear it
as strong in the rhythm of the line, accent or none. The strongest of each phrase is its main beat, and strong in
any case.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import groupby

from trackread.core.reading import Phone, Stress, Syllable, Track
from trackread.core.timebase import Sample
from trackread.reading.cues import Span, cues_of

# One logistic regression (penalty C = 1) that answers two questions with the same weights: does the syllable carry an
# accent (the 58 syllables of sets ae and ked, five sentences read by an Australian and an American), and is it strong
# (the 45 of ae, marked S or W)? scripts/measure-accents fits it, and judges each sentence by the other four.
# Nobody has marked acted lines yet.
WEIGHTS = {"level": 1.24, "pitch": 1.50, "movement": 0.30, "length": 0.30, "nucleus": 0.47, "promise": 2.75}
BIAS = -2.44
RHYTHM = 0.89  # added for the second question

STRONGEST: Stress = 2
LEAST: dict[Stress, float] = {STRONGEST: 0.5, 1: 1 / (1 + math.exp(RHYTHM))}  # the strength from which a degree holds


def stresses(spans: Sequence[Span], *, pitch: Track, level: Track) -> list[tuple[float, Stress]]:
    """The strength and degree of every syllable of one take, in order."""
    strengths = [strength(cues) for cues in cues_of(spans, pitch=pitch, level=level)]
    phrases = [list(group) for _, group in groupby(range(len(spans)), key=lambda k: spans[k].phrase)]
    mains = {max(phrase, key=strengths.__getitem__) for phrase in phrases}
    return [(value, STRONGEST if k in mains else degree(value)) for k, value in enumerate(strengths)]


def strength(cues: dict[str, float]) -> float:
    return 1 / (1 + math.exp(-BIAS - sum(WEIGHTS[name] * cue for name, cue in cues.items())))


def degree(value: float) -> Stress:
    return next((stress for stress, least in LEAST.items() if value >= least), 0)


def spans_of(
    syllables: Sequence[Syllable],
    spoken: Sequence[str],
    timeline: tuple[Sequence[Phone], Sequence[Sample]],
    phrase_starts: Sequence[int],
) -> list[Span]:
    """What is judged of each syllable: `spoken` has its spoken word, `phrase_starts` the first phone of each phrase."""
    phones, cuts = timeline
    return [
        Span(
            symbols=tuple(phone.symbol for phone in phones[one.first : one.stop]),
            cuts=tuple(cuts[one.first : one.stop + 1]),
            nucleus=one.nucleus - one.first,
            word=word,
            lexical=one.lexical,
            phrase=bisect_right(phrase_starts, one.first),
        )
        for one, word in zip(syllables, spoken, strict=True)
    ]
