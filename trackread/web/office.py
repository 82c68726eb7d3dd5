"""The office: what is shot of every shot of the cut, and on which unit, as it happens."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from trackread.web.answers import answer
from trackread.web.floor import sheets_of
from trackread.web.pages import page
from trackread.web.visitors import Role, may
from trackread.workflow.office import what_is_shot

readers = may(Role.EDITOR, Role.OFFICE)


@readers
def office_page(request: Request) -> Response:
    """The table, which its script fills and keeps."""
    return page(request, "office.html")


@readers
def office(request: Request) -> Response:
    """All shots, in the order of the cut."""
    return answer({"shots": what_is_shot(sheets_of(request))})


routes: list[BaseRoute] = [Route("/office", office_page), Route("/api/office", office)]
