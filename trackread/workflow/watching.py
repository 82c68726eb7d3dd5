"""News of the book, whoever makes it: the desk, the floor, or a command beside the server.

A look at the book gives what has been added since the look before, as events in plain values: an issue, frames that
are shot, a take that is another now. What makes sheets stale, or hold again, is looked at apart from that, since it
takes longer.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from trackread.book.book import Book
from trackread.book.issues import Issue, issues
from trackread.book.keys import Ended, ended
from trackread.book.latest import (
    Latest,
    latest,
    notes_after,
    shots_issued_after,
    shots_issued_to,
    takes_corrected_after,
    takes_decided_after,
    takes_read_after,
)
from trackread.book.shot_notes import ShotNote
from trackread.core.plain_cut import shot_from_plain
from trackread.errors import CutError, TrackreadError
from trackread.workflow.desk_take import at_desk
from trackread.workflow.floor import floor_told, issued
from trackread.workflow.kept_material import Kept
from trackread.workflow.kept_sheets import KeptSheets, Overtaken
from trackread.workflow.shot_rests import Rests, rests_from_plain
from trackread.workflow.shot_told import NoteKind


@dataclass(frozen=True, slots=True)
class News:
    """Something that has happened, as plain values. `told_by` are the names of those values that tell it from others
    about the same shot or take.
    """

    kind: str
    value: Mapping[str, object]
    told_by: tuple[str, ...]

    def is_in(self, told: Mapping[str, object]) -> bool:
        """Whether this is what was told already."""
        return all(told.get(name) == self.value[name] for name in self.told_by)


@dataclass(slots=True)
class Watch:
    """Looks at a book again and again; what was there at the first look is no news."""

    book: Book
    seen: Latest | None = None
    known: Ended | None = None

    def look(self) -> tuple[News, ...]:
        """What has been added since the last look."""
        now, before = latest(self.book), self.seen
        found = () if before is None or now == before else tuple(news_between(self.book, before, now))
        self.seen = now
        return found

    def somebody_is_gone(self) -> bool:
        """Whether a key has been revoked since the last time, or somebody has signed out."""
        now, before = ended(self.book), self.known
        self.known = now
        return before not in (None, now)


def news_between(book: Book, before: Latest, now: Latest) -> Iterator[News]:
    """The news of what was added between two looks."""
    if now.issue > before.issue:
        for shot in shots_issued_after(book, before.issue):
            yield issue_news(issues(book, shot=shot)[-1])
    if now.note > before.note:
        for note in notes_after(book, before.note):
            if note.kind == NoteKind.DONE:
                yield done_news(book, note)
    if now.correction > before.correction:
        for name, author in takes_corrected_after(book, before.correction).items():
            yield take_news(name, revision_of(book, name), author)
    if now.decision > before.decision:
        for name, author in takes_decided_after(book, before.decision).items():
            yield take_news(name, "", author)
    if now.reading > before.reading:
        for name in takes_read_after(book, before.reading):
            yield take_news(name, revision_of(book, name), "")


def issue_news(issue: Issue) -> News:
    value = {"kind": "issued", "shot": issue.shot, "issue": issue.number, "unit": issue.unit, "code": issue.code}
    return News("issued", value, ("issue", "code"))


def done_news(book: Book, note: ShotNote) -> News:
    """Frames that are shot: as its sheet counts them, if the shot has one."""
    its = issued(book, note.shot, "")
    shot = shot_from_plain(note.body["shot"])  # type: ignore[arg-type]
    counted = {"shot": note.shot, "done": note.body["frames"], "of": shot.seen, "unit": ""}
    told = floor_told(book, its) if its.issues else counted
    return News("done", {"kind": "done", **told, "by": note.author}, ("done", "of"))


def take_news(name: str, revision: str, author: str) -> News:
    return News("take", {"kind": "take", "name": name, "revision": revision, "by": author}, ("revision",))


def revision_of(book: Book, name: str) -> str:
    """Which revision of a take the desk would be shown, "" if it cannot be shown there."""
    try:
        return at_desk(book, name).revision
    except TrackreadError:
        return ""


@dataclass(slots=True)
class StaleWatch:
    """Looks which sheets that are out have become stale, or hold again; those that were stale at the first look are no
    news. A look compares only those sheets that rest on something else than at the look before.
    """

    sheets: KeptSheets
    seen: Kept | None = None
    rested: dict[str, tuple[int, Rests | None]] = field(default_factory=dict)
    stale: dict[str, Overtaken] = field(default_factory=dict)

    def look(self) -> tuple[News, ...]:
        """Which sheets have become stale, or stale otherwise, or hold again, since the last look."""
        try:
            kept = self.sheets.material.now()
        except CutError:  # while the cut has no shots, nobody can say
            return ()
        if kept is self.seen:
            return ()
        before = self.rested if self.seen else {one.shot: as_issued(one) for one in kept.out.values()}
        rested = {one.shot: (one.id, kept.rests(one.shot)) for one in kept.out.values()}
        found = tuple(self.changes(kept, [one for shot, one in kept.out.items() if rested[shot] != before.get(shot)]))
        is_first, self.seen, self.rested = self.seen is None, kept, rested
        return () if is_first else found

    def changes(self, kept: Kept, some: Iterable[Issue]) -> Iterator[News]:
        """What is news of some sheets that are out."""
        for issue in some:
            now, before = self.sheets.overtaken(kept, issue), self.stale.pop(issue.shot, None)
            if now:
                self.stale[issue.shot] = now
            if now != before:
                kind = "stale" if now else "holds"
                yield News(kind, {"kind": kind, "shot": issue.shot}, ("shot",))


def as_issued(issue: Issue) -> tuple[int, Rests]:
    """An issue, and what its sheet rested on when it was made."""
    return issue.id, rests_from_plain(issue.rests_on)


def shots_of_unit(book: Book, unit: str) -> frozenset[str]:
    """The shots that a unit has, or has had, a sheet of."""
    return shots_issued_to(book, unit)
