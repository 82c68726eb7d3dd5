"""All lines of a script laid over a session at once: where each could end, whole or cut off, and where it began.

Each line is a chain of phones with a silence after each, each word in its commonest way. The best way to every phone
and silence is kept (Viterbi), in nats beside the best explanation by any phones: what a line explains as well costs it
nothing. A line begins where an utterance does; at a cost elsewhere in it, so that one that is begun again is found too.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.hearing import COLUMNS, NEVER, Utterance
from trackread.sessions.lines import Spoken

EACH = 1.5  # nats that each phone of a line earns where it explains as much as any phones would
WITHIN = 6.0  # nats for beginning a line within an utterance
AT_START = 9  # rows from its beginning that count as the beginning
PHONE, SILENCE = 0, 1  # the first axis of what is kept


@dataclass(frozen=True, slots=True)
class Ending:
    """How well each line could end with an utterance; all arrays are (lines,).

    `whole` and `broken` are the nats of all of it and of its best beginning, NEVER where there is none; each `from` is
    the utterance in which that began; `said` counts the phones of that beginning.
    """

    whole: np.ndarray
    whole_from: np.ndarray
    broken: np.ndarray
    broken_from: np.ndarray
    said: np.ndarray


class Chains:
    """The phones of all lines in one row, arrays (phones,); what is kept is (2, phones), a silence after each phone."""

    def __init__(self, lines: Sequence[Spoken]) -> None:
        phones = [line.phones for line in lines]
        self.counts = np.array([len(each) for each in phones], int)
        self.starts = np.cumsum(self.counts) - self.counts
        self.lasts = self.starts + self.counts - 1
        self.line = np.repeat(np.arange(len(phones)), self.counts)
        self.column = np.array([COLUMNS[phone] for each in phones for phone in each], int)
        self.from_silence = np.zeros(len(self.column), np.float32)
        self.from_silence[self.starts] = NEVER
        # Two like phones in a row are one that is long, but for a silence between them.
        self.from_phone = np.where(np.diff(self.column, prepend=0) == 0, NEVER, self.from_silence).astype(np.float32)

    def endings(self, against: np.ndarray, utterances: Sequence[Utterance]) -> Iterator[Ending]:
        """For each utterance how well each line could end with it; `against` as Hearing.against_any gives it."""
        scores = np.full((2, len(self.column)), NEVER, np.float32)
        begun = np.zeros((2, len(self.column)), np.int32)
        for number, utterance in enumerate(utterances):
            scores[:, self.lasts] = NEVER  # a line that has ended goes on in no other utterance
            for row in range(utterance.first, utterance.last):
                entry = 0.0 if row < utterance.first + AT_START else -WITHIN
                scores, begun = self.stepped(scores, begun, entry, number)
                scores[PHONE] += against[row].take(self.column)
                scores[SILENCE] += against[row, 0]
            yield self.ending(scores, begun)

    def stepped(
        self, scores: np.ndarray, begun: np.ndarray, entry: float, number: int
    ) -> tuple[np.ndarray, np.ndarray]:
        """The best way to each phone and silence one row on, and the utterance in which it began."""
        now, since = scores.copy(), begun.copy()
        for before, cost in ((SILENCE, self.from_silence), (PHONE, self.from_phone)):
            keep_better(now[PHONE, 1:], since[PHONE, 1:], scores[before, :-1] + cost[1:], begun[before, :-1])
        keep_better(now[SILENCE], since[SILENCE], scores[PHONE], begun[PHONE])
        entered = self.starts[now[PHONE, self.starts] < entry]
        now[PHONE, entered], since[PHONE, entered] = entry, number
        return now, since

    def ending(self, scores: np.ndarray, begun: np.ndarray) -> Ending:
        """How well each line ends, with the best ways to its phones and silences."""
        state, lines = scores.argmax(0), np.arange(len(self.counts))
        best, since = scores.max(0), begun[state, np.arange(len(self.line))]
        whole = best[self.lasts]
        best[self.lasts] = NEVER
        # Where it is broken off is where it earns most, not where it is cheapest: one phone always is.
        earned = best + np.float32(EACH) * (np.arange(len(self.line)) - self.starts[self.line] + 1)
        most = np.maximum.reduceat(earned, self.starts) if len(lines) else whole
        places = np.flatnonzero(earned == most[self.line])
        breaks = places[np.searchsorted(self.line[places], lines)]
        return Ending(whole, since[self.lasts], best[breaks], since[breaks], breaks - self.starts + 1)


def keep_better(scores: np.ndarray, begun: np.ndarray, others: np.ndarray, others_begun: np.ndarray) -> None:
    """Puts other ways in place of those that score less."""
    np.copyto(begun, others_begun, where=others > scores)
    np.maximum(scores, others, out=scores)
