"""What is looked at before anything else of a request: whom it was sent to, and where it comes from.

A forged Host is a page elsewhere that has made its own name point here (DNS rebinding); a write from another site is
one that a visitor's browser was made to send (OWASP, Cross-Site Request Forgery Prevention). Every answer carries the
heads that keep a browser from doing what no page of ours does.
"""

import re
from collections.abc import Awaitable, Callable, Collection

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from trackread.web.answers import refused

POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
HEADS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "Cross-Origin-Resource-Policy": "same-origin",
}
HOST = re.compile(r"(?:\[([0-9A-Fa-f:.]+)\]|([A-Za-z0-9._-]+))(?::[0-9]{1,5})?")
LOOPBACK = ("localhost", "127.0.0.1", "::1")
READS = ("GET", "HEAD")

Wrapped = Callable[[Scope, Receive, Send], Awaitable[None]]


async def turn_away(scope: Scope, receive: Receive, send: Send, status: int, why: str) -> None:
    """Refuses a request without reading on: the line is closed, since a body may still be coming."""
    response = refused(Request(scope), status, why)
    response.headers["Connection"] = "close"
    await response(scope, receive, send)


class SafeHeads:
    """Gives every answer the heads above."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def with_heads(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADS)
            await send(message)

        await self.app(scope, receive, with_heads)


class KnownHost:
    """Refuses what was sent to another name than this server's: `names`, loopback, or the address it came in by."""

    def __init__(self, app: ASGIApp, names: Collection[str]) -> None:
        self.app = app
        self.names = {*LOOPBACK, *(plain_name(name) for name in names)}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and not self.is_ours(scope):
            why = "this server is not called by that name: open the address that it printed, or serve with --name"
            await turn_away(scope, receive, send, 421, why)
            return
        await self.app(scope, receive, send)

    def is_ours(self, scope: Scope) -> bool:
        """Whether the Host that a request names is this server."""
        found = HOST.fullmatch(Headers(scope=scope).get("host", ""))
        if not found:
            return False
        reached = scope["server"][0] if scope.get("server") else ""
        return plain_name(found[1] or found[2]) in {*self.names, reached}


def plain_name(name: str) -> str:
    """A name or address of a machine as it is compared."""
    return name.strip("[]").rstrip(".").casefold()


class SameSite:
    """Refuses what changes anything and was sent by a page of another site.

    Browsers say so in Sec-Fetch-Site (W3C Fetch Metadata) where the line is to be trusted, and in Origin (RFC 6454)
    everywhere; what says neither is no browser, and has no visitor's cookie without asking the visitor.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and scope["method"] not in READS and not from_here(scope):
            await turn_away(scope, receive, send, 403, "it was sent by a page of another site")
            return
        await self.app(scope, receive, send)


def from_here(scope: Scope) -> bool:
    """Whether a request was sent by a page of this server, or by no page."""
    heads = Headers(scope=scope)
    site, origin = heads.get("sec-fetch-site"), heads.get("origin")
    ours = f"{scope['scheme']}://{heads.get('host', '')}".casefold()
    return site in (None, "same-origin", "none") and (origin is None or origin.casefold() == ours)
