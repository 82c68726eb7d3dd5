"""Texts on frames, before and after, matched by what they say: which have moved, come or gone, in sentences."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import groupby

from trackread.changes.aligned import Aligned
from trackread.core.sheet import Cell


@dataclass(frozen=True, slots=True)
class Pair:
    """A text of both sheets; `later` counts the frames by which it starts later than the ends of the shot explain."""

    before: Cell
    after: Cell
    later: int


@dataclass(frozen=True, slots=True)
class Matched:
    """The texts of two columns: those of both, and those of one alone."""

    pairs: tuple[Pair, ...]
    gone: tuple[Cell, ...]
    new: tuple[Cell, ...]


def matched(both: Aligned, before: Sequence[Cell], after: Sequence[Cell]) -> Matched:
    """The texts of a column before and after, matched in their order."""
    ours, theirs = ([bare(cell.text) for cell in cells] for cells in (before, after))
    blocks = SequenceMatcher(None, ours, theirs, autojunk=False).get_matching_blocks()
    found = [(before[block.a + k], after[block.b + k]) for block in blocks for k in range(block.size)]
    paired = {id(cell) for pair in found for cell in pair}
    return Matched(
        tuple(Pair(was, now, later_of(both, was, now)) for was, now in found),
        tuple(cell for cell in before if id(cell) not in paired),
        tuple(cell for cell in after if id(cell) not in paired),
    )


def later_of(both: Aligned, was: Cell, now: Cell) -> int:
    """How many frames later a text starts; where its start is not on one of the sheets, only if that moved too."""
    first, _ = both.expected(was.first, was.stop)
    if was.before and now.first <= first:
        return 0
    return now.first - first


def cell_sentences(both: Aligned, column: str, before: Sequence[Cell], after: Sequence[Cell]) -> Iterator[str]:
    """What has moved, come and gone in a column."""
    found = matched(both, before, after)
    for later, run in groupby(found.pairs, key=lambda pair: pair.later):
        if later:
            yield f"{column}: {moved(both, list(run))}"
    for pair in found.pairs:
        if not pair.later and (told := held(both, pair)):
            yield f"{column}: {told}"
    for was in found.gone:
        if both.kept.start < was.stop and was.first < both.kept.stop:
            yield f"{column}: “{was.text}” is gone from {both.number_before(was.first)}"
    for now in found.new:
        yield f"{column}: “{now.text}” is new on {both.number_after(now.first)}"


def moved(both: Aligned, pairs: Sequence[Pair]) -> str:
    """Texts, one after another, that have all moved by as many frames."""
    first, last = pairs[0], pairs[-1]
    places = f"from {both.number_before(first.before.first)} to {both.number_after(first.after.first)}"
    if len(pairs) == 1:
        return f"“{first.after.text}” moves {places}"
    later = f"{abs(first.later)} {'later' if first.later > 0 else 'earlier'}"
    return f"“{first.after.text}” to “{last.after.text}” ({len(pairs)}) move {later}, {places}"


def held(both: Aligned, pair: Pair) -> str:
    """How a text that starts where it did ends elsewhere, "" if it ends where it did or gives way to the next one."""
    _, stop = both.expected(pair.before.first, pair.before.stop)
    if pair.after.stop == stop or pair.before.beyond or pair.after.beyond:
        return ""
    last, was = both.number_after(pair.after.stop - 1), both.number_before(pair.before.stop - 1)
    return f"“{pair.after.text}” is held to {last}, before to {was}"


def bare(text: str) -> str:
    """A text without capitals and signs, as two spellings of one word are compared."""
    return "".join(letter for letter in text.casefold() if letter.isalnum()) or text
