"""A session's utterances gathered into what is said in one go: a take may rest within, and two takes may be near.

By dynamic programming over the utterances, in nats: what is no line at all costs nothing and earns nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.chains import EACH, Chains, Ending
from trackread.sessions.hearing import HOP, Utterance

WHOLE, BROKEN = 2.0, 6.0  # nats that a take costs, whole or cut off
LONGEST_REST = 2.5  # seconds within a take
CANDIDATES = 5
POOREST = -25.0  # nats below which a line is no candidate


@dataclass(frozen=True, slots=True)
class Piece:
    """Utterances `first` to before `stop` as one stretch, and the lines it may be, by their places, the best first."""

    first: int
    stop: int
    candidates: tuple[int, ...]


def parted(utterances: Sequence[Utterance], chains: Chains, endings: Sequence[Ending]) -> tuple[Piece, ...]:
    """The pieces of all utterances, in order; each utterance is in one."""
    best = [0.0]
    back: list[Piece] = []
    for number, ending in enumerate(endings):
        choices = [(best[number], Piece(number, number + 1, ()))]
        for start, earned in earnings(number, ending, chains, utterances):
            order = np.argsort(-earned)[:CANDIDATES]
            piece = Piece(start, number + 1, tuple(int(k) for k in order if earned[k] > POOREST))
            choices.append((best[start] + float(earned[order[0]]), piece))
            if start == number:  # what is no take is told by the lines that it is most like
                choices[0] = (best[number], piece)
        score, piece = max(choices, key=lambda choice: choice[0])
        best.append(score)
        back.append(piece)
    pieces: list[Piece] = []
    reached = len(utterances)
    while reached:
        pieces.append(back[reached - 1])
        reached = pieces[-1].first
    return tuple(reversed(pieces))


def earnings(
    number: int, ending: Ending, chains: Chains, utterances: Sequence[Utterance]
) -> list[tuple[int, np.ndarray]]:
    """For each utterance from which a take might reach to the end of this one, what each line would earn by it."""
    whole = ending.whole + EACH * chains.counts - WHOLE
    broken = ending.broken + EACH * ending.said - BROKEN
    earliest = number
    while earliest and is_within_take(utterances[earliest - 1], utterances[earliest]):
        earliest -= 1
    starts = np.union1d(ending.whole_from, ending.broken_from)
    return [
        (
            int(start),
            np.maximum(
                np.where(ending.whole_from == start, whole, -np.inf),
                np.where(ending.broken_from == start, broken, -np.inf),
            ),
        )
        for start in starts[starts >= earliest][::-1]
    ]


def is_within_take(before: Utterance, after: Utterance) -> bool:
    """Whether the rest between two utterances is one that a take may have within."""
    return (after.start - before.stop) * HOP <= LONGEST_REST
