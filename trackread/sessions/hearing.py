"""What is heard in a part of a session: how likely each phone is in each row, how loud it is, where somebody speaks.

A row is HOP long. The recogniser's rows come `late` rows after their sound. Levels are in dB, one each row of sound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import PHONES

HOP = 0.020
COLUMNS = {symbol: 1 + place for place, symbol in enumerate(PHONES)}  # column 0 is silence
NEVER = -1e9  # nats of what cannot be
FLOOR = -14.0  # nats; no single row may rule a phone out more than this
NEW_PHONE = 0.7  # nats that a new phone costs the explanation by any phones, which may choose the likeliest of 39

SOFTEST = 1e-9  # silence has no logarithm
REST = 10  # rows of quiet that part two utterances: 0.2 s, shorter than any gap that is left between takes on purpose
LEAST = 3  # rows of an utterance; a click is shorter
BEFORE, AFTER = 6, 8  # rows of the recogniser that go with an utterance beyond its sound: it hears what is soft
ABOVE_ROOM = 8.0  # dB above the room at which a voice is heard
BELOW_LOUDEST = 55.0  # dB below the loudest; what is softer is the room, however quiet the room is
ROOM_SHARE = 15  # percentile of the levels that is the room: actors rest more than they are heard,
SOFT_SHARE, SOFT = 2, 6.0  # and no more than so many dB above this one, where somebody hardly rests


@dataclass(frozen=True, slots=True)
class Hearing:
    """`rows` (rows, 40): log probabilities of silence and the phones of COLUMNS; `levels` (rows,) in dB; `late` rows.

    A row without a number, which no recogniser should give, is one in which anything is as unlikely as FLOOR.
    """

    rows: np.ndarray
    levels: np.ndarray
    late: int

    def against_any(self) -> np.ndarray:
        """The rows beside the best explanation by any phones at all, shape (rows, 40), float32: 0 is as good."""
        rows = np.fmax(self.rows, FLOOR)
        return np.asarray(rows - (rows.max(1) - NEW_PHONE * begins(rows.argmax(1)))[:, None], np.float32)

    def phones_in(self, first: int, stop: int) -> tuple[str, ...]:
        """The phones that win over silence between two rows, repeats taken as one."""
        best = np.fmax(self.rows[first:stop], FLOOR).argmax(1)
        symbols = tuple(PHONES)
        return tuple(symbols[column - 1] for column in best[begins(best)])


def begins(columns: np.ndarray) -> np.ndarray:
    """The rows in which a phone begins, of the columns that win in each; shape (rows,), bool."""
    return np.asarray((columns > 0) & (np.diff(columns, prepend=0) != 0))


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
    soft, room = np.percentile(levels, [SOFT_SHARE, ROOM_SHARE])
    return max(float(min(room, soft + SOFT)) + ABOVE_ROOM, float(levels.max()) - BELOW_LOUDEST)


def with_rows(runs: Sequence[tuple[int, int]], hearing: Hearing) -> list[Utterance]:
    """The runs with the recogniser's rows for them, which reach a little beyond and never into a neighbour's."""
    found: list[Utterance] = []
    for k, (start, stop) in enumerate(runs):
        before = runs[k - 1][1] if k else -len(hearing.rows)
        after = runs[k + 1][0] if k + 1 < len(runs) else 2 * len(hearing.rows)
        first = max(0, start - BEFORE, (before + start) // 2) + hearing.late
        last = min(stop + AFTER, (stop + after) // 2) + hearing.late
        found.append(Utterance(start, stop, min(first, len(hearing.rows)), min(last, len(hearing.rows))))
    return found


def hearing_of(signal: np.ndarray, blank: np.ndarray, phones: np.ndarray, *, row: int, late: int) -> Hearing:
    """A signal of `row` samples a row, and what the recogniser makes of it: log probabilities of silence and phones."""
    rows = signal[: len(signal) // row * row].reshape(-1, row)
    return Hearing(np.column_stack([blank, phones]), in_db(rows.std(1)), late)


def in_db(levels: np.ndarray) -> np.ndarray:
    """Levels of which 1 is full scale, in dB; digital silence is very soft."""
    return np.asarray(20 * np.log10(levels + SOFTEST))
