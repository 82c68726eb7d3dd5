"""Pages made from templates, and refusals as pages for people who came by an address, as JSON for our own scripts."""

import json
from collections.abc import Mapping
from functools import cache
from http import HTTPStatus
from pathlib import Path
from urllib.parse import quote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from trackread.web.visitors import visitor_of

TEMPLATES = Path(__file__).with_name("templates")
STATIC = Path(__file__).with_name("static")
HEADINGS = {
    403: "That is not yours",
    404: "There is no such page",
    413: "That is too large",
    429: "Not so fast",
    500: "Something is wrong with trackread",
    503: "The production cannot be reached",
}
KEPT = ("connection", "retry-after")  # what a refusal as a page says in its head as well


@cache
def templates() -> Environment:
    """All templates; what stands in them is escaped, and a name that is forgotten is an error."""
    return Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined)


@cache
def scripts(*patterns: str) -> tuple[str, ...]:
    """The scripts of a page, fetched all at once: a browser need not read one to hear of the next."""
    return tuple(sorted(file.name for pattern in patterns for file in STATIC.glob(pattern)))


def page(request: Request, template: str, *, status: int = 200, **values: object) -> Response:
    """A page made from a template, which also knows `production`, its title, and `visitor`."""
    known = {"production": request.app.state.book.production.title, "visitor": visitor_of(request)}
    text = templates().get_template(template).render(known | values)
    return HTMLResponse(text, status, headers={"Cache-Control": "no-store"})


class RefusalsAsPages:
    """Turns a refusal that is JSON into a page where somebody has come by an address: to sign in, or saying why not."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or not wants_page(scope):
            await self.app(scope, receive, send)
            return
        start: Message | None = None
        body = b""

        async def seen(message: Message) -> None:
            nonlocal start, body
            if message["type"] == "http.response.start" and is_refusal(message):
                start = message
            elif start is None:
                await send(message)
            else:
                body += message.get("body", b"")
                if not message.get("more_body"):
                    response = refusal_page(Request(scope), start["status"], json.loads(body))
                    head = Headers(raw=start["headers"])
                    response.headers.update({name: head[name] for name in KEPT if name in head})
                    await response(scope, receive, send)

        await self.app(scope, receive, seen)


def wants_page(scope: Scope) -> bool:
    """Whether a person's browser goes to an address, other than a script that asks for values."""
    return "text/html" in Headers(scope=scope).get("accept", "") and not scope["path"].startswith("/api/")


def is_refusal(start: Message) -> bool:
    """Whether a response begins that refuses something in JSON."""
    kind = Headers(raw=start["headers"]).get("content-type", "")
    return bool(start["status"] >= HTTPStatus.BAD_REQUEST and kind.startswith("application/json"))


def refusal_page(request: Request, status: int, told: Mapping[str, object]) -> Response:
    """What somebody sees who is refused; who has not signed in is led to where that is done, and from there back."""
    if status == HTTPStatus.UNAUTHORIZED and request.method in ("GET", "HEAD"):
        return RedirectResponse(f"/sign-in?next={quote(request.url.path)}", HTTPStatus.SEE_OTHER)
    heading = HEADINGS.get(status, "That cannot be done")
    return page(request, "problem.html", status=status, heading=heading, problem=told["problem"])
