"""A column of two sheets: the texts that stand on its rows before and after, matched by what they say.

Texts are taken from the rows and not from the sheet, so that whatever differs on a row is seen here.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import pairwise

from trackread.changes.aligned import Aligned, overlaps
from trackread.core.rows import Held
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame

Column = Sequence[Held | None]
Places = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Pair:
    """A text of both sheets, and as much `was` and `now` of it as is on frames of both, on those of the sheet after."""

    before: Cell
    after: Cell
    was: Cell
    now: Cell

    @property
    def stays(self) -> bool:
        """Whether it starts where it did."""
        return (self.was.first, self.was.before) == (self.now.first, self.now.before)

    @property
    def frames(self) -> frozenset[int]:
        return frames_of(self.was, self.now)


@dataclass(frozen=True, slots=True)
class Gap:
    """Texts between two that are matched: what was there before and is `gone`, and what is `new`."""

    gone: Sequence[Cell]
    new: Sequence[Cell]


@dataclass(frozen=True, slots=True)
class Matched:
    """The texts of a column before and after."""

    pairs: tuple[Pair, ...]
    gaps: tuple[Gap, ...]


def frames_of(*cells: Cell) -> frozenset[int]:
    """All frames that some texts hold."""
    return frozenset(frame for cell in cells for frame in range(cell.first, cell.stop))


def texts_on(column: Column) -> list[Cell]:
    """The texts of a column, no two on one row; one that does not start on its first row began before."""
    found: list[Cell] = []
    first = 0
    for stop, (held, after) in enumerate(pairwise([*column, None]), start=1):
        if held and not (after and after.text == held.text and not after.starts):
            started = column[first]
            found.append(Cell(Frame(first), Frame(stop), held.text, before=not (started and started.starts)))
            first = stop
        elif not held:
            first = stop
    return found


def matches(both: Aligned, before: Column, after: Column) -> tuple[Matched, Matched]:
    """The texts of a column matched in two ways: first those that stand where they stood, or all by their words.

    Of breaths, which are all called the same, those that stay must be found; of a line that is moved, all its words,
    even if one comes to stand where another of the same text stood.
    """
    ours = [cell for cell in texts_on(before) if overlaps(cell, both.kept)]
    theirs = texts_on(after)
    inside = [cell for cell in theirs if overlaps(cell, both.kept_now)]
    head = [cell for cell in theirs if cell.stop <= both.kept_now.start]
    ends = [Gap((), each) for each in (head, theirs[len(head) + len(inside) :]) if each]
    were, are = [both.seen_before(cell) for cell in ours], [both.seen_after(cell) for cell in inside]
    places = {cell: place for place, cell in enumerate(are)}
    staying = [(place, places[cell]) for place, cell in enumerate(were) if cell in places]

    def around(fixed: Sequence[Places]) -> Matched:
        found = sorted([*fixed, *by_words(ours, inside, fixed)])
        pairs = (Pair(ours[a], inside[b], were[a], are[b]) for a, b in found)
        return Matched(tuple(pairs), (*gaps(ours, inside, found), *ends))

    return around(staying), around(())


def stretches(fixed: Sequence[Places], ends: Places) -> Iterator[tuple[slice, slice]]:
    """What lies before, between and behind matched places, in both lists."""
    for (a, b), (c, d) in pairwise([(-1, -1), *fixed, ends]):
        yield slice(a + 1, c), slice(b + 1, d)


def by_words(ours: Sequence[Cell], theirs: Sequence[Cell], fixed: Sequence[Places]) -> Iterator[Places]:
    """Further places of texts that have the same words, in their order, around those that are fixed."""
    for mine, other in stretches(fixed, (len(ours), len(theirs))):
        was, now = ([bare(cell.text) for cell in cells] for cells in (ours[mine], theirs[other]))
        for block in SequenceMatcher(None, was, now, autojunk=False).get_matching_blocks():
            for place in range(block.size):
                yield mine.start + block.a + place, other.start + block.b + place


def gaps(ours: Sequence[Cell], theirs: Sequence[Cell], found: Sequence[Places]) -> Iterator[Gap]:
    """What is between matched texts on either sheet."""
    for mine, other in stretches(found, (len(ours), len(theirs))):
        if ours[mine] or theirs[other]:
            yield Gap(ours[mine], theirs[other])


def bare(text: str) -> str:
    """A text without capitals and signs, as two spellings of one word are compared."""
    return "".join(letter for letter in text.casefold() if letter.isalnum()) or text


def same_words(one: str, other: str) -> bool:
    """Whether two texts have the same words, whatever their signs and capitals."""
    return [bare(word) for word in one.split()] == [bare(word) for word in other.split()]
