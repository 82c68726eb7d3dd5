"""News of the book, whoever makes it: the desk, the floor, or a command beside the server.

A look at the book gives what has been added since the look before, as events in plain values: an issue, frames that
are shot, a take that is another now. What makes sheets stale is looked at apart from that, since it takes longer.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from trackread.book.book import Book
from trackread.book.issues import Issue, issues
from trackread.book.latest import (
    Latest,
    NewNote,
    latest,
    note_kinds_after,
    notes_after,
    shots_issued_after,
    takes_corrected_after,
    takes_decided_after,
)
from trackread.core.plain_cut import shot_from_plain
from trackread.errors import CutError, TrackreadError
from trackread.workflow.causes import history_of
from trackread.workflow.desk_take import at_desk
from trackread.workflow.floor import floor_told, issued
from trackread.workflow.material import Material, gather
from trackread.workflow.shot_brief import brief_of
from trackread.workflow.shot_rests import Rests, rests_on
from trackread.workflow.shot_told import NoteKind
from trackread.workflow.shots import sheet_wish
from trackread.workflow.stale import changed_since, gone_from_film


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

    def look(self) -> tuple[News, ...]:
        """What has been added since the last look."""
        now, before = latest(self.book), self.seen
        if before is None or now == before:
            self.seen = now
            return ()
        found = tuple(news_between(self.book, before, now))
        self.seen = now
        return found


def news_between(book: Book, before: Latest, now: Latest) -> Iterator[News]:
    """The news of what was added between two looks."""
    if now.issue > before.issue:
        for shot in shots_issued_after(book, before.issue):
            yield issue_news(issues(book, shot=shot)[-1])
    if now.note > before.note:
        for note in notes_after(book, before.note, NoteKind.DONE):
            yield done_news(book, note)
    if now.correction > before.correction:
        for name, author in takes_corrected_after(book, before.correction).items():
            yield take_news(name, revision_of(book, name), author)
    if now.decision > before.decision:
        for name, author in takes_decided_after(book, before.decision).items():
            yield take_news(name, "", author)


def issue_news(issue: Issue) -> News:
    value = {"kind": "issued", "shot": issue.shot, "issue": issue.number, "unit": issue.unit, "code": issue.code}
    return News("issued", value, ("issue", "code"))


def done_news(book: Book, note: NewNote) -> News:
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
    """Looks which sheets that are out have become stale; those that were at the first look are no news.

    A look first asks what each sheet rests on. Only those are made anew, to be compared, of which that is another than
    at the look before, and than when they were issued.
    """

    book: Book
    seen: Latest | None = None
    rested: dict[str, Rests | None] = field(default_factory=dict)

    def look(self) -> tuple[str, ...]:
        """The shots whose sheets have become stale, or stale otherwise, since the last look."""
        now, before = latest(self.book), self.seen
        if before and not may_change_sheets(self.book, before, now):
            return ()
        out = issues(self.book, current=True)
        material = gathered(self.book)
        rests = {one.shot: rests_now(material, one) for one in out}
        moved = [one for one in out if before and rests[one.shot] != self.rested.get(one.shot)]
        self.seen, self.rested = now, rests
        return tuple(stale_among(self.book, material, moved))


def may_change_sheets(book: Book, before: Latest, now: Latest) -> bool:
    """Whether what was added between two looks may change a sheet: all but issues and frames that are shot may."""
    if replace(now, issue=0, note=0) != replace(before, issue=0, note=0):
        return True
    return any(kind != NoteKind.DONE for kind in note_kinds_after(book, before.note))


def gathered(book: Book) -> Material | None:
    """What sheets are made from, None while the cut has no shots."""
    try:
        return gather(book)
    except CutError:
        return None


def rests_now(material: Material | None, issue: Issue) -> Rests | None:
    """What the sheet of an issue's shot would rest on now, None if the shot is not in the cut any more."""
    shot = next((one for one in material.cut.shots if one.name == issue.shot), None) if material else None
    return rests_on(brief_of(material, shot), sheet_wish(material.production)) if material and shot else None


def stale_among(book: Book, material: Material | None, some: Sequence[Issue]) -> Iterator[str]:
    """The shots of those sheets, of some that are out, that are stale."""
    if not some:
        return
    if material is None:
        yield from (one.shot for one in some)
        return
    history = history_of(book, material)
    for one in (*gone_from_film(history, some), *changed_since(book, history, some)):
        yield one.issue.shot


def shots_of_unit(book: Book, unit: str) -> frozenset[str]:
    """The shots that a unit has, or has had, a sheet of."""
    return frozenset(one.shot for one in issues(book) if one.unit == unit)
