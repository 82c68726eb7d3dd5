"""Sheets given out: frozen, numbered and coded."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from trackread.book.book import Book
from trackread.book.issues import Issue, NewIssue, add_issues, issue_with_code, issues, pdf_of
from trackread.errors import BookError
from trackread.workflow.causes import OF_CUT
from trackread.workflow.drawing import Drawn, Frozen, Wanted
from trackread.workflow.issued_sheet import frozen_sheet
from trackread.workflow.issued_shots import plain_issued
from trackread.workflow.material import Material
from trackread.workflow.printed_sheets import drawn_sheets, paper_wish
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_rests import rests_from_plain, rests_on
from trackread.workflow.shot_sheet import SheetWish
from trackread.workflow.shots import sheet_wish
from trackread.workflow.typed import typed
from trackread.workflow.workers import Workers

IN_ONE_GO = 64  # issues that are kept at once


@dataclass(frozen=True, slots=True)
class IssueWish:
    """What a person says of the issues: for which unit, "" for the one before, why, and on which day."""

    unit: str
    reason: str
    day: date


@dataclass(frozen=True, slots=True)
class Given:
    """A sheet that is out: the issue, its whole PDF, and that of the pages which differ from the issue before.

    `again` says that nothing has changed since it was made, so that there is no new one.
    """

    issue: Issue
    pdf: bytes
    changed: bytes
    again: bool


def give_out(
    book: Book,
    material: Material,
    briefs: Sequence[ShotBrief],
    wish: IssueWish,
    *,
    author: str,
    workers: Workers | None,
) -> Iterator[Given]:
    """Issues the sheets of some shots, and gives each as it is kept; one that has not changed is given as it was.

    Raises BookError where a shot was never issued and no unit is said, and ClashError.
    """
    sheets = sheet_wish(book.production)
    wanted, same = sorted_out(briefs, wish, sheets, {issue.shot: issue for issue in issues(book, current=True)})
    yield from (as_it_was(book, issue) for issue in same)
    waiting: list[Drawn] = []
    for one in drawn_sheets(book, wanted, sheets, paper_wish(book.production), workers=workers):
        former = one.wanted.frozen.former if one.wanted.frozen else None
        if one.same and former:
            yield as_it_was(book, former)
            continue
        waiting.append(one)
        if len(waiting) == IN_ONE_GO:
            yield from kept(book, [new_issue(each, material.number, wish, sheets) for each in waiting], waiting, author)
            waiting = []
    yield from kept(book, [new_issue(each, material.number, wish, sheets) for each in waiting], waiting, author)


def as_it_was(book: Book, issue: Issue) -> Given:
    """An issue that is out, given once more."""
    return Given(issue, pdf_of(book, issue), b"", again=True)


def sorted_out(
    briefs: Sequence[ShotBrief], wish: IssueWish, sheets: SheetWish, former: Mapping[str, Issue]
) -> tuple[list[Wanted], list[Issue]]:
    """The shots that may want a new issue, and the issues that are out of those that rest on what they did."""
    unit = typed(wish.unit, "the unit") if wish.unit else ""
    homeless = [brief.shot.name for brief in briefs if not unit and brief.shot.name not in former]
    if homeless:
        raise BookError(f"{', '.join(homeless)}: never issued before: say for which unit, with --unit")
    wanted, same = [], []
    for brief in briefs:
        last = former.get(brief.shot.name)
        if last and unit in ("", last.unit) and rests_from_plain(last.rests_on) == rests_on(brief, sheets):
            same.append(last)
        else:
            number, its_unit = (last.number + 1, unit or last.unit) if last else (1, unit)
            wanted.append(Wanted(brief, Frozen(number, its_unit, wish.day.isoformat(), last)))
    return wanted, same


def kept(book: Book, new: Sequence[NewIssue], drawn: Sequence[Drawn], author: str) -> Iterator[Given]:
    """Issues that have been drawn, kept in the book."""
    add_issues(book, new, author)
    for one, its in zip(drawn, new, strict=True):
        yield Given(issue_coded(book, its.code), one.pdf, one.changed, again=False)


def new_issue(one: Drawn, cut: int, wish: IssueWish, sheets: SheetWish) -> NewIssue:
    """What the book keeps of a sheet that was drawn as an issue."""
    frozen, brief = one.wanted.frozen, one.wanted.brief
    if frozen is None:
        raise ValueError(f"{brief.shot.name} was not drawn as an issue")
    return NewIssue(
        shot=brief.shot.name,
        number=frozen.number,
        code=one.code,
        unit=frozen.unit,
        reason=wish.reason,
        date=frozen.date,
        rests_on={**rests_on(brief, sheets).plain(), OF_CUT: cut, **plain_issued(brief.shot, brief.beat)},
        snapshot=frozen_sheet(one.plain, brief.shot, cut),
        pdf=one.pdf,
    )


def issue_coded(book: Book, code: str) -> Issue:
    """The issue of a code. Raises BookError if no sheet of this production has it."""
    issue = issue_with_code(book, code)
    if issue is None:
        raise BookError(f"{code} is no sheet of {book.production.title}: is it another production's?")
    return issue


def issued_sheets(book: Book, shot: str | None, *, replaced: bool) -> tuple[Issue, ...]:
    """The sheets that are out, of a shot if one is named, with those that have been `replaced` if they are wanted.

    Raises BookError for a shot of which none was ever issued.
    """
    every = issues(book)
    if shot is not None:
        every = tuple(one for one in every if one.shot.casefold() == shot.strip().casefold())
        if not every:
            raise BookError(f"no sheet of {shot!r} has ever been issued: `trackread issued` lists those that have")
    return tuple(one for one in every if replaced or one.current)


def plain_issue(issue: Issue) -> dict[str, object]:
    """What is known of an issue, as plain values."""
    return {
        "shot": issue.shot,
        "issue": issue.number,
        "code": issue.code,
        "unit": issue.unit,
        "date": issue.date,
        "by": issue.author,
        "reason": issue.reason,
        "current": issue.current,
    }
