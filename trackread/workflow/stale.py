"""Which sheets that are out are stale, from which frame, what has changed on them, and what that costs."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from trackread.book.book import Book
from trackread.book.cuts import cuts
from trackread.book.issues import Issue, issues, snapshots_of
from trackread.changes.sheets import SheetChange, compare_sheets
from trackread.core.production import Production
from trackread.core.work import days
from trackread.errors import BookError
from trackread.workflow.causes import Cause, History, history_of
from trackread.workflow.issued_sheet import IssuedSheet, issued_sheet
from trackread.workflow.made_sheets import made_sheets
from trackread.workflow.material import Material, gather
from trackread.workflow.shot_brief import ShotBrief, brief_of
from trackread.workflow.shot_rests import rests_from_plain, rests_on
from trackread.workflow.shots import sheet_wish

CUT = re.compile("(cut)? ?[0-9]{1,6}", re.IGNORECASE)
AFTER_ALL = "9999"  # later than any time


@dataclass(frozen=True, slots=True)
class Cost:
    """What a change costs: frames that are to be shot again, `more` that were not wanted before, and `lost` ones that
    are shot and no longer in the film; and the days that shooting them takes.
    """

    again: int = 0
    more: int = 0
    lost: int = 0
    days: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class StaleSheet:
    """A sheet that is out and stale. `first` is the number printed beside the frame from which it is.

    `place` is that frame counted from 0, and `done` frames of the shot are shot, as the sheet that is out counts them.
    `gone` says that the shot is no longer in the cut.
    """

    issue: Issue
    first: int
    place: int
    done: int
    told: tuple[str, ...]
    causes: tuple[Cause, ...]
    cost: Cost
    gone: bool = False

    @property
    def is_shot(self) -> bool:
        """Whether the first frame that is another has been shot already."""
        return self.place < self.done


@dataclass(frozen=True, slots=True)
class Stale:
    """All sheets that are stale, in the order of the cut, and how many of those that are out are not."""

    sheets: tuple[StaleSheet, ...]
    current: int

    @property
    def cost(self) -> Cost:
        """The sum of all costs."""
        costs = [one.cost for one in self.sheets]
        return Cost(
            sum(one.again for one in costs),
            sum(one.more for one in costs),
            sum(one.lost for one in costs),
            sum((one.days for one in costs), Fraction(0)),
        )


def stale_sheets(book: Book, *, since: str = "", only: str | None = None) -> Stale:
    """The sheets that are stale by what has changed `since` a time (ISO 8601, a day or more), "" for ever.

    `only` asks for one shot's. Raises CutError if there is no shot.
    """
    out = [issue for issue in issues(book, shot=only, current=True) if issue.current]
    if not out:
        return Stale((), 0)
    material = gather(book)
    history = history_of(book, material)
    found = [*gone_from_film(history, out), *changed_since(book, history, out)]
    order = {shot.name: place for place, shot in enumerate(material.cut.shots)}
    wanted = [one for one in found if not since or any(not cause.time or cause.time >= since for cause in one.causes)]
    return Stale(tuple(sorted(wanted, key=lambda one: order.get(one.issue.shot, -1))), len(out) - len(found))


def gone_from_film(history: History, out: Sequence[Issue]) -> Iterator[StaleSheet]:
    """The sheets of shots that are no longer in the cut: all that was shot of them is lost."""
    material = history.material
    for issue in out:
        if issue.shot not in material.pieces:
            done = done_of(material, issue.shot)
            told = (f"{issue.shot} is not in the cut any more: call the sheet back",)
            causes = tuple(history.since_cut(issue))
            yield StaleSheet(issue, material.production.first_frame, 0, done, told, causes, Cost(lost=done), gone=True)


def done_of(material: Material, shot: str) -> int:
    """The frames that were told to be shot of a shot that is no longer there."""
    note = material.notes.get(shot, {}).get("done")
    return int(str(note.body["frames"])) if note else 0


def changed_since(book: Book, history: History, out: Sequence[Issue]) -> Iterator[StaleSheet]:
    """The sheets that would be others now. Only those are made anew that rest on something else than they did."""
    material, wish = history.material, sheet_wish(book.production)
    shots = {shot.name: shot for shot in material.cut.shots}
    briefs = [(issue, brief_of(material, shots[issue.shot])) for issue in out if issue.shot in shots]
    doubted = [
        (issue, brief, now)
        for issue, brief in briefs
        if rests_from_plain(issue.rests_on) != (now := rests_on(brief, wish))
    ]
    made = made_sheets(book, [brief for _, brief, _ in doubted], wish)
    frozen = snapshots_of(book, [issue for issue, _, _ in doubted])
    for (issue, brief, now), (_, after), plain in zip(doubted, made, frozen, strict=True):
        before = issued_sheet(plain)
        change = compare_sheets(before.sheet, after, before.head_lost(brief.shot))
        if change.stale:
            causes = tuple(history.causes(issue, brief, now))
            yield stale_sheet(material.production, issue, (before, brief), change, causes)


def stale_sheet(
    production: Production,
    issue: Issue,
    sheets: tuple[IssuedSheet, ShotBrief],
    change: SheetChange,
    causes: tuple[Cause, ...],
) -> StaleSheet:
    """A stale sheet with what it costs."""
    before, brief = sheets
    done = 0 if brief.told.done is None else max(0, brief.told.done + change.lost)
    return StaleSheet(
        issue=issue,
        first=before.sheet.first_number + (change.first or 0),
        place=change.first or 0,
        done=done,
        told=change.told,
        causes=causes,
        cost=cost_of(change, done, before.sheet.length, brief, production),
    )


def cost_of(change: SheetChange, done: int, length: int, brief: ShotBrief, production: Production) -> Cost:
    """What a change costs where `done` frames of the sheet that is out, `length` frames long, are shot.

    A puppet is animated from frame to frame, so from the first frame that is to be another all that is shot is shot
    again; but what is cut off the ends is only lost.
    """
    end, head = length + min(0, change.tail), max(0, change.lost)
    again = 0 if change.redo is None else max(0, min(done, end) - max(change.redo, head))
    lost = min(done, head) + max(0, done - end)
    more = max(0, -change.lost) + max(0, change.tail)
    return Cost(again, more, lost, days(again + more, production.rate, len(brief.puppets), production.work))


def since_time(book: Book, since: str) -> str:
    """The time from which changes are meant, by a day (2026-11-25) or the number of a cut; "" for ever.

    Raises BookError for what is neither.
    """
    text = since.strip()
    if CUT.fullmatch(text):
        number = int(text.casefold().removeprefix("cut"))
        times = {cut.number: cut.added for cut in cuts(book)}
        if number not in times:
            raise BookError(f"there is no cut {number}: `trackread cut list` lists them")
        return times.get(number + 1, AFTER_ALL)
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError as error:
        raise BookError(f"{since!r} is neither a day (2026-11-25) nor a cut (cut 4)") from error


def plain_stale(found: Stale) -> dict[str, object]:
    """Stale sheets as plain values, for JSON."""
    return {
        "current": found.current,
        "stale": [plain_sheet(one) for one in found.sheets],
        "cost": plain_cost(found.cost),
    }


def plain_sheet(one: StaleSheet) -> dict[str, object]:
    """A stale sheet as plain values."""
    issue = one.issue
    return {
        "shot": issue.shot,
        "issue": issue.number,
        "unit": issue.unit,
        "code": issue.code,
        "gone": one.gone,
        "from_frame": one.first,
        "frames_shot": one.done,
        "is_shot": one.is_shot,
        "rows": list(one.told),
        "causes": [{"what": cause.told, "time": cause.time} for cause in one.causes],
        "cost": plain_cost(one.cost),
    }


def plain_cost(cost: Cost) -> dict[str, object]:
    return {"shoot_again": cost.again, "shoot_more": cost.more, "shot_in_vain": cost.lost, "days": float(cost.days)}
