"""A long take cut into stretches of seconds, each with the words that are said in it.

The aligner's time and memory grow with the square of a take's length, so a long one is cut where the
voice rests. Which words come before a rest is found by laying the phones that the recogniser heard
beside the phones of the line.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from trackread.core.phones import PHONES
from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.recogniser import HOP, LATE, ROW, SYMBOLS, Posteriors
from trackread.reading.sounds import RATE

SHORT = 25.0  # seconds that need no cutting
LEAST, MOST = 6.0, 20.0  # seconds of a stretch, where the words allow

KINDS = np.array([list(dict.fromkeys(kind for kind, _, _ in PHONES.values())).index(PHONES[s][0]) for s in SYMBOLS])
SAME_KIND, OTHER_KIND, SKIPPED = 0.5, 1.2, 0.7  # what a mismatch costs, in the manner of an edit distance


@dataclass(frozen=True, slots=True)
class Span:
    """Samples `start` to `stop` of the signal, and the words `first` to `last` (not included) said there."""

    start: int
    stop: int
    first: int
    last: int


def stretches(signal: np.ndarray, heard: Posteriors, ways: Sequence[tuple[Pronunciation, ...]]) -> list[Span]:
    """The whole take, in order, as one stretch or several; every word is in one of them."""
    if len(signal) <= SHORT * RATE or len(ways) < 2:
        return [Span(0, len(signal), 0, len(ways))]
    begins, ends = word_times(heard, ways)
    cuts = chosen_cuts(begins, ends, len(signal) / RATE)
    edges = [0, *(int(time / HOP) * ROW for _, time in cuts), len(signal)]
    counts = [0, *(word for word, _ in cuts), len(ways)]
    return [Span(*row) for row in zip(edges, edges[1:], counts, counts[1:], strict=False)]


def chosen_cuts(begins: np.ndarray, ends: np.ndarray, seconds: float) -> list[tuple[int, float]]:
    """Where to cut: (index of the word after the cut, time), at the longest rest within each MOST seconds."""
    rests = begins[1:] - ends[:-1]
    middles = (begins[1:] + ends[:-1]) / 2
    cuts: list[tuple[int, float]] = []
    word, time = 0, 0.0
    while seconds - time > MOST:
        later = [k for k in range(word, len(rests)) if middles[k] > time + LEAST]
        if not later:
            break
        # Where nothing is said for long, the next rest is the only place, however far it lies.
        near = [k for k in later if middles[k] < time + MOST] or later[:1]
        chosen = max(near, key=lambda k: rests[k])
        word, time = chosen + 1, float(middles[chosen])
        cuts.append((word, time))
    return cuts


def word_times(heard: Posteriors, ways: Sequence[tuple[Pronunciation, ...]]) -> tuple[np.ndarray, np.ndarray]:
    """Roughly when each word begins and ends, seconds, never going back."""
    phones = [SYMBOLS.index(phone) for word in ways for phone in bare(word[0])]
    words = np.repeat(np.arange(len(ways)), [len(word[0]) for word in ways])
    said, times = heard_phones(heard)
    partner = laid_beside(np.array(phones), said)
    known = partner >= 0
    if not known.any():
        share = np.linspace(0, len(heard.blank) * HOP, len(ways) + 1)
        return share[:-1], share[1:]
    at = np.maximum.accumulate(np.interp(np.arange(len(phones)), np.flatnonzero(known), times[partner[known]]))
    first = np.searchsorted(words, np.arange(len(ways)))
    last = np.searchsorted(words, np.arange(len(ways)), side="right") - 1
    return at[first] - 0.05, at[last] + 0.05


def heard_phones(heard: Posteriors) -> tuple[np.ndarray, np.ndarray]:
    """The phones that win over silence, repeats taken as one: places in SYMBOLS and times in seconds."""
    best = heard.phones.argmax(1)
    best[heard.phones.max(1) < heard.blank] = -1
    new = np.flatnonzero((best >= 0) & (best != np.concatenate([[-1], best[:-1]])))
    return best[new], new * HOP - LATE


def laid_beside(line: np.ndarray, said: np.ndarray) -> np.ndarray:
    """For each phone of the line, the place of the one heard for it, or -1: the cheapest edit path."""
    steps = np.zeros((len(line), len(said) + 1), np.uint8)
    along = np.arange(len(said) + 1) * SKIPPED
    best = along.copy()
    for k, phone in enumerate(line):
        cost = np.where(said == phone, 0.0, np.where(KINDS[said] == KINDS[phone], SAME_KIND, OTHER_KIND))
        match = np.concatenate([[np.inf], best[:-1] + cost])
        entered = np.minimum(match, best + SKIPPED)
        now = np.minimum.accumulate(entered - along) + along
        steps[k] = np.where(now < entered - 1e-9, 2, np.where(match <= best + SKIPPED, 0, 1))
        best = now
    partner = np.full(len(line), -1)
    k, place = len(line) - 1, len(said)
    while k >= 0:
        step = steps[k, place]
        if step == 2:
            place -= 1
            continue
        if step == 0:
            place -= 1
            partner[k] = place if said[place] == line[k] else -1
        k -= 1
    return partner
