"""Verdicts as the book has them: stretches in samples of the recording, with the lines that each may be."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from trackread.core.phones import respelling
from trackread.core.session import Guess, Stretch, StretchKind
from trackread.core.timebase import Sample
from trackread.sessions.deciding import Verdict
from trackread.sessions.finding import Spot
from trackread.sessions.pieces import ROWS

MARGIN = 15  # rows left before and after what is heard, where it is quiet: a reading wants some room around a voice
GUESSES = 3
LAST = 1 << 40  # rows, beyond any recording


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a recording, samples `start` to before `stop` at `sample_rate`."""

    start: int
    stop: int
    sample_rate: int

    def sample(self, row: int) -> Sample:
        """The sample of the recording with which a row of this part begins."""
        return Sample(min(self.stop, self.start + row * self.sample_rate // ROWS))


def stretches_of(
    spots: Sequence[Spot], found: Sequence[Verdict], same: Mapping[str, Sequence[str]], part: Part
) -> Iterator[Stretch]:
    """The stretches, in order; `same` has for a line all lines that are said just as it is.

    Which of several that sound the same is said nobody can hear, so that is for a person.
    """
    edges = [0, *((one.stop + other.start) // 2 for one, other in pairwise(spots)), LAST]
    for number, (spot, verdict) in enumerate(zip(spots, found, strict=True)):
        guesses = guesses_of(spot, verdict, same)
        several = bool(spot.candidates) and len(same[spot.candidates[0].line.id]) > 1
        take = verdict.kind is StretchKind.TAKE
        yield Stretch(
            part.sample(max(edges[number], spot.start - MARGIN)),
            part.sample(min(edges[number + 1], spot.stop + MARGIN)),
            StretchKind.UNSURE if take and several else verdict.kind,
            guesses if take or verdict.kind is StretchKind.UNSURE else (),
            " ".join(respelling(phone) for phone in spot.heard),
        )


def guesses_of(spot: Spot, verdict: Verdict, same: Mapping[str, Sequence[str]]) -> tuple[Guess, ...]:
    """The likeliest lines, with all that sound like the best: that as in the verdict, the rest share what is left."""
    if not spot.candidates:
        return ()
    rest = np.exp([min(0.0, one.worth - spot.candidates[0].worth) for one in spot.candidates[1:]])
    left = (1 - verdict.likely) * rest / max(1.0, float(rest.sum()))
    guesses = [
        Guess(line, likely / len(same[candidate.line.id]), wholeness)
        for candidate, likely, wholeness in zip(
            spot.candidates,
            [verdict.likely, *map(float, left)],
            [verdict.wholeness, *(one.wholeness for one in spot.candidates[1:])],
            strict=True,
        )
        for line in same[candidate.line.id]
    ]
    return tuple(guesses[: max(GUESSES, len(same[spot.candidates[0].line.id]))])
