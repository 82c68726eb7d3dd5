"""Two opinions on what a stretch of speech is: the recogniser's phones, and the sound itself beside the lines.

Each is a few numbers of about 1 in size; `deciding.py` weighs them.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from trackread.core.session import Wholeness
from trackread.sessions.graphs import Fit, Graph, Route
from trackread.sessions.hearing import NEVER
from trackread.sessions.lines import Spoken, Words, can_be_said

CUT_OFF = 6.0  # nats by which a line that is said whole is worth more than as much of one that is cut off
ASKED = 3  # lines of which the second opinion is asked
SHARE = 0.05  # of its nats, beside the first's: its sounds are no more apart, but it counts them twenty times as often
SURELY_APART = 40.0  # nats from which the second opinion need not be asked about the next lines
UNHEARD = 500.0  # nats, where the second opinion cannot say the words at all
NONE_LIKE_IT = 40.0  # nats that the best line has on the next where there is no next


class SecondOpinion(Protocol):
    """The log likelihood in nats of the sound of a stretch if these words are said in it; None if they cannot be."""

    def __call__(self, words: Words, /) -> float | None: ...


@dataclass(frozen=True, slots=True)
class Candidate:
    """A line that a stretch may be a take of, how well it fits, and how well if it is begun again on the way."""

    line: Spoken
    fit: Fit
    again: Fit

    @property
    def count(self) -> int:
        return len(self.line.phones)

    @property
    def said(self) -> int:
        """The phones up to where it is best broken off."""
        return sum(len(ways[0]) for ways in self.line.words[: self.fit.words]) + self.fit.phones

    @property
    def complete(self) -> float:
        """Nats of the whole line, begun again or not."""
        return max(self.fit.whole, self.again.whole)

    @property
    def worth(self) -> float:
        """What the line is worth beside others: nats, and one for each phone of it that is heard."""
        return max(self.complete + self.count, self.fit.broken + self.said - CUT_OFF)

    @property
    def is_broken(self) -> bool:
        return self.fit.broken + self.said - CUT_OFF > self.complete + self.count

    @property
    def told(self) -> Words:
        """Its words, as far as they are said."""
        return self.beginning if self.is_broken else self.line.words

    @property
    def is_restarted(self) -> bool:
        """Whether it is better explained by its being begun again."""
        return self.again.whole > self.fit.whole

    @property
    def wholeness(self) -> Wholeness:
        """How much of it is said, by the phones that are heard alone."""
        if self.is_broken:
            return Wholeness.CUT_OFF
        return Wholeness.RESTARTED if self.is_restarted else Wholeness.WHOLE

    @property
    def beginning(self) -> Words:
        """Its words up to where it is broken off, the last perhaps in part."""
        words = self.line.words[: self.fit.words]
        if not self.fit.phones:
            return words
        part = dict.fromkeys(way[: self.fit.phones] for way in self.line.words[self.fit.words])
        return (*words, tuple(part))


@dataclass(frozen=True, slots=True)
class Opinion:
    """What speaks for a stretch being a take of the best of its candidates, and for that being whole.

    `fitness` nats a phone of what is heard of the line; `apart` nats on the next line; `sound` and `sound_apart` the
    second opinion's, beside any phones and beside the next line; `short` is 1 / phones. For being whole: `complete`
    nats beside the line broken off, `sound_complete` the second opinion's.
    """

    fitness: float
    apart: float
    sound: float
    sound_apart: float
    short: float
    complete: float
    sound_complete: float

    @property
    def apart_by_both(self) -> float:
        """Nats on the next line by both opinions together."""
        return self.apart + SHARE * self.sound_apart


def candidates_of(lines: Sequence[Spoken], against: np.ndarray) -> tuple[Candidate, ...]:
    """The lines with how they fit these rows, the best first."""
    if not lines or not len(against):
        return ()
    routes = [Route(line.words, again=again) for line in lines for again in (False, True)]
    fits = Graph(routes).fits(against)
    found = [Candidate(line, fits[2 * k], fits[2 * k + 1]) for k, line in enumerate(lines)]
    return tuple(sorted(found, key=lambda one: -one.worth))


def ranked(candidates: Sequence[Candidate], second: SecondOpinion) -> tuple[Candidate, ...]:
    """The candidates with those that come near the first in the order of both opinions."""
    near = [one for one in candidates[:ASKED] if candidates[0].worth - one.worth < SURELY_APART]
    if len(near) < 2:
        return tuple(candidates)
    order = sorted(near, key=lambda one: -(one.worth + SHARE * likelihood(one.told, second)))
    return (*order, *candidates[len(near) :])


def opinion_on(candidates: Sequence[Candidate], heard: Words, second: SecondOpinion) -> Opinion:
    """What speaks for the first of the candidates; `heard` is what any phones would be said."""
    best = candidates[0]
    whole = likelihood(best.line.words, second)
    begun = likelihood(best.beginning, second) if best.fit.broken > NEVER / 2 else -math.inf
    sound = max(whole, begun) if best.is_broken else whole
    near = [one for one in candidates[1:ASKED] if best.worth - one.worth < SURELY_APART]
    others = [likelihood(one.told, second) for one in near]
    free = likelihood(heard, second) if heard else -math.inf
    count = best.said if best.is_broken else best.count
    return Opinion(
        fitness=(best.fit.broken if best.is_broken else best.complete) / max(1, count),
        apart=best.worth - max(one.worth for one in candidates[1:]) if len(candidates) > 1 else NONE_LIKE_IT,
        sound=bounded(sound - free) / max(1, count),
        sound_apart=bounded(sound - max(others)) if others else UNHEARD,
        short=1 / max(1, count),
        complete=max(-NONE_LIKE_IT, min(NONE_LIKE_IT, best.complete - best.fit.broken)),
        sound_complete=bounded(whole - begun) if begun > -math.inf else UNHEARD,
    )


def likelihood(words: Words, second: SecondOpinion) -> float:
    found = second(words) if can_be_said(words) else None
    return -math.inf if found is None else found


def bounded(nats: float) -> float:
    return 0.0 if math.isnan(nats) else max(-UNHEARD, min(UNHEARD, nats))
