"""Which mark of one set answers to which of another: the cheapest alignment of the two sequences.

Reference marks come first everywhere, estimated marks second; an error is estimated minus reference.
"""

from collections.abc import Callable, Sequence

from trackread.core.phones import PHONES, VOWELS
from trackread.labels.marks import Mark

Pair = tuple[Mark, Mark]

MISSING = 1.0
HAIR = 2.0**-30  # a power of two, so that sums stay exact

# Labels for the same sound differ between labellers and dictionaries; two phones of a kind are taken as one sound.
KIND = {symbol: "stop" if kind == "affricate" else kind for symbol, (kind, _, _) in PHONES.items()}


def phone_pairs(reference: Sequence[Mark], estimated: Sequence[Mark]) -> list[Pair]:
    """Pairs of phones of one kind, in order; a phone marked together with the one before it has no start to score."""
    pairs = aligned(reference, estimated, phone_cost)
    return [(a, b) for a, b in pairs if KIND[a.text] == KIND[b.text] and not a.shared and not b.shared]


def phone_cost(a: Mark, b: Mark) -> float:
    if a.text == b.text:
        return 0.0
    return 0.5 if KIND[a.text] == KIND[b.text] else 1.5


def vowel_pairs(pairs: Sequence[Pair]) -> list[Pair]:
    return [pair for pair in pairs if pair[0].text in VOWELS]


def word_pairs(reference: Sequence[Mark], estimated: Sequence[Mark]) -> list[Pair]:
    """Pairs of the same word, spelt alike but for case and punctuation."""
    pairs = aligned(reference, estimated, lambda a, b: 0.0 if letters(a.text) == letters(b.text) else 2.5)
    return [(a, b) for a, b in pairs if letters(a.text) == letters(b.text)]


def letters(word: str) -> str:
    return "".join(c for c in word.lower() if c.isalnum())


def aligned(reference: Sequence[Mark], estimated: Sequence[Mark], cost: Callable[[Mark, Mark], float]) -> list[Pair]:
    """The pairs of the cheapest alignment, where a mark without partner costs MISSING."""
    best = costs_of_starts(reference, estimated, cost)
    pairs: list[Pair] = []
    i, j = len(reference), len(estimated)
    while i and j:
        if best[i][j] == best[i - 1][j - 1] + step_cost(cost, reference[i - 1], estimated[j - 1]):
            i, j = i - 1, j - 1
            pairs.append((reference[i], estimated[j]))
        elif best[i][j] == best[i - 1][j] + MISSING:
            i -= 1
        else:
            j -= 1
    return pairs[::-1]


def costs_of_starts(
    reference: Sequence[Mark], estimated: Sequence[Mark], cost: Callable[[Mark, Mark], float]
) -> list[list[float]]:
    """What it costs at least to align the first i marks with the first j."""
    best = [[MISSING * j for j in range(len(estimated) + 1)]]
    for a in reference:
        above, row = best[-1], [best[-1][0] + MISSING]
        for j, b in enumerate(estimated):
            row.append(min(above[j] + step_cost(cost, a, b), above[j + 1] + MISSING, row[j] + MISSING))
        best.append(row)
    return best


def step_cost(cost: Callable[[Mark, Mark], float], a: Mark, b: Mark) -> float:
    """The cost of a pair; among equally cheap alignments the one with most likely pairs is cheapest by a hair."""
    step = cost(a, b)
    return step - HAIR if step < MISSING else step
