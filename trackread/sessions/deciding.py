"""What a stretch of speech is held to be: a take of a line, slate, chatter, or not sure, which a person decides.

Two logistic regressions weigh the two opinions: whether the stretch is a take of its best line, and whether that is
whole. scripts/measure-sessions makes sessions from recordings of people, fits them on one half of the recordings and
tries them on the other. Wrong must not happen: wherever the two opinions disagree it is not sure.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trackread.core.session import StretchKind, Wholeness
from trackread.sessions.finding import Spot
from trackread.sessions.hearing import HOP
from trackread.sessions.lines import Spoken

LINE_BIAS = -0.53
LINE_WEIGHTS: Mapping[str, float] = {
    "fitness": 1.09,
    "apart": 3.55,
    "sound": 0.69,
    "sound_apart": 1.48,
    "short": -5.12,
    "alone": 1.45,
    "short_in_talk": -2.60,
    "cut_off": -2.10,
    "slate": -0.56,
    "more": -1.76,
    "less": -3.35,
    "slow": -0.33,
    "fast": -1.47,
}
WHOLE_BIAS = -4.88
WHOLE_WEIGHTS: Mapping[str, float] = {
    "complete": 5.16,
    "sound_complete": 1.95,
    "fitness": -1.68,
    "short": -0.08,
    "fall": 9.49,
}

SURE = 0.6  # the probability from which a stretch is held to be a take of its line,
SURE_WHOLE = 0.6  # and that take to be whole; from the same on, it is held to be cut off
HARDLY = 0.03  # the probability below which it is held to be chatter
LEAST_CUT_OFF = 4  # phones that must be heard of a take that is cut off
SLATE = -0.8  # nats a phone from which a slate is one, if no line fits as well
USUAL = 0.12  # seconds of a phone, rests and all


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a spot is held to be, and how likely its best line is the one that is said, and said whole."""

    kind: StretchKind
    likely: float
    whole: float
    wholeness: Wholeness


def verdicts(spots: Sequence[Spot], longer: Mapping[str, frozenset[str]]) -> Iterator[Verdict]:
    """A verdict on each spot of a part of a session; `longer` has for a line all lines that begin with all of it."""
    for number, spot in enumerate(spots):
        near = {
            one.candidates[0].line.id
            for one in spots[max(0, number - 1) : number + 2]
            if one is not spot and one.candidates
        }
        yield verdict_on(spot, near, longer)


def verdict_on(spot: Spot, near: set[str], longer: Mapping[str, frozenset[str]]) -> Verdict:
    """`near` are the lines that the stretches before and after are most like."""
    if spot.opinion is None:
        kind = StretchKind.SLATE if spot.slate > SLATE else StretchKind.CHATTER
        return Verdict(kind, 0.0, 0.0, Wholeness.WHOLE)
    best = spot.candidates[0]
    likely = probability(LINE_BIAS, LINE_WEIGHTS, line_cues(spot))
    whole = probability(WHOLE_BIAS, WHOLE_WEIGHTS, whole_cues(spot))
    wholeness = Wholeness.CUT_OFF if whole < 0.5 else Wholeness.RESTARTED if best.is_restarted else Wholeness.WHOLE
    # A short line that is whole, or a longer one cut off after as much, as one is that is tried again at once?
    either = whole >= 0.5 and not near.isdisjoint(longer[best.line.id])
    if spot.slate > max(SLATE, spot.opinion.fitness) and likely < SURE:
        kind = StretchKind.SLATE
    elif likely < HARDLY:
        kind = StretchKind.CHATTER
    elif likely < SURE or not agree(spot) or either or 1 - SURE_WHOLE < whole < SURE_WHOLE:
        kind = StretchKind.UNSURE
    else:
        kind = StretchKind.TAKE
    return Verdict(kind, likely, whole, wholeness)


def agree(spot: Spot) -> bool:
    """Whether both opinions are for the best line, and enough is heard of one that is cut off."""
    best, opinion = spot.candidates[0], spot.opinion
    if opinion is None or opinion.apart < 0 or opinion.sound_apart < 0:
        return False
    return not best.is_broken or best.said >= LEAST_CUT_OFF


def longer_lines(lines: Sequence[Spoken]) -> dict[str, frozenset[str]]:
    """For each line the others that begin with all of it."""
    starts: dict[tuple[str, ...], set[str]] = {}
    for line in lines:
        for stop in range(1, len(line.phones)):
            starts.setdefault(line.phones[:stop], set()).add(line.id)
    return {line.id: frozenset(starts.get(line.phones, ())) for line in lines}


def line_cues(spot: Spot) -> dict[str, float]:
    """What speaks for the best line, under the names of LINE_WEIGHTS, each about 1 in size."""
    opinion = spot.opinion
    if opinion is None:
        raise ValueError("there is no opinion where no line is like it")
    count = 1 / opinion.short
    pace = math.log((spot.stop - spot.start) * HOP / count / USUAL)
    alone = min(1.0, spot.rest)
    return {
        "fitness": within(opinion.fitness, -3, 1),
        "apart": math.tanh(opinion.apart / count),
        "sound": within(opinion.sound, -15, 5) / 10,
        "sound_apart": math.tanh(opinion.sound_apart / count / 20),
        "short": opinion.short,
        "alone": alone,
        "short_in_talk": opinion.short * (1 - alone),
        "cut_off": float(spot.candidates[0].is_broken),
        "slate": within(spot.slate, -5, 1),
        "more": within((len(spot.heard) - count) / count, 0, 2),
        "less": within((count - len(spot.heard)) / count, 0, 1),
        "slow": within(pace, 0, 1.5),
        "fast": within(-pace, 0, 1.5),
    }


def whole_cues(spot: Spot) -> dict[str, float]:
    """What speaks for the best line being whole, under the names of WHOLE_WEIGHTS."""
    opinion = spot.opinion
    if opinion is None:
        raise ValueError("there is no opinion where no line is like it")
    return {
        "complete": within(opinion.complete, -10, 10) / 10,
        "sound_complete": math.tanh(opinion.sound_complete / 50),
        "fitness": within(opinion.fitness, -3, 1),
        "short": opinion.short,
        "fall": spot.fall,
    }


def within(value: float, least: float, most: float) -> float:
    return max(least, min(most, value))


def probability(bias: float, weights: Mapping[str, float], cues: Mapping[str, float]) -> float:
    return 1 / (1 + math.exp(-bias - sum(weight * cues[name] for name, weight in weights.items())))
