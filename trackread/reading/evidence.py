"""What speaks for a departure: two opinions on whether a take fits better with it than without.

The recogniser's and the aligner's, each in nats, heard in the words around it; and how unlike what is heard is to what
the line has there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.performance import DepartureKind
from trackread.core.phones import PHONES
from trackread.reading.aligner import Aligner
from trackread.reading.course import Step, StepKind, Ways, fit_of
from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.proposals import Proposal
from trackread.reading.recogniser import HOP, LATE, ROW, Posteriors
from trackread.reading.sounds import RATE

AROUND = 1  # step on each side of a departure that is heard with it
ENOUGH = 15.0, 100.0  # nats of each opinion that tell three quarters of what it can tell
UNALIGNED = 50.0  # nats, where the aligner cannot say the words at all without the departure, or with it

# A logistic regression on what changed takes of people propose: scripts/measure-departures makes them, fits this and
# says what one half of the takes teaches about the other.
WEIGHTS = {"recogniser": 0.90, "aligner": 1.22, "unlike": 4.84}
BIASES = {
    DepartureKind.DROPPED: 1.70,
    DepartureKind.ADDED: 0.68,
    DepartureKind.REPEATED: 1.62,
    DepartureKind.SWAPPED: -2.15,
    DepartureKind.RESTART: 2.19,
}
LEAST = 0.60  # the probability from which a departure is believed
# The recogniser was taught on sound up to 8 kHz and mishears what comes through a narrow line: in the one such
# recording among those that were changed, it heard a word too many with a probability of 0.75 to 0.78. And of a
# word that no dictionary has, however it is said, the recogniser hears no more than half.
LEAST_DOUBTFUL = 0.8
AGAINST = -45.0  # nats by which the aligner may speak against a departure that is believed

# Phones that differ in voice alone, vowels that are taken for one another, and diphthongs for one half of them.
NEAR = frozenset(
    frozenset(pair.split())
    for row in (
        ("P B", "T D", "K G", "F V", "TH DH", "S Z", "SH ZH", "CH JH"),
        ("IH IY", "IH EH", "EH AE", "UH UW", "AA AO", "AH AA", "AH ER", "AH IH", "AH UH"),
        ("AY IY", "AY AA", "EY IY", "EY EH", "OW AO", "OW UH", "AW AA", "AW UH", "OY AO", "OY IY"),
    )
    for pair in row
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What speaks for a proposal: nats of both opinions, and how unlike what is heard is to what is missing.

    `unlike` is 0 to 1, and 0 where nothing is heard or nothing is missing.
    """

    recogniser: float
    aligner: float
    unlike: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a take: its signal at 16 kHz, its rows, and how each word of its line may be said.

    A `narrow` one was recorded through a line that passes nothing above 4 kHz. `strange` are the words, by their
    places in `ways`, that no dictionary has.
    """

    signal: np.ndarray
    heard: Posteriors
    ways: Ways
    narrow: bool
    strange: frozenset[int] = frozenset()

    def doubts(self, one: Proposal) -> bool:
        """Whether a proposal is more likely a mishearing, or the word itself, than others are."""
        return self.narrow or not self.strange.isdisjoint(range(one.low, one.high))


@dataclass(frozen=True, slots=True)
class Around:
    """The sound around a proposal, the words in it with the departure and without, and what two of the cues say."""

    signal: np.ndarray
    with_it: Ways
    without: Ways
    recogniser: float
    unlike: float

    def evidence(self, aligner: Aligner) -> Evidence:
        aligned = gain(aligner.fit(self.signal, self.with_it), aligner.fit(self.signal, self.without))
        return Evidence(self.recogniser, aligned, self.unlike)


def is_departure(one: Proposal, steps: Sequence[Step], piece: Piece, aligner: Aligner) -> bool:
    """Whether a proposal is believed; the aligner, which takes its time, is asked only where it could say so."""
    around = heard_around(one, steps, piece)
    at_best = Evidence(around.recogniser, math.inf, around.unlike)
    if not is_believed(at_best, probability(one.kind, at_best), doubtful=piece.doubts(one)):
        return False
    evidence = around.evidence(aligner)
    return is_believed(evidence, probability(one.kind, evidence), doubtful=piece.doubts(one))


def evidence_for(one: Proposal, steps: Sequence[Step], piece: Piece, aligner: Aligner) -> Evidence:
    """How much better the sound around a proposal fits with it than without."""
    return heard_around(one, steps, piece).evidence(aligner)


def heard_around(one: Proposal, steps: Sequence[Step], piece: Piece) -> Around:
    low, high = max(0, one.first - AROUND), min(len(steps), one.stop + AROUND)
    before = [ways_of(step, piece.ways) for step in steps[low : one.first]]
    after = [ways_of(step, piece.ways) for step in steps[one.stop : high]]
    heard = [ways_of(step, piece.ways) for step in steps[one.first : one.stop]]
    written = list(piece.ways[one.low : one.high])
    part, signal = window(steps, low, high, piece)
    with_it, without = [*before, *heard, *after], [*before, *written, *after]
    expected = [bare(way) for way in written[0]] if len(written) == 1 else [phones_of(written)]
    unlike = min(unlikeness(phones_of(heard), way) for way in expected)
    return Around(signal, with_it, without, fit_of(part, with_it) - fit_of(part, without), unlike)


def phones_of(words: Ways) -> list[str]:
    """The phones of some words, each in its first way."""
    return [phone for ways in words for phone in bare(ways[0])]


def gain(with_it: float | None, without: float | None) -> float:
    """How much better the aligner finds the words with the departure, in nats, where it may find none."""
    if without is None:
        return UNALIGNED
    return -UNALIGNED if with_it is None else with_it - without


def unlikeness(heard: Sequence[str], written: Sequence[str]) -> float:
    """How many edits make one string of phones the other, as a share of the longer; within a kind it is half an edit.

    A word that the recogniser half understands is no other word.
    """
    if not heard or not written:
        return 0.0
    costs = [float(k) for k in range(len(written) + 1)]
    for row, phone in enumerate(heard, 1):
        before, costs = costs, [float(row)]
        for k, other in enumerate(written):
            costs.append(min(before[k] + difference(phone, other), before[k + 1] + 1, costs[k] + 1))
    return costs[-1] / max(len(heard), len(written))


def difference(first: str, second: str) -> float:
    if first == second:
        return 0.0
    if frozenset({first, second}) in NEAR:
        return 0.25
    return 0.5 if PHONES[first][0] == PHONES[second][0] else 1.0


def ways_of(step: Step, ways: Ways) -> tuple[Pronunciation, ...]:
    """How a step may be said: a whole word in any of its ways, anything else as it was heard."""
    return ways[step.word] if step.kind is StepKind.WORD and step.word is not None else (step.phones,)


def window(steps: Sequence[Step], low: int, high: int, piece: Piece) -> tuple[Posteriors, np.ndarray]:
    """The rows and the signal from before step `low` to after the step before `high`, parted between steps."""
    first, stop = 0, len(piece.heard.blank)
    if low:
        first = row_between(steps[low - 1].times[-1], steps[low].times[0] if low < high else math.inf)
    if high < len(steps):
        stop = row_between(steps[high - 1].times[-1] if high else -math.inf, steps[high].times[0])
    late = round(LATE * RATE)  # the rows come so long after their sound
    signal = piece.signal[max(0, first * ROW - late) if first else 0 : stop * ROW - late if high < len(steps) else None]
    return piece.heard.part(first, stop), signal


def row_between(first: float, second: float) -> int:
    middle = (first + second) / 2 if math.isfinite(first + second) else first if math.isfinite(first) else second
    return max(0, int((middle + LATE) / HOP))


def is_believed(evidence: Evidence, chance: float, *, doubtful: bool) -> bool:
    """Whether a proposal that is a departure with this probability is told as one."""
    return evidence.aligner >= AGAINST and chance >= (LEAST_DOUBTFUL if doubtful else LEAST)


def probability(kind: DepartureKind, evidence: Evidence) -> float:
    """How likely a proposal of this kind is a departure, 0 to 1."""
    cues = cues_of(evidence)
    return 1 / (1 + math.exp(-BIASES[kind] - sum(WEIGHTS[name] * cues[name] for name in WEIGHTS)))


def cues_of(evidence: Evidence) -> dict[str, float]:
    """What speaks for a proposal, under the names of WEIGHTS, each about 1 in size."""
    recogniser, aligner = ENOUGH
    return {
        "recogniser": math.tanh(evidence.recogniser / recogniser),
        "aligner": math.tanh(evidence.aligner / aligner),
        "unlike": evidence.unlike,
    }
