"""Signing in with a key, which a cookie remembers, and signing out.

The cookie holds 256 bits drawn by chance; scripts cannot read it and no other site's page has it sent (SameSite,
RFC 6265bis). It is named by the port too, since a browser tells the ports of a machine apart nowhere else.
"""

import secrets
from dataclasses import dataclass, field
from http import HTTPStatus
from urllib.parse import parse_qs, urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route
from starlette.types import ASGIApp, Receive, Scope, Send

from trackread.errors import TrackreadError
from trackread.web.answers import LOG, answer, refused, who
from trackread.web.pages import page, wants_page
from trackread.web.safety import turn_away
from trackread.web.visitors import Role, Visitor, visitor_of
from trackread.workflow.keys import DAYS, digest_of, number_of, sign_in, sign_out, signed_in

HOME = {Role.EDITOR: "/desk", Role.UNIT: "/floor", Role.OFFICE: "/office"}
NO_VISITOR = "/static/"  # where nobody is asked who they are
WRONG = "That key opens nothing here: look at it again, letter by letter, or ask an editor for a new one."


@dataclass(slots=True)
class Once:
    """Words that sign in once, without a key, whoever sees what the server prints: each with the key it stands for."""

    keys: dict[str, int] = field(default_factory=dict)

    def make(self, key: int) -> str:
        token = secrets.token_urlsafe(32)
        self.keys[digest_of(token)] = key
        return token

    def use(self, token: str) -> int | None:
        """The key that a word stands for, and no longer; None if it stands for none."""
        return self.keys.pop(digest_of(token), None)


@dataclass(frozen=True, slots=True)
class Form:
    """What was filled in: a key, or the word of a printed address, and where to go on to."""

    key: str
    once: str
    next: str


class Visits:
    """Finds out who asks, by the cookie, for all that follows."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and not scope["path"].startswith(NO_VISITOR):
            request = Request(scope)
            try:
                request.state.visitor = await run_in_threadpool(visitor_by_cookie, request)
            except TrackreadError as error:
                await turn_away(scope, receive, send, 503, str(error))
                return
        await self.app(scope, receive, send)


def visitor_by_cookie(request: Request) -> Visitor | None:
    """Who has signed in with the browser that asks, None if nobody has. Raises BookError if the book cannot be read."""
    token = token_of(request)
    note = signed_in(request.app.state.book, token) if token else None
    return Visitor(Role(note.role), note.name, note.unit) if note else None


def token_of(request: Request) -> str:
    return request.cookies.get(cookie_name(request), "")


def cookie_name(request: Request) -> str:
    return f"trackread-{request.scope['server'][1]}"


def sign_in_page(request: Request) -> Response:
    """Where a key is typed, or the word of a printed address stands already."""
    asked = request.query_params
    return page(request, "sign_in.html", next=asked.get("next", "/"), once=asked.get("once", ""), problem="")


async def sign_in_form(request: Request) -> Response:
    """Looks at a key, and gives the cookie for it.

    One at a time: each key costs 16 MB to look at, and who waits here keeps no thread from those who are at work.
    """
    form = form_of(await request.body())
    async with request.app.state.signing_in:
        return await run_in_threadpool(sign_in_by, request, form)


def sign_in_by(request: Request, form: Form) -> Response:
    tries, address = request.app.state.tries, request.client.host if request.client else ""
    if wait := tries.begin(address):
        response = refused(request, 429, f"too many wrong keys: try again in {wait:.0f} s")
        response.headers["Retry-After"] = f"{wait:.0f}"
        return response
    book = request.app.state.book
    number = request.app.state.once.use(form.once) if form.once else number_of(book, form.key)
    found = sign_in(book, number) if number is not None else None
    if found is None:
        return wrong_key(request, form)
    tries.was_right(address)
    LOG.info("%s signed in from %s as %s", found.note.name, address, found.note.role)
    wanted = local_path(form.next)
    response = RedirectResponse(HOME[Role(found.note.role)] if wanted == "/" else wanted, HTTPStatus.SEE_OTHER)
    set_cookie(request, response, found.token, DAYS * 24 * 3600)
    return response


def wrong_key(request: Request, form: Form) -> Response:
    """Says that a key is wrong, on the page to try again, or in JSON."""
    told = "That address has signed somebody in already: use a key." if form.once else WRONG
    response = refused(request, 403, told)
    if not wants_page(request.scope):
        return response
    return page(request, "sign_in.html", status=403, next=local_path(form.next), once="", problem=told)


def form_of(body: bytes) -> Form:
    """The fields of the form, "" for one that is missing."""
    try:
        fields = parse_qs(body.decode("utf-8", "replace"), max_num_fields=10)
    except ValueError:
        fields = {}
    return Form(*(fields.get(name, [""])[0] for name in ("key", "once", "next")))


def local_path(text: str) -> str:
    """The address to go on to, if it is a path here and nothing that leads elsewhere; else the first page."""
    parts = urlsplit(text)
    safe = text.isascii() and text.isprintable() and "\\" not in text and not text.startswith("//")
    return text if safe and text.startswith("/") and not parts.scheme and not parts.netloc else "/"


def set_cookie(request: Request, response: Response, token: str, seconds: int) -> None:
    secure = request.url.scheme == "https"
    name = cookie_name(request)
    response.set_cookie(name, token, max_age=seconds, path="/", secure=secure, httponly=True, samesite="strict")


def sign_out_form(request: Request) -> Response:
    """Ends the cookie, here and in the browser."""
    LOG.info("%s signed out", who(request))
    sign_out(request.app.state.book, token_of(request))
    response = RedirectResponse("/sign-in", HTTPStatus.SEE_OTHER)
    set_cookie(request, response, "", 0)
    return response


def me(request: Request) -> Response:
    """Who asks, all of it None for nobody."""
    visitor = visitor_of(request)
    if visitor is None:
        return answer({"role": None, "name": None, "unit": None})
    return answer({"role": visitor.role, "name": visitor.name, "unit": visitor.unit})


def first_page(request: Request) -> Response:
    """Leads everybody to their own page."""
    visitor = visitor_of(request)
    return RedirectResponse(HOME[visitor.role] if visitor else "/sign-in", HTTPStatus.SEE_OTHER)


routes: list[BaseRoute] = [
    Route("/", first_page),
    Route("/sign-in", sign_in_page),
    Route("/sign-in", sign_in_form, methods=["POST"]),
    Route("/sign-out", sign_out_form, methods=["POST"]),
    Route("/api/me", me),
]
