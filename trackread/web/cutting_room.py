"""The cut at the desk: its shots, their sheets, what is stale; sheets issued, and lines placed by hand.

Editors may do all of it, the office may look; units have the floor. Who writes names what was seen (If-Match): the
states of the shots to issue a sheet, the number of the cut to place something. 412 tells both versions.
"""

from dataclasses import dataclass
from datetime import date
from typing import cast

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from trackread.errors import BookError, ClashError
from trackread.web.answers import answer, refused, revision_asked
from trackread.web.floor import sheets_of
from trackread.web.known import unless_known
from trackread.web.pages import page
from trackread.web.posted import Posted, values_posted, with_body
from trackread.web.visitors import Role, may, visitor_of
from trackread.workflow.desk_cut import may_be_placed, name_in, plain_cut, plain_one, plain_shot, plain_stale, state_of
from trackread.workflow.desk_issuing import AT_ONCE, ToIssue, issue_seen, others_now, to_issue
from trackread.workflow.desk_placing import asked_by_hand, change_at_desk, cuts_since
from trackread.workflow.desk_sheets import ShownSheet, ShownSheets
from trackread.workflow.issuing import IssueWish, plain_issue
from trackread.workflow.kept_material import Kept
from trackread.workflow.kept_stale import KeptStale
from trackread.workflow.watching import issue_news

LONGEST = 9  # digits of a number that is looked at
PATIENCE = 1.0  # seconds after which a page is told what has been compared by then
SEEN = {
    "issue": "say which states of the shots you have seen: If-Match with the state of each, joined by points",
    "cut": "say which cut you have seen: If-Match with the ETag of the cut",
}

readers = may(Role.EDITOR, Role.OFFICE)
editors = may(Role.EDITOR)


@readers
def cut_page(request: Request) -> Response:
    """The cut down the page, which its script fills."""
    return page(request, "cut.html", may_write=may_write(request), at_once=AT_ONCE)


@readers
def shot_page(request: Request) -> Response:
    """One shot: its sheet, what has changed on it, what is placed in it."""
    name = name_in(seen_now(request), shot_of(request))
    return page(request, "cut_shot.html", shot=name, may_write=may_write(request), at_once=AT_ONCE)


@readers
def cut(request: Request) -> Response:
    """All shots, in the order of the film."""
    seen = seen_now(request)
    return answer(plain_cut(seen), revision=str(seen.material.number))


@readers
def stale(request: Request) -> Response:
    """The sheets that are stale, and the shots whose sheets are still to be compared: ask again for those."""
    seen = seen_now(request)
    return answer(plain_stale(kept(request).stale.among(seen, tuple(seen.out.values()), PATIENCE)))


@readers
def one_shot(request: Request) -> Response:
    """A shot alone, with its issues."""
    seen = seen_now(request)
    name = name_in(seen, shot_of(request))
    return answer(plain_one(kept(request).stale, seen, name), revision=state_of(seen, name))


@readers
def choices(request: Request) -> Response:
    """The lines that may be placed: those with some words, or those of a shot's scene that play nowhere."""
    asked = request.query_params
    return answer({"lines": may_be_placed(seen_now(request), asked.get("find", ""), asked.get("shot", ""))})


@readers
def sheet(request: Request) -> Response:
    """The sheet as a PDF, to be printed."""
    shown = sheet_asked(request)
    return unless_known(request, shown.tag, lambda: shown.pdf, "application/pdf", shown.name)


@readers
def pages(request: Request) -> Response:
    """How many pages the sheet has."""
    shown = sheet_asked(request)
    return answer({"pages": shown.pages}, revision=shown.tag)


@readers
def picture(request: Request) -> Response:
    """A page of the sheet as a picture."""
    shown, number = sheet_asked(request), int(request.path_params["number"])
    return unless_known(request, f"{shown.tag}-{number}", lambda: shown.picture(number), "image/png")


@editors
def change_by_hand(request: Request) -> Response:
    """Places something, takes it away, makes, trims or removes a shot, on the cut that was seen."""
    book, revision, author = request.app.state.book, revision_asked(request), author_of(request)
    if revision is None:
        return refused(request, 428, SEEN["cut"])
    seen = whole_number(revision, "the cut that was seen")
    asked = asked_by_hand(book, values_posted(request), author)
    try:
        made = change_at_desk(book, asked, author, seen)
    except ClashError as clash:
        theirs = cuts_since(book, seen)
        return refused(request, 412, str(clash), yours={"words": asked.words, "number": seen}, theirs=theirs)
    told = {"kind": "cut", "number": made.number, "words": made.words, "by": author}
    request.app.state.live.tell("cut", told)
    return answer({"number": made.number, "words": made.words, "remarks": made.remarks}, revision=str(made.number))


