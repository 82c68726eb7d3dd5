"""What has moved, come, gone and been written otherwise in a column of texts, in sentences.

A sentence has the numbers that are printed: of the sheet before for what was, of the sheet after for what is.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from trackread.changes.aligned import Aligned, Told, runs_of
from trackread.changes.columns import Column, Gap, Matched, Pair, frames_of, matches
from trackread.core.sheet import Cell


def column_sentences(both: Aligned, name: str, before: Column, after: Column) -> list[str]:
    """What has changed in a column that is called `name`."""
    return [one.text for one in changes_in(both, name, before, after)[1]]


def changes_in(both: Aligned, name: str, before: Column, after: Column) -> tuple[Matched, list[Told]]:
    """The texts of a column before and after, matched so that fewest words tell what has changed."""
    told = ((found, list(sentences(both, name, found))) for found in matches(both, before, after))
    return min(told, key=lambda one: len(one[1]))


def sentences(both: Aligned, name: str, found: Matched) -> Iterator[Told]:
    """What has changed between matched texts; where a text ends is told only if nothing else explains it."""
    explained: set[int] = set()
    for one in (*moves(both, found.pairs), *spellings(both, found.pairs), *gap_sentences(both, found.gaps)):
        explained |= one.frames
        yield Told(f"{name}: {one.text}", one.frames)
    for pair in found.pairs:
        frames = frozenset(range(*sorted((pair.was.stop, pair.now.stop))))
        if pair.stays and not frames <= explained:
            last, before = both.number_after(pair.now.stop - 1), both.number_before(both.was(pair.was.stop - 1))
            yield Told(f"{name}: {quoted(pair.after)} is held to {last}, before to {before}", frames)


def moves(both: Aligned, pairs: Sequence[Pair]) -> Iterator[Told]:
    """Texts that start elsewhere; those one after another that have moved by as many frames are told at once."""
    for later, run in groupby(pairs, key=lambda pair: later_of(both, pair)):
        moved = [pair for pair in run if not pair.stays]
        if moved and later:
            yield Told(moved_told(both, moved, later), frozenset[int]().union(*(pair.frames for pair in moved)))
            continue
        for pair in moved:
            yield Told(start_told(both, pair), pair.frames)


def later_of(both: Aligned, pair: Pair) -> int:
    """By how many frames a text starts later, as the picture goes; 0 if it stays, or nobody knows where it starts."""
    unknown = pair.before.before or pair.after.before
    return 0 if pair.stays or unknown else pair.after.first - both.now(pair.before.first)


def moved_told(both: Aligned, pairs: Sequence[Pair], later: int) -> str:
    """Texts that have all moved by as many frames; by how many need not be said of one that shows it by its numbers."""
    texts = quoted(*(pair.after for pair in pairs))
    places = f"from {both.number_before(pairs[0].before.first)} to {both.number_after(pairs[0].after.first)}"
    verb = "moves" if len(pairs) == 1 else "move"
    if len(pairs) == 1 and not both.lost:
        return f"{texts} {verb} {places}"
    return f"{texts} {verb} {abs(later)} {'later' if later > 0 else 'earlier'}, {places}"


def start_told(both: Aligned, pair: Pair) -> str:
    """How a text starts otherwise whose start is not on one of the sheets."""
    text, number = quoted(pair.after), both.number_after(pair.after.first)
    if pair.after.before:
        return f"{text} is on {number} without its start now"
    return f"{text} starts on {number} now, before it was there without its start"


def spellings(both: Aligned, pairs: Sequence[Pair]) -> Iterator[Told]:
    """Texts that have the same words, and other signs or capitals."""
    for pair in pairs:
        if pair.before.text != pair.after.text:
            number = both.number_after(pair.after.first)
            yield Told(f"{quoted(pair.after)} on {number} was written {quoted(pair.before)}", pair.frames)


def gap_sentences(both: Aligned, gaps: Sequence[Gap]) -> Iterator[Told]:
    """Texts that have come, and those that have gone."""
    for gap in gaps:
        gone, new = frames_of(*map(both.seen_before, gap.gone)), frames_of(*gap.new)
        if gone and new and min(gone) <= max(new) and min(new) <= max(gone):
            yield Told(replaced_told(both, gap), gone | new)
            continue
        if gone:
            verb, number = "is" if len(gap.gone) == 1 else "are", both.number_before(gap.gone[0].first)
            yield Told(f"{quoted(*gap.gone)} {verb} gone from {number}", gone)
        if new:
            told = "is new on" if len(gap.new) == 1 else "are new from"
            yield Told(f"{quoted(*gap.new)} {told} {both.number_after(gap.new[0].first)}", new)


def replaced_told(both: Aligned, gap: Gap) -> str:
    """Texts that stand in place of others; where those were is said if it is not the same number."""
    now, was = both.number_after(gap.new[0].first), both.number_before(gap.gone[0].first)
    told = f"{quoted(*gap.new)} {'on' if len(gap.new) == 1 else 'from'} {now} in place of {quoted(*gap.gone)}"
    if was == now:
        return told
    return f"{told}, which {'was on' if len(gap.gone) == 1 else 'were from'} {was}"


def quoted(*cells: Cell) -> str:
    """`“step”` for a text, `“Mind” to “step” (3)` for several."""
    if len(cells) == 1:
        return f"“{cells[0].text}”"
    return f"“{cells[0].text}” to “{cells[-1].text}” ({len(cells)})"


def changed_on(both: Aligned, what: str, frames: Sequence[int], explained: frozenset[int]) -> Iterator[Told]:
    """The frames on which something has changed, but for those of which another sentence tells."""
    rest = [frame for frame in frames if frame not in explained]
    if rest:
        ends = ((both.number_after(run.start), both.number_after(run.stop - 1)) for run in runs_of(rest))
        numbers = listed(first if first == last else f"{first} to {last}" for first, last in ends)
        yield Told(f"{what} changed on {numbers}", frozenset(rest))


def listed(parts: Iterable[object]) -> str:
    """`31, 33 and 40`."""
    *some, last = map(str, parts)
    return f"{', '.join(some)} and {last}" if some else last
