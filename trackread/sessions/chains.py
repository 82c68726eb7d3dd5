"""All lines of a script laid over a session at once: where each could end, whole or cut off, and where it began.

Each line is a chain of states, phone and silence by turns, each word in its commonest way. The best way to every state
is kept (Viterbi), in nats beside the best explanation by any phones: what a line explains as well costs it nothing.
A line begins where an utterance does; at a cost elsewhere in it, so that one that is begun again is found too.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.hearing import COLUMNS, Utterance
from trackread.sessions.lines import Spoken

NEVER = -1e9
WITHIN = 6.0  # nats for beginning a line within an utterance
AT_START = 9  # rows from its beginning that count as the beginning


@dataclass(frozen=True, slots=True)
class Ending:
    """How well each line could end with an utterance; all arrays are (lines,).

    `whole` and `broken` are the nats of all of it and of its best beginning; each `from` is the utterance in which
    that began; `said` counts the phones of that beginning.
    """

    whole: np.ndarray
    whole_from: np.ndarray
    broken: np.ndarray
    broken_from: np.ndarray
    said: np.ndarray


class Chains:
    """The states of all lines in one row, shape (states,)."""

    def __init__(self, lines: Sequence[Spoken]) -> None:
        phones = [line.phones for line in lines]
        self.counts = np.array([len(each) for each in phones])
        columns = np.array([COLUMNS[phone] for each in phones for phone in each])
        line = np.repeat(np.arange(len(phones)), self.counts)
        place = np.concatenate([np.arange(count) for count in self.counts])
        self.column = np.column_stack([columns, np.zeros_like(columns)]).ravel()
        self.line, self.place = np.repeat(line, 2), np.repeat(place, 2)
        phone = np.tile([True, False], len(columns))
        self.first = phone & (self.place == 0)
        self.last = self.place == self.counts[self.line] - 1
        same_as_before = np.concatenate([[False], columns[1:] == columns[:-1]])
        self.from_before = np.where(self.first, NEVER, 0.0).astype(np.float32)
        skips = phone & (self.place > 0) & ~np.repeat(same_as_before, 2)
        self.from_phone = np.where(skips, 0.0, NEVER).astype(np.float32)
        self.entering = np.where(self.first, 0.0, NEVER).astype(np.float32)
        self.starts = np.searchsorted(self.line, np.arange(len(phones)))

    def endings(self, against: np.ndarray, utterances: Sequence[Utterance]) -> Iterator[Ending]:
        """For each utterance how well each line could end with it; `against` as Hearing.against_any gives it."""
        scores = np.full(len(self.column), NEVER, np.float32)
        begun = np.zeros(len(self.column), np.int16)
        for number, utterance in enumerate(utterances):
            scores[self.last] = NEVER  # a line that has ended goes on in no other utterance
            for row in range(utterance.first, utterance.last):
                entry = 0.0 if row < utterance.first + AT_START else -WITHIN
                scores, begun = self.stepped(scores, begun, entry, number)
                scores += against[row, self.column]
            yield self.ending(scores, begun)

    def stepped(
        self, scores: np.ndarray, begun: np.ndarray, entry: float, number: int
    ) -> tuple[np.ndarray, np.ndarray]:
        """The best way to each state one row on, and the utterance in which it began."""
        now, since = scores.copy(), begun.copy()
        for back, cost in ((1, self.from_before), (2, self.from_phone)):
            moved = scores[:-back] + cost[back:]
            better = moved > now[back:]
            now[back:][better] = moved[better]
            since[back:][better] = begun[:-back][better]
        entering = self.entering + np.float32(entry)
        better = entering > now
        now[better] = entering[better]
        since[better] = number
        return now, since

    def ending(self, scores: np.ndarray, begun: np.ndarray) -> Ending:
        whole, ends = self.best_of(np.where(self.last, scores, NEVER))
        broken, breaks = self.best_of(np.where(self.last, NEVER, scores))
        return Ending(whole, begun[ends], broken, begun[breaks], self.place[breaks] + 1)

    def best_of(self, scores: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """For each line the best score of its states, and that state."""
        best = np.maximum.reduceat(scores, self.starts)
        places = np.flatnonzero(scores == best[self.line])
        state = np.zeros(len(best), int)
        state[self.line[places[::-1]]] = places[::-1]
        return best, state