@editors
def issue(request: Request) -> Response:
    """Issues the sheets of some shots as they were seen, and tells the floor at once."""
    book, revision, asked = request.app.state.book, revision_asked(request), values_posted(request)
    if revision is None:
        return refused(request, 428, SEEN["issue"])
    wish = wish_in(asked)
    seen = seen_now(request)
    wanted = to_issue(seen, shots_in(asked), revision)
    try:
        given = issue_seen(book, seen, wanted, wish, author_of(request))
    except ClashError as clash:
        return issue_clash(request, clash, wanted, revision)
    for one in given:
        if not one.again:
            request.app.state.live.tell("issued", issue_news(one.issue).value)
    return answer({"given": [{**plain_issue(one.issue), "again": one.again} for one in given]})


def issue_clash(request: Request, clash: ClashError, wanted: ToIssue, revision: str) -> Response:
    """Both versions: the states that were seen, and the shots that are others as they are now."""
    now = seen_now(request)
    theirs = [plain_shot(now, now.brief(shot)) for shot in others_now(now, wanted) if shot in now.shots]
    yours = {"shots": wanted.shots, "revision": revision}
    return refused(request, 412, str(clash), yours=yours, theirs=theirs)


def wish_in(asked: Posted) -> IssueWish:
    """What is said of the issues; their day is today. Raises BookError for what is no text."""
    unit, reason = asked.get("unit", ""), asked.get("reason", "")
    if not isinstance(unit, str) or not isinstance(reason, str):
        raise BookError("unit and reason are said in words")
    return IssueWish(unit.strip(), reason.strip(), date.today())


def shots_in(asked: Posted) -> list[str]:
    """The shots that are named. Raises BookError unless they are a list of names, each once."""
    shots = asked.get("shots")
    if not isinstance(shots, list) or not all(isinstance(one, str) for one in shots) or len({*shots}) < len(shots):
        raise BookError('shots are named in a list, each once: {"shots": ["SH010"]}')
    return shots


def sheet_asked(request: Request) -> ShownSheet:
    """The sheet of the shot: the issue that is asked for, or as it would be printed now."""
    number, seen = request.query_params.get("issue"), seen_now(request)
    name = name_in(seen, shot_of(request))
    if number is None:
        return kept(request).sheets.now(seen, name)
    return kept(request).sheets.issued(name, whole_number(number, "issue"))


def whole_number(text: str, what: str) -> int:
    """A number as it is asked for. Raises BookError if it is none."""
    if not (text.isascii() and text.isdigit() and len(text) <= LONGEST):
        raise BookError(f"{what} is {text!r}: say a whole number")
    return int(text)


def shot_of(request: Request) -> str:
    return str(request.path_params["shot"])


def author_of(request: Request) -> str:
    visitor = visitor_of(request)
    return visitor.name if visitor else ""


def may_write(request: Request) -> bool:
    visitor = visitor_of(request)
    return visitor is not None and visitor.role is Role.EDITOR


def seen_now(request: Request) -> Kept:
    """The cut as it is now, with all that its sheets are made from. Raises CutError if it has no shot."""
    return kept(request).stale.material.now()


@dataclass(frozen=True, slots=True)
class CuttingRoom:
    """What is kept beside the book that the server has open."""

    stale: KeptStale
    sheets: ShownSheets


def kept(request: Request) -> CuttingRoom:
    state = request.app.state
    if not hasattr(state, "cutting_room"):
        state.cutting_room = CuttingRoom(KeptStale(state.book, sheets_of(request).material), ShownSheets(state.book))
    return cast(CuttingRoom, state.cutting_room)


SHOT = "/api/cut/shots/{shot:path}"  # a shot's code may have any signs in it
routes: list[BaseRoute] = [
    Route("/desk/cut", cut_page),
    Route("/desk/cut/{shot:path}", shot_page),
    Route("/api/cut", cut),
    Route("/api/cut", with_body(change_by_hand), methods=["POST"]),
    Route("/api/cut/choices", choices),
    Route(f"{SHOT}/sheet", sheet),
    Route(f"{SHOT}/pages", pages),
    Route(f"{SHOT}/pages/{{number:int}}", picture),
    Route(SHOT, one_shot),
    Route("/api/stale", stale),
    Route("/api/issue", with_body(issue), methods=["POST"]),
]
