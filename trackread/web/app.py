"""The server's application: all parts joined, and what each request passes before it reaches one of them."""

import asyncio
import contextlib
from collections.abc import AsyncIterator, Collection

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Scope

from trackread.errors import ClashError, TrackreadError
from trackread.web import cutting_room, desk, floor, news, office, shot, signing_in
from trackread.web.answers import refused
from trackread.web.limits import Limits
from trackread.web.live import Live
from trackread.web.pages import STATIC, RefusalsAsPages
from trackread.web.safety import KnownHost, SafeHeads, SameSite
from trackread.web.signing_in import Once, Visits
from trackread.web.tries import Tries
from trackread.workflow.hearing_again import Ears
from trackread.workflow.kept_material import KeptMaterial
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.production import Book

LARGER = {"/api/which": floor.MOST_PICTURE}  # bytes that may be posted to an address that takes more than others
WORDS = {404: "there is nothing at this address", 405: "that cannot be done at this address"}


class StaticPages(StaticFiles):
    """Scripts, styles and pictures, each asked for again every time, so that an update is seen at once."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        response.headers["Cache-Control"] = "no-cache"
        return response


def make_app(book: Book, names: Collection[str] = ()) -> Starlette:
    """The application for a production that is open; `names` are what the server is called besides loopback.

    Wrap it with `safe` before it is served.
    """

    @contextlib.asynccontextmanager
    async def lasting(app: Starlette) -> AsyncIterator[None]:
        with news.watching(app.state.live, app.state.sheets):
            yield
        app.state.ears.close()

    app = Starlette(
        routes=all_routes(),
        middleware=[
            Middleware(KnownHost, names=names),
            Middleware(SameSite),
            Middleware(Visits),
            Middleware(Limits, larger=LARGER),
        ],
        exception_handlers={
            TrackreadError: as_refusal,
            ClashError: as_clash,
            HTTPException: as_said,
            Exception: as_fault,
        },
        lifespan=lasting,
    )
    app.state.sheets, app.state.signing_in = KeptSheets(book, KeptMaterial(book)), asyncio.Lock()
    app.state.ears = Ears()
    app.state.book, app.state.live, app.state.tries, app.state.once = book, Live(), Tries(), Once()
    return app


def safe(app: Starlette) -> ASGIApp:
    """The application with its heads on every answer, that of a fault too, and with refusals as pages for people."""
    return SafeHeads(RefusalsAsPages(app))


def all_routes() -> list[BaseRoute]:
    """The addresses of all parts."""
    static = Mount("/static", StaticPages(directory=STATIC))
    parts = (signing_in, news, office, desk, cutting_room, floor, shot)
    return [static, *(route for part in parts for route in part.routes)]


def as_refusal(request: Request, error: Exception) -> Response:
    return refused(request, 400, str(error))


def as_clash(request: Request, error: Exception) -> Response:
    return refused(request, 412, str(error))


def as_said(request: Request, error: Exception) -> Response:
    """What the router refuses: an address that there is none of, or a method that it has not."""
    status = error.status_code if isinstance(error, HTTPException) else 500
    return refused(request, status, WORDS.get(status, "it cannot be done"))


def as_fault(request: Request, _error: Exception) -> Response:
    """A fault of ours, whose traceback is in the log."""
    return refused(request, 500, "a fault of trackread: whoever runs the server finds it in the log")
