"""Which sheets that are out are stale, kept while a server runs: a sheet is compared once for each state it is in.

On a feature a new cut has hundreds of sheets to compare, some seconds of work, and pages ask again and again.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf
from threading import Lock
from time import monotonic

from trackread.book.book import Book
from trackread.book.issues import Issue
from trackread.workflow.causes import history_of
from trackread.workflow.kept_material import Kept, KeptMaterial
from trackread.workflow.stale import StaleSheet, changed_since, gone_from_film

Compared = tuple[object, ...]  # all that the comparison of a sheet with the one that is out depends on
AT_ONCE = 16  # sheets that are compared between two looks at the clock: half a second at most


@dataclass(frozen=True, slots=True)
class FoundStale:
    """The sheets that are stale, in the order of the cut, those of shots that are gone first; `waiting` are the shots
    whose sheets have not been compared yet, and `current` counts those sheets that hold.
    """

    sheets: tuple[StaleSheet, ...]
    current: int
    waiting: tuple[str, ...] = ()


@dataclass(slots=True)
class KeptStale:
    """The stale sheets of a book. May be asked by several threads."""

    book: Book
    material: KeptMaterial
    known: dict[str, tuple[Compared, StaleSheet | None]] = field(default_factory=dict)
    lock: Lock = field(default_factory=Lock)

    def among(self, kept: Kept, some: Sequence[Issue], seconds: float = inf) -> FoundStale:
        """Those of some sheets that are stale. Only those are compared of which something is another than before, and
        after so many seconds no more of them.
        """
        history = history_of(self.book, kept.material)
        told = (kept.numbered.number, len(history.drafts))  # which the causes name
        asked = {one.shot: (told, one.id, *state_of(kept, one.shot)) for one in some if one.shot in kept.shots}
        stop = monotonic() + seconds
        with self.lock:
            new = [one for one in some if one.shot in asked and self.last(one.shot) != asked[one.shot]]
            while new and monotonic() < stop:
                part, new = new[:AT_ONCE], new[AT_ONCE:]
                found = {one.issue.shot: one for one in changed_since(self.book, history, part)}
                self.known |= {one.shot: (asked[one.shot], found.get(one.shot)) for one in part}
            waiting = tuple(one.shot for one in new)
            stale = [self.known[shot][1] for shot in asked.keys() - {*waiting}]
        sheets = (*gone_from_film(history, some), *(one for one in stale if one))
        order = {name: place for place, name in enumerate(kept.shots)}
        ordered = tuple(sorted(sheets, key=lambda one: order.get(one.issue.shot, -1)))
        return FoundStale(ordered, len(some) - len(sheets) - len(waiting), waiting)

    def last(self, shot: str) -> Compared | None:
        """What the sheet of a shot was compared on last."""
        return self.known[shot][0] if shot in self.known else None


def state_of(kept: Kept, shot: str) -> Compared:
    """What the sheet of a shot would rest on, and how much of it is shot."""
    return kept.rests(shot), kept.brief(shot).told.done
