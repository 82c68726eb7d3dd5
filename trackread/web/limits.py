"""How much a request may send, and how long it may take: its body is read here, whole, before anybody looks at it."""

import asyncio
from collections.abc import Mapping

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from trackread.web.safety import turn_away

MOST = 2 * 2**20  # bytes of a body
MOST_UNSIGNED = 16 * 2**10  # from somebody who has not signed in, who has only a key to send
SECONDS = 20.0  # in which a body must come


class TooLargeError(Exception):
    """A body is longer than it may be."""


class Limits:
    """Reads the body of a request, and refuses one that is too long or too slow; `larger` are other limits by path."""

    def __init__(self, app: ASGIApp, larger: Mapping[str, int], seconds: float = SECONDS) -> None:
        self.app = app
        self.larger = larger
        self.seconds = seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        signed = scope.get("state", {}).get("visitor") is not None
        most = self.larger.get(scope["path"], MOST) if signed else MOST_UNSIGNED
        try:
            async with asyncio.timeout(self.seconds):
                body = await whole_body(scope, receive, most)
        except TooLargeError:
            told = f"{most // 2**10} kB" if most < 2**20 else f"{most // 2**20} MB"
            await turn_away(scope, receive, send, 413, f"it sends too much: {told} at most")
        except TimeoutError:
            await turn_away(scope, receive, send, 408, f"what it sends did not come within {self.seconds:g} s")
        else:
            if body is not None:
                await self.app(scope, given_again(body, receive), send)


async def whole_body(scope: Scope, receive: Receive, most: int) -> bytes | None:
    """The body of a request, None if the sender has gone. Raises TooLargeError as soon as that is known."""
    length = Headers(scope=scope).get("content-length", "0")
    # h11 lets no other length through than digits.
    if int(length) > most:
        raise TooLargeError
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return None
        body += message.get("body", b"")
        if len(body) > most:
            raise TooLargeError
        if not message.get("more_body"):
            return bytes(body)


def given_again(body: bytes, receive: Receive) -> Receive:
    """Gives a body that was read once more, then what comes after it."""
    given = False

    async def again() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return again
