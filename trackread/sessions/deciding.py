"""What a stretch of speech is held to be: a take of a line, slate, chatter, or not sure, which a person decides.

Two logistic regressions weigh the two opinions: whether the stretch is a take of its best line, and whether that is
whole. scripts/measure-sessions makes sessions from recordings of people, fits them on one half of the recordings and
tries them on the other; what ships is fitted on both, and the thresholds were chosen with both in sight. Wrong must
not happen: wherever the two opinions disagree it is not sure.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trackread.core.session import StretchKind, Wholeness
from trackread.sessions.finding import Spot
from trackread.sessions.hearing import HOP
from trackread.sessions.lines import Spoken


@dataclass(frozen=True, slots=True)
class Scale:
    """A logistic regression: what each cue, about 1 in size, weighs."""

    bias: float
    weights: Mapping[str, float]

    def probability(self, cues: Mapping[str, float]) -> float:
        """0 to 1, of cues under the names of the weights."""
        return 1 / (1 + math.exp(-self.bias - sum(weight * cues[name] for name, weight in self.weights.items())))


LINE = Scale(
    1.27,
    {
        "fitness": 0.67,
        "apart": 2.69,
        "sound": 1.05,
        "sound_apart": 1.16,
        "short": -5.39,
        "alone": 0.65,
        "short_in_talk": -1.75,
        "cut_off": -1.43,
        "slate": -0.25,
        "more": -2.65,
        "less": -0.31,
        "slow": -0.25,
        "fast": -1.69,
    },
)
WHOLE = Scale(
    -9.39,
    {"complete": 5.52, "sound_complete": 2.43, "fitness": -0.9, "short": 2.14, "fall": 14.25},
)

SURE = 0.5  # the probability from which a stretch is held to be a take of its line
HARDLY = 0.005  # the probability below which it is held to be chatter
APART = 2.0  # nats on the next line by both opinions together, at least
POOREST = -2.0  # nats a phone of what is heard of a line, at least
LEAST_CUT_OFF = 4  # phones that must be heard of a take that is cut off
LEAST_WHOLE = 2  # and of one that is whole: `oh` may be anything
DIES_AWAY = 0.7  # fall from which a voice has ended by itself: what is cut off does not
STOPS_SHORT = 0.5  # fall below which a voice has stopped short: 99 of 100 whole takes fall further
SHORT = 4  # phones of a line that may be a piece of other talk, if that is
NEAR = 0.4  # seconds from it
SLATE = -0.8  # nats a phone from which a slate is one, if no line fits as well
USUAL = 0.12  # seconds of a phone, rests and all


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a spot is held to be, and how likely its best line is the one that is said, and said whole."""

    kind: StretchKind
    likely: float
    whole: float
    wholeness: Wholeness


def verdicts(
    spots: Sequence[Spot], longer: Mapping[str, frozenset[str]], *, line: Scale = LINE, whole: Scale = WHOLE
) -> Iterator[Verdict]:
    """A verdict on each spot of a part of a session; `longer` has for a line all lines that begin with all of it."""
    weighed = [
        (line.probability(line_cues(spot)), whole.probability(whole_cues(spot))) if spot.opinion else (0.0, 0.0)
        for spot in spots
    ]
    for number, (spot, (likely, complete)) in enumerate(zip(spots, weighed, strict=True)):
        wholeness = wholeness_of(spot, complete)
        kind = kind_of(spot, likely)
        if kind is StretchKind.TAKE:
            around = [(spots[k], weighed[k][0]) for k in (number - 1, number + 1) if 0 <= k < len(spots)]
            longer_one = wholeness is Wholeness.WHOLE and may_be_longer(spot, around, longer)
            if longer_one or is_talk(spot, around) or not said_enough(spot, wholeness):
                kind = StretchKind.UNSURE
        yield Verdict(kind, likely, complete, wholeness)


def wholeness_of(spot: Spot, complete: float) -> Wholeness:
    """How much of its best line a spot says, if that is complete with this probability."""
    if complete < 0.5:
        return Wholeness.CUT_OFF
    return Wholeness.RESTARTED if spot.candidates[0].is_restarted else Wholeness.WHOLE


def kind_of(spot: Spot, likely: float) -> StretchKind:
    """What a spot is by itself, if it is a take of its best line with this probability."""
    opinion = spot.opinion
    if spot.slate > max(SLATE, opinion.fitness if opinion else -math.inf) and likely < SURE:
        return StretchKind.SLATE
    if opinion is None or likely < HARDLY:
        return StretchKind.CHATTER
    sure = likely >= SURE and opinion.fitness >= POOREST
    agree = opinion.apart > 0 and opinion.sound_apart >= 0 and opinion.apart_by_both >= APART
    return StretchKind.TAKE if sure and agree else StretchKind.UNSURE


def said_enough(spot: Spot, wholeness: Wholeness) -> bool:
    """Whether enough is heard of the line to tell it, and it ends as one that is whole, or cut off, does."""
    best = spot.candidates[0]
    if wholeness is Wholeness.CUT_OFF:
        better_broken = spot.opinion is not None and spot.opinion.complete < 0
        return better_broken and best.said >= LEAST_CUT_OFF and spot.fall < DIES_AWAY
    return best.count >= LEAST_WHOLE and spot.fall > STOPS_SHORT


def is_talk(spot: Spot, around: Sequence[tuple[Spot, float]]) -> bool:
    """Whether a short line stands close to what is no take: then it may be a piece of that."""
    close = [likely for other, likely in around if rest_between(spot, other) < NEAR]
    return spot.candidates[0].count <= SHORT and any(likely < SURE for likely in close)


def rest_between(one: Spot, other: Spot) -> float:
    """Seconds from the end of the earlier to the beginning of the later."""
    return (max(one.start, other.start) - min(one.stop, other.stop)) * HOP


def may_be_longer(spot: Spot, around: Sequence[tuple[Spot, float]], longer: Mapping[str, frozenset[str]]) -> bool:
    """Whether it may as well be a longer line, cut off after as much, since that is tried before or after it."""
    beside = {other.candidates[0].line.id for other, _ in around if other.candidates}
    return not beside.isdisjoint(longer[spot.candidates[0].line.id])


def longer_lines(lines: Sequence[Spoken]) -> dict[str, frozenset[str]]:
    """For each line the others that begin with all of it."""
    starts: dict[tuple[str, ...], set[str]] = {}
    for line in lines:
        for stop in range(1, len(line.phones)):
            starts.setdefault(line.phones[:stop], set()).add(line.id)
    return {line.id: frozenset(starts.get(line.phones, ())) for line in lines}


def line_cues(spot: Spot) -> dict[str, float]:
    """What speaks for the best line, under the names of LINE, each about 1 in size."""
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
    """What speaks for the best line being whole, under the names of WHOLE."""
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
