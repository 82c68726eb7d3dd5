"""A few lines laid over one stretch of speech, with all the ways their words may be said: how well each explains it.

As in `chains.py`, but every word in any of its ways, and of each line also how well it does if it is broken off and
begun again. Nats beside the best explanation by any phones.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.hearing import COLUMNS
from trackread.sessions.lines import Words

NEVER = -1e9
AGAIN = 3.0  # nats for breaking off and beginning again


@dataclass(frozen=True, slots=True)
class Route:
    """Words to be said in order; those whose places are `optional` may be left out, and `again` it may begin again."""

    words: Words
    optional: frozenset[int] = frozenset()
    again: bool = False


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
        states = [
            (COLUMNS[phone] if phone else 0, word, k, k == len(way) - 1, bool(phone and skips))
            for word, ways in enumerate(ways for route in routes for ways in route.words)
            for way in ways
            for k, each in enumerate(way)
            for phone, skips in ((each, k > 0 and each != way[k - 1]), ("", False))
        ]
        column, word, place, last, skips = zip(*states, strict=True)
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
        self.again = [k for k, route in enumerate(routes) if route.again]

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
        for word in self.optional:
            if word not in self.closes:
                entry[word + 1] = max(entry[word + 1], entry[word])
        for number in self.again:
            first, last = self.opens[number], self.closes[number]
            inside = scores[self.words[first] :][
                self.phone[self.words[first] :] & (self.word[self.words[first] :] <= last)
            ]
            entry[first] = max(entry[first], float(inside.max()) - AGAIN)
        return entry

    def stepped(self, scores: np.ndarray, entries: np.ndarray) -> np.ndarray:
        now = np.where(self.first, np.maximum(scores, entries[self.word]), scores)
        now[1:] = np.maximum(now[1:], scores[:-1] + self.from_before[1:])
        now[2:] = np.maximum(now[2:], scores[:-2] + self.from_phone[2:])
        return now

    def fit(self, scores: np.ndarray, ended: np.ndarray, number: int) -> Fit:
        first, close = self.opens[number], self.closes[number]
        whole = float(ended[close])
        for word in reversed(self.optional):
            if word == close:
                close -= 1
                whole = max(whole, float(ended[close]))
        inside = (self.word >= first) & (self.word <= self.closes[number]) & ~(self.last & (self.word >= close))
        if not inside.any():  # a line of one phone is either said or not
            return Fit(whole, NEVER, 0, 0)
        best = int(np.where(inside, scores, NEVER).argmax())
        words, phones = int(self.word[best] - first), int(self.place[best]) + 1
        return (
            Fit(whole, float(scores[best]), words + 1, 0)
            if self.last[best]
            else Fit(whole, float(scores[best]), words, phones)
        )
