"""What is posted: read of those who have signed in, before the endpoint runs in a thread of its own."""

import json
from collections.abc import Awaitable, Callable, Mapping

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from trackread.errors import BookError
from trackread.web.answers import refused
from trackread.web.visitors import visitor_of

Posted = Mapping[str, object]
Endpoint = Callable[[Request], Response]


def with_body(endpoint: Endpoint, most: int | None = None) -> Callable[[Request], Awaitable[Response]]:
    """The endpoint of a post, of so many bytes at most; None leaves that to the limits that hold for all."""

    async def asked(request: Request) -> Response:
        request.state.posted = await request.body() if visitor_of(request) else b""
        if most is not None and len(request.state.posted) > most:
            return refused(request, 413, f"it is too large: send {most // 2**20} MB at most")
        return await run_in_threadpool(endpoint, request)

    return asked


def values_posted(request: Request) -> Posted:
    """What was posted, as values by their names. Raises BookError unless it is such a group of values in JSON."""
    try:
        found = json.loads(request.state.posted or b"{}")
    except ValueError as error:
        raise BookError(f"what was sent to {request.url.path} is not JSON: {error}") from error
    if not isinstance(found, dict):
        raise BookError(f"what was sent to {request.url.path} is no group of values")
    return found
