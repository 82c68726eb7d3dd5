"""Which line of one draft is which of the next: the same words first, then very alike ones of the same character.

Positions count from 0. Equal lines are found by their words, so a draft is never compared line by line with another:
alike ones are looked for near where the line should stand, and elsewhere only among lines that share a rare word.
"""

from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

from trackread.core.script import ScriptLine, speaker_of
from trackread.script.alike import Bag, bag_of, likeness, words_as_set

Pairs = dict[int, int]  # a position in the draft after, and in the draft before

ALIKE = 0.5  # near where it stood, a line may change half of its words and still be itself
VERY_ALIKE = 0.75  # elsewhere more must be left of it,
ENOUGH_WORDS = 4  # and it must be long enough not to be anybody's
PLACE = 0.15  # what the right place weighs against likeness
NEAR = 24  # lines from where it should stand, going by the known lines above and below it
RARE_WORDS = 4  # of a line, by which those alike are looked for
COMMONEST = 40  # lines that may share a word for it to be rare


def pairs_of(before: Sequence[ScriptLine], after: Sequence[ScriptLine]) -> Pairs:
    """Each line of the draft after that was in the draft before, and where it was; each at most once."""
    equal = equal_pairs(before, after)
    anchors = anchors_of(equal)
    repeated = repeated_lines(before) | repeated_lines(after)
    # A `Yes.` of many that is found elsewhere is another `Yes.`, unless its neighbours came with it.
    pairs = {j: i for j, i in equal.items() if j in anchors or line_key(after[j]) not in repeated}
    taken = set(pairs.values())
    for one in sorted(alike_pairs(before, after, pairs)):
        if one.after not in pairs and one.before not in taken:
            pairs[one.after] = one.before
            taken.add(one.before)
    return pairs


def equal_pairs(before: Sequence[ScriptLine], after: Sequence[ScriptLine]) -> Pairs:
    """Lines with the same words: first those whose neighbours are the same too, so that each `Yes.` keeps its place."""
    pairs: Pairs = {}
    for keys_before, keys_after in zip(keys_of(before), keys_of(after), strict=True):
        taken = set(pairs.values())
        waiting: dict[Hashable, list[int]] = defaultdict(list)
        for i in reversed(range(len(before))):
            if i not in taken:
                waiting[keys_before[i]].append(i)
        for j, key in enumerate(keys_after):
            if j not in pairs and waiting.get(key):
                pairs[j] = waiting[key].pop()
    return pairs


def keys_of(draft: Sequence[ScriptLine]) -> list[list[Hashable]]:
    """What equal lines share, five times: the words with ever less of what stands around them."""
    words = [line_key(line) for line in draft]
    former, latter = [None, *words[:-1]], [*words[1:], None]
    scenes = [line.scene for line in draft]
    return [
        list(zip(former, words, latter, strict=True)),
        list(zip(former, words, strict=True)),
        list(zip(words, latter, strict=True)),
        list(zip(scenes, words, strict=True)),
        list(words),
    ]


def line_key(line: ScriptLine) -> tuple[str, str]:
    return speaker_of(line.character), words_as_set(line.text)


def repeated_lines(draft: Sequence[ScriptLine]) -> set[tuple[str, str]]:
    """Short lines that a character says more than once."""
    counts = Counter(line_key(line) for line in draft if bag_of(line).size < ENOUGH_WORDS)
    return {key for key, count in counts.items() if count > 1}


def anchors_of(pairs: Pairs) -> set[int]:
    """The positions after of pairs that tell where lines between them belong: in order, or moved with a neighbour."""
    with_former = {j for j, i in pairs.items() if pairs.get(j - 1) == i - 1}
    return in_order(pairs) | with_former | {j - 1 for j in with_former}


def in_order(pairs: Pairs) -> set[int]:
    """The positions after of the most pairs that stand in the same order in both drafts; the others have moved.

    The longest increasing subsequence, found by Schensted's way (1961).
    """
    ends: list[int] = []  # the lowest position before that a row of this length can end with,
    lasts: list[int] = []  # the position after of that one,
    formers: dict[int, int | None] = {}  # and for each pair the one before it in its row
    for j in sorted(pairs):
        length = bisect_left(ends, pairs[j])
        formers[j] = lasts[length - 1] if length else None
        ends[length : length + 1], lasts[length : length + 1] = [pairs[j]], [j]
    kept: set[int] = set()
    last = lasts[-1] if lasts else None
    while last is not None:
        kept.add(last)
        last = formers[last]
    return kept


@dataclass(frozen=True, slots=True, order=True)
class Alike:
    """Two lines that may be one: the best comes first."""

    unlikeness: float
    distance: int
    after: int
    before: int


def alike_pairs(before: Sequence[ScriptLine], after: Sequence[ScriptLine], pairs: Pairs) -> Iterator[Alike]:
    """Lines of one character that share so many words that they may be one."""
    taken = set(pairs.values())
    left = Left({i: bag_of(line) for i, line in enumerate(before) if i not in taken}, before)
    anchors = [(-1, -1), *sorted((j, pairs[j]) for j in anchors_of(pairs)), (len(after), len(before))]
    for j, line in enumerate(after):
        if j in pairs:
            continue
        bag, speaker = bag_of(line), speaker_of(line.character)
        k = bisect_left(anchors, (j,))
        for neighbour, place in anchors[k - 1 : k + 1]:
            expected = place + j - neighbour
            for i in left.between(speaker, expected - NEAR, expected + NEAR):
                if (alike := likeness(left.bags[i], bag)) >= ALIKE:
                    yield Alike(-alike - PLACE, abs(i - expected), j, i)
        for i in left.sharing(speaker, bag):
            if (alike := likeness(left.bags[i], bag)) >= VERY_ALIKE:
                yield Alike(-alike, len(before), j, i)


class Left:
    """Lines of the draft before that have no partner yet, by character, place and word."""

    def __init__(self, bags: dict[int, Bag], before: Sequence[ScriptLine]) -> None:
        self.bags = bags
        self.places: dict[str, list[int]] = defaultdict(list)
        self.by_word: dict[tuple[str, str], list[int]] = defaultdict(list)
        for i, bag in bags.items():
            speaker = speaker_of(before[i].character)
            self.places[speaker].append(i)
            for word in bag.counts:
                self.by_word[speaker, word].append(i)

    def between(self, speaker: str, first: int, last: int) -> list[int]:
        """Those of a character from one place to another."""
        places = self.places.get(speaker, [])
        return places[bisect_left(places, first) : bisect_right(places, last)]

    def sharing(self, speaker: str, bag: Bag) -> list[int]:
        """Those of a character that have one of the rarest words of a line; of a short line none."""
        if bag.size < ENOUGH_WORDS:
            return []
        shared = sorted((self.by_word.get((speaker, word), []) for word in bag.counts), key=len)
        rarest = [places for places in shared if 0 < len(places) <= COMMONEST][:RARE_WORDS]
        return sorted({i for places in rarest for i in places})
