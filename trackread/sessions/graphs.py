"""A few lines laid over one stretch of speech, with all the ways their words may be said: how well each explains it.

As in `chains.py`, but every word in any of its ways, and of each line also how well it does if it is broken off and
begun again. A word may begin with the phone that the one before ends with, without a silence between them. Nats beside
the best explanation by any phones.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.hearing import COLUMNS, NEVER
from trackread.sessions.lines import Words, can_be_said

AGAIN = 9.0  # nats for breaking off and beginning again; at less, a breath before a line is a beginning of it


@dataclass(frozen=True, slots=True)
class Route:
    """Words to be said in order; those whose places are `optional` may be left out, and `again` it may begin again."""

    words: Words
    optional: frozenset[int] = frozenset()
    again: bool = False

    def __post_init__(self) -> None:
        if not can_be_said(self.words):
            raise ValueError("a route has words, and each of them phones")
        if not self.optional < frozenset(range(len(self.words))):
            raise ValueError("words that may be left out are of the route, and never all of it")


@dataclass(frozen=True, slots=True)
class Fit:
    """The nats of a route `whole`, and `broken` off at its best place: after `words` whole words and `phones` more."""

    whole: float
    broken: float
    words: int
    phones: int


class Graph:
    """The states of some routes: each way of each word as phone, silence, phone, silence. Arrays are (states,)."""

    def __init__(self, routes: Sequence[Route]) -> None:
        column, word, place, last, skips = zip(*states_of(routes), strict=True)
        self.column, self.word, self.place, self.last = map(np.array, (column, word, place, last))
        self.phone = self.column > 0
        self.first = self.phone & (self.place == 0)
        self.from_before = np.where(self.first, NEVER, 0.0)
        self.from_phone = np.where(np.array(skips), 0.0, NEVER)
        self.words = np.searchsorted(self.word, np.arange(self.word[-1] + 1))
        counts = [len(route.words) for route in routes]
        self.opens = np.concatenate([[0], np.cumsum(counts)[:-1]])
        self.closes = np.cumsum(counts) - 1
        self.optional = [
            int(start) + k for start, route in zip(self.opens, routes, strict=True) for k in sorted(route.optional)
        ]
        self.again = [
            (int(self.opens[k]), np.flatnonzero(self.inside(k))) for k, route in enumerate(routes) if route.again
        ]

    def fits(self, against: np.ndarray) -> tuple[Fit, ...]:
        """How well each route explains all of these rows."""
        scores = np.full(len(self.column), NEVER)
        ended = np.full(len(self.words), NEVER)
        silence = 0.0
        for row in against:
            scores = self.stepped(scores, self.entries(scores, ended, silence)) + row[self.column]
            ended = np.maximum.reduceat(np.where(self.last, scores, NEVER), self.words)
            silence += row[0]
        return tuple(self.fit(scores, ended, number) for number in range(len(self.opens)))

    def entries(self, scores: np.ndarray, ended: np.ndarray, silence: float) -> np.ndarray:
        """With what each word begins, shape (words,)."""
        entry = np.concatenate([[silence], ended[:-1]])
        entry[self.opens] = silence
        for first, states in self.again:
            entry[first] = max(entry[first], float(scores[states].max()) - AGAIN)
        for word in self.optional:
            if word not in self.closes:
                entry[word + 1] = max(entry[word + 1], entry[word])
        return entry

    def inside(self, number: int) -> np.ndarray:
        """The states of one route."""
        return np.asarray((self.word >= self.opens[number]) & (self.word <= self.closes[number]))

    def stepped(self, scores: np.ndarray, entries: np.ndarray) -> np.ndarray:
        """The best way to each state one row on."""
        now = np.where(self.first, np.maximum(scores, entries[self.word]), scores)
        now[1:] = np.maximum(now[1:], scores[:-1] + self.from_before[1:])
        now[2:] = np.maximum(now[2:], scores[:-2] + self.from_phone[2:])
        return now

    def fit(self, scores: np.ndarray, ended: np.ndarray, number: int) -> Fit:
        """How well a route did, by the best ways to all states and to the ends of all words."""
        close = self.closes[number]
        whole = float(ended[close])
        for word in reversed(self.optional):
            if word == close:
                close -= 1
                whole = max(whole, float(ended[close]))
        inside = self.inside(number) & ~(self.last & (self.word >= close))
        if not inside.any():  # a line of one phone is either said or not
            return Fit(whole, NEVER, 0, 0)
        best = int(np.where(inside, scores, -np.inf).argmax())
        words, phones = int(self.word[best] - self.opens[number]), int(self.place[best]) + 1
        if self.last[best]:
            words, phones = words + 1, 0
        return Fit(whole, float(scores[best]), words, phones)


def states_of(routes: Sequence[Route]) -> Iterator[tuple[int, int, int, bool, bool]]:
    """Of each state its column, word, place in its way, whether that is the last, and whether a silence may be skipped
    before it."""
    for word, ways in enumerate(ways for route in routes for ways in route.words):
        for way in ways:
            for place, phone in enumerate(way):
                last = place == len(way) - 1
                yield COLUMNS[phone], word, place, last, place > 0 and phone != way[place - 1]
                yield 0, word, place, last, False
