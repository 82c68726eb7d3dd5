"""How likely the start of each word is more than a film frame (1/24 s) from where a person would put it, and why.

The signs are where two opinions on the start part, and what makes a start hard to hear. The trees' own scores tell
nothing: where they are far off, they are as sure as elsewhere.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from trackread.core.performance import Reason

# How long after the middle between the moments at which the recogniser hears the last phone of one word and the first
# of the next the boundary lies, by the kind of the first, in seconds: medians of the words that start rightly in
# the recordings that scripts/measure-doubt reads.
USUAL = {"stop": 0.042, "affricate": 0.042, "fricative": 0.026, "nasal": 0.041, "approximant": 0.032, "vowel": 0.059}
OFF = 0.040  # seconds from there that count as one
# The recogniser hears a word's first phone from here on after its start; later or earlier, two readings fit.
HEARD = (-0.010, 0.060)
HEARD_EARLY, HEARD_LATE = 0.040, 0.050
APART = 0.020
ROOM, ROOM_UNIT = 30.0, 20.0  # dB of the word above the room
REASONS_AT_MOST = 2


@dataclass(frozen=True, slots=True)
class Signs:
    """What is known of the start of a word.

    `kind` is that of its first phone; `between` is seconds from the middle of when the phone before and its own first
    were heard to its start, `heard` from its start to when the first was heard, `apart` between the two passes that
    placed it; `above_room` is the word's level over the room's in dB.
    """

    kind: str
    after_pause: bool
    between: float
    heard: float
    apart: float
    above_room: float
    narrow: bool
    guessed: bool
    departs: bool


# A logistic regression on the starts of words in recordings whose phones people labelled, as they are and in noise,
# rooms and at other speeds: scripts/measure-doubt fits it, and says how well each set is told by the others. No
# such word was guessed or departed from its line, or came through a narrow line; such a word is given as much doubt
# as a start one and a half units off.
WEIGHTS: dict[str, float] = {
    "off": 1.13,
    "stop": 1.36,
    "unheard": 1.44,
    "room": 0.29,
    "apart": 0.24,
    "narrow": 1.5,
    "guessed": 1.5,
    "departs": 1.5,
}
BIAS = -3.14

# What each cue is called in plain words.
CALLED: dict[str, Reason] = {
    "off": Reason.TWO_READINGS,
    "stop": Reason.STOP,
    "unheard": Reason.TWO_READINGS,
    "room": Reason.NOISE,
    "apart": Reason.TWO_READINGS,
    "narrow": Reason.NARROW,
    "guessed": Reason.GUESSED,
    "departs": Reason.DEPARTS,
}


def doubt_of(signs: Signs) -> tuple[float, tuple[Reason, ...]]:
    """The probability that a word's start is more than a frame off, and the weightiest reasons first."""
    cues = cues_of(signs)
    shares = {name: WEIGHTS[name] * cues[name] for name in WEIGHTS}
    return 1 / (1 + math.exp(-BIAS - sum(shares.values()))), reasons_of(shares)


def reasons_of(shares: Mapping[str, float]) -> tuple[Reason, ...]:
    """What adds most to a doubt, in plain words, at most REASONS_AT_MOST of them."""
    weights: dict[Reason, float] = {}
    for name, share in shares.items():
        weights[CALLED[name]] = weights.get(CALLED[name], 0.0) + share
    heavy = sorted((reason for reason, weight in weights.items() if weight > 0), key=lambda reason: -weights[reason])
    return tuple(heavy[:REASONS_AT_MOST])


def cues_of(signs: Signs) -> dict[str, float]:
    """What speaks for doubt, under the names of WEIGHTS, each from 0 to about 1 and 3 or 4 at most."""
    joined = 0.0 if signs.after_pause else 1.0
    early, late = HEARD
    unheard = joined * min(max(0.0, early - signs.heard) / HEARD_EARLY, 2.0)
    unheard += min(max(0.0, signs.heard - late) / HEARD_LATE, 2.0)
    return {
        "off": joined * min(abs(signs.between - USUAL[signs.kind]) / OFF, 3.0),
        "stop": joined * (signs.kind in ("stop", "affricate")),
        "unheard": unheard,
        "room": min(max(0.0, (ROOM - signs.above_room) / ROOM_UNIT), 1.5),
        "apart": min(signs.apart / APART, 2.0),
        "narrow": float(signs.narrow),
        "guessed": float(signs.guessed),
        "departs": float(signs.departs),
    }
