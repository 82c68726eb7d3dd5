"""What is heard in a part of a session: how likely each phone is in each row, how loud it is, where somebody speaks.

A row is HOP long. The recogniser's rows come `late` rows after their sound. Levels are in dB, one each row of sound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import PHONES

HOP = 0.020
COLUMNS = {symbol: 1 + place for place, symbol in enumerate(PHONES)}  # column 0 is silence
FLOOR = -14.0  # nats; no single row may rule a phone out more than this
NEW_PHONE = 0.7  # nats that a new phone costs the explanation by any phones, which may choose the likeliest of 39

REST = 10  # rows of quiet that part two utterances: 0.2 s, shorter than any gap that is left between takes on purpose
LEAST = 3  # rows of an utterance; a click is shorter
ABOVE_ROOM = 8.0  # dB above the room at which a voice is heard
BELOW_LOUDEST = 55.0  # dB below the loudest; what is softer is the room, however quiet the room is
ROOM_SHARE = 15  # percentile of the levels that is the room: actors rest more than they are heard


@dataclass(frozen=True, slots=True)
class Hearing:
    """`rows` (rows, 40): log probabilities of silence and the phones of COLUMNS; `levels` (rows,) in dB; `late` rows."""

    rows: np.ndarray
    levels: np.ndarray
    late: int

    def against_any(self) -> np.ndarray:
        """The rows beside the best explanation by any phones at all, shape (rows, 40), float32: 0 is as good."""
        rows = np.maximum(self.rows, FLOOR)
        phone = 1 + rows[:, 1:].argmax(1)
        phone[rows[:, 1:].max(1) <= rows[:, 0]] = 0
        new = (phone > 0) & (phone != np.concatenate([[0], phone[:-1]]))
        return np.asarray(rows - (rows.max(1) - NEW_PHONE * new)[:, None], np.float32)

    def phones_in(self, first: int, stop: int) -> tuple[str, ...]:
        """The phones that win over silence between two rows, repeats taken as one."""
        part = self.rows[first:stop]
        best = part[:, 1:].argmax(1)
        best[part[:, 1:].max(1) <= part[:, 0]] = -1
        new = np.flatnonzero((best >= 0) & (best != np.concatenate([[-1], best[:-1]])))
        symbols = tuple(PHONES)
        return tuple(symbols[best[row]] for row in new)


@dataclass(frozen=True, slots=True)
class Utterance:
    """Rows of sound `start` to `stop` in which a voice goes on without a rest, and the recogniser's rows for them."""

    start: int
    stop: int
    first: int
    last: int


def utterances_in(hearing: Hearing) -> tuple[Utterance, ...]:
    """Where somebody speaks, in order."""
    return tuple(with_rows(spoken_runs(hearing.levels), hearing))


def spoken_runs(levels: np.ndarray) -> list[tuple[int, int]]:
    """Runs of rows that are louder than the room, rests of fewer than REST rows bridged."""
    if not len(levels):
        return []
    least = softest(levels)
    runs: list[list[int]] = []
    for row in np.flatnonzero(levels > least):
        if runs and row - runs[-1][1] < REST:
            runs[-1][1] = int(row) + 1
        else:
            runs.append([int(row), int(row) + 1])
    return [(start, stop) for start, stop in runs if stop - start >= LEAST]


def softest(levels: np.ndarray) -> float:
    """The level from which it is a voice and no longer the room, in dB."""
    return max(float(np.percentile(levels, ROOM_SHARE)) + ABOVE_ROOM, float(levels.max()) - BELOW_LOUDEST)


def with_rows(runs: Sequence[tuple[int, int]], hearing: Hearing) -> list[Utterance]:
    """The runs with the recogniser's rows for them, which reach a little beyond and never into a neighbour's."""
    found: list[Utterance] = []
    for k, (start, stop) in enumerate(runs):
        before = runs[k - 1][1] if k else -len(hearing.rows)
        after = runs[k + 1][0] if k + 1 < len(runs) else 2 * len(hearing.rows)
        first = max(0, start - 6, (before + start) // 2) + hearing.late
        last = min(stop + 8, (stop + after) // 2) + hearing.late
        found.append(Utterance(start, stop, min(first, len(hearing.rows)), min(last, len(hearing.rows))))
    return found
