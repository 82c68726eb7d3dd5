"""How alike two lines are, and which of their words differ."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from trackread.core.script import ChangeKind, ScriptLine, WordRuns

# What programs write differently though the writer wrote the same.
SET_ALIKE = str.maketrans({"’": "'", "‘": "'", "“": '"', "”": '"', "…": "...", "\u00ad": None})
WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)*")


def words_as_set(text: str) -> str:
    """The words of a line without what only the typesetting changes: the shape of quotes and dots."""
    return text.translate(SET_ALIKE)


@dataclass(frozen=True, slots=True)
class Bag:
    """The words of a line, whatever their order, case and punctuation."""

    counts: Counter[str]
    size: int


def bag_of(line: ScriptLine) -> Bag:
    words = WORD.findall(words_as_set(line.text).casefold())
    return Bag(Counter(words), len(words))


def likeness(a: Bag, b: Bag) -> float:
    """The part of both lines' words that they share (Dice 1945): 0 to 1."""
    shared = sum(min(count, b.counts[word]) for word, count in a.counts.items() if word in b.counts)
    return 2 * shared / (a.size + b.size) if a.size + b.size else 1.0


def word_runs(before: str, after: str) -> WordRuns:
    """Runs of words that two texts share, that only the first has and that only the second has, in order."""
    a, b = before.split(), after.split()
    matcher = SequenceMatcher(None, list(map(words_as_set, a)), list(map(words_as_set, b)), autojunk=False)
    runs: list[tuple[ChangeKind, str]] = []
    for tag, start, stop, new_start, new_stop in matcher.get_opcodes():
        if tag == "equal":
            runs += run(ChangeKind.SAME, b[new_start:new_stop])
        else:
            runs += run(ChangeKind.GONE, a[start:stop]) + run(ChangeKind.NEW, b[new_start:new_stop])
    return tuple(runs)


def run(kind: ChangeKind, words: Sequence[str]) -> list[tuple[ChangeKind, str]]:
    return [(kind, " ".join(words))] if words else []
