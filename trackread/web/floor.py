"""The floor: the page beside the puppet, with a unit's sheets, their sound and mouths, and the frames that are shot.

A unit sees the shots that it has, or has had, a sheet of; others are refused (403). Frames are told as counts, each
with an id that its page made: one that comes a second time is answered as it was the first time.
"""

from collections.abc import Callable
from typing import cast

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from trackread.errors import BookError
from trackread.web.answers import answer, refused
from trackread.web.known import unless_known
from trackread.web.pages import page
from trackread.web.posted import values_posted, with_body
from trackread.web.sound import sound_answer
from trackread.web.visitors import Role, may, visitor_of
from trackread.workflow.floor import (
    SeenShot,
    floor_counts,
    floor_sheet,
    floor_shots,
    floor_sound,
    floor_told,
    issued,
    mouth_picture,
    plain_shots,
    tell_floor,
    which_on,
)
from trackread.workflow.kept_material import KeptMaterial
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.which_sheet import Which, plain_which, which

MOST_COUNTS = 2**20  # bytes: a tablet that was away for a day has told some hundred counts of a hundred bytes each
MOST_PICTURE = 8 * 2**20

Shown = Callable[[Request, SeenShot], Response]
Endpoint = Callable[[Request], Response]
readers = may(Role.EDITOR, Role.UNIT, Role.OFFICE)
shooters = may(Role.EDITOR, Role.UNIT)


@shooters
def floor_page(request: Request) -> Response:
    """The unit's shots."""
    shots = floor_shots(sheets_of(request), unit_of(request))
    return page(request, "floor.html", shots=plain_shots(shots))


def shot_page(request: Request, its: SeenShot) -> Response:
    """The sheet of a shot, to be shot from; its rows are asked for by the page."""
    return page(request, "floor_shot.html", shot=its.issues[-1].shot)


@readers
def shots_list(request: Request) -> Response:
    return answer({"shots": plain_shots(floor_shots(sheets_of(request), unit_of(request)))})


def sheet(request: Request, its: SeenShot) -> Response:
    """A sheet as it was issued, and whether it still holds; the newest, or the one that is asked for."""
    text = floor_sheet(sheets_of(request), its, issue_asked(request))
    return Response(text, media_type="application/json", headers={"Cache-Control": "no-store"})


def sound(request: Request, its: SeenShot) -> Response:
    """What is heard of the shot, as a wave file."""
    found = floor_sound(sheets_of(request), its, issue_asked(request))
    return sound_answer(request, found.tag, len(found.content), lambda first, stop: (found.content[first:stop],))


def mouth(request: Request, its: SeenShot) -> Response:
    """What a mouth looks like."""
    asked, issue = request.path_params, its.issue(issue_asked(request))
    found = mouth_picture(sheets_of(request), issue, asked["character"], asked["mouth"])
    return unless_known(request, found.tag, lambda: found.content, found.kind)


def tell_frames(request: Request, its: SeenShot) -> Response:
    """Keeps the counts that a page tells, each once, and says what became of each and what is shot now."""
    book, visitor = request.app.state.book, visitor_of(request)
    name = visitor.name if visitor else ""
    answers = tell_floor(book, its, events_in(request), name, unit_of(request))
    if any(one.kept and not one.again for one in answers):
        request.app.state.live.tell("done", {**floor_told(book, its), "by": name})
    outcomes = [{"id": one.id, "kept": one.kept, "again": one.again, "problem": one.why} for one in answers]
    return answer({"events": outcomes, **floor_counts(book, its, issue_asked(request))})


@readers
def which_code(request: Request) -> Response:
    """Whether a sheet is the current one, by its code."""
    return told_which(request, which(request.app.state.book, request.query_params.get("code", "")))


@readers
def which_picture(request: Request) -> Response:
    """Whether the sheets in a photograph are the current ones."""
    return told_which(request, which_on(request.app.state.book, request.state.posted, "the photograph"))


def told_which(request: Request, found: tuple[Which, ...]) -> Response:
    """What is known of sheets; a unit is told of others' sheets only whose they are."""
    unit = unit_of(request)
    others = [one.issue for one in found if unit not in ("", one.issue.unit)]
    if others:
        whose = ", ".join(f"{one.shot} is a sheet of unit {one.unit}" for one in others)
        return refused(request, 403, f"{whose}, not of yours")
    return answer({"sheets": [plain_which(one) for one in found]})


def of_shot(shown: Shown) -> Endpoint:
    """An endpoint for a shot that the visitor may see, with all its issues."""

    def endpoint(request: Request) -> Response:
        name, unit = str(request.path_params["shot"]), unit_of(request)
        its = issued(request.app.state.book, name, unit)
        if its.issues and not its.own:
            return refused(request, 403, f"{name} is not a shot of unit {unit}")
        return shown(request, its) if its.own else refused(request, 404, f"no sheet of {name!r} has ever been issued")

    return endpoint


def events_in(request: Request) -> object:
    """The events that were posted, whatever they are. Raises BookError for what has none."""
    posted = values_posted(request)
    if "events" not in posted:
        raise BookError('frames are told as JSON: {"events": […]}')
    return posted["events"]


def issue_asked(request: Request) -> int | None:
    """The number of the issue that is asked for, None for the newest. Raises BookError for what is no number."""
    text = request.query_params.get("issue")
    if text is not None and not (text.isascii() and text.isdigit() and len(text) < 10):
        raise BookError(f"issue is {text!r}: say a number")
    return None if text is None else int(text)


def unit_of(request: Request) -> str:
    """The unit that a visitor's sight is bound to, "" for who sees all. Raises BookError for a unit without a name."""
    visitor = visitor_of(request)
    if visitor is None or visitor.role is not Role.UNIT:
        return ""
    if not visitor.unit:
        raise BookError(f"the key of {visitor.name} is of no unit: ask the editor for another")
    return visitor.unit


def sheets_of(request: Request) -> KeptSheets:
    """The sheets that are out, kept beside the book that the server has open."""
    state = request.app.state
    if not hasattr(state, "sheets"):
        state.sheets = KeptSheets(state.book, KeptMaterial(state.book))
    return cast(KeptSheets, state.sheets)


SHOT = "/api/floor/{shot:path}"  # a shot's code may have any signs in it
routes: list[BaseRoute] = [
    Route("/floor", floor_page),
    Route("/floor/{shot:path}", shooters(of_shot(shot_page))),
    Route("/api/floor", shots_list),
    Route(f"{SHOT}/frames", with_body(shooters(of_shot(tell_frames)), MOST_COUNTS), methods=["POST"]),
    Route(f"{SHOT}/sound", readers(of_shot(sound))),
    Route(f"{SHOT}/mouth/{{character}}/{{mouth:path}}", readers(of_shot(mouth))),
    Route(SHOT, readers(of_shot(sheet))),
    Route("/api/which", which_code),
    Route("/api/which", with_body(which_picture, MOST_PICTURE), methods=["POST"]),
]
