"""Where a long session is cut into pieces that are listened through one by one: in its longest rests."""

from collections.abc import Iterator

import numpy as np

from trackread.sessions.hearing import in_db, softest

ROWS = 50  # a second, as levels are counted
LEAST, MOST = 30 * ROWS, 75 * ROWS  # rows of a piece


def piece_edges(loudness: np.ndarray) -> list[int]:
    """The rows at which pieces begin and end, 0 and the last one included; `loudness` of each row, 1 is full scale."""
    levels = in_db(loudness)
    edges = [0]
    quiet = levels <= softest(levels) if len(levels) else np.zeros(0, bool)
    while len(levels) - edges[-1] > MOST:
        first, stop = edges[-1] + LEAST, edges[-1] + MOST
        edges.append(first + middle_of_longest(quiet[first:stop], levels[first:stop]))
    return [*edges, len(levels)]


def middle_of_longest(quiet: np.ndarray, levels: np.ndarray) -> int:
    """The middle of the longest run of quiet rows; the softest row where none is quiet."""
    longest = max(runs_of(quiet), key=lambda run: run[1] - run[0], default=None)
    return int(levels.argmin()) if longest is None else (longest[0] + longest[1]) // 2


def runs_of(flags: np.ndarray) -> Iterator[tuple[int, int]]:
    """The runs of rows that are so, first and stop."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(np.int8), [0]])))
    return zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
