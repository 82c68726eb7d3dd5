"""Answers that every part of the server gives alike: JSON, refusals in plain words, and writes on what was seen."""

import logging
from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

LOG = logging.getLogger("trackread.web")


def refused(request: Request, status: int, why: str, **more: object) -> Response:
    """Refuses a request, in plain words to whoever asked, and in the log with who that was."""
    LOG.warning("refused %s %s to %s (%d): %s", request.method, request.scope["path"], who(request), status, why)
    return JSONResponse({"problem": why, **more}, status_code=status)


def who(request: Request) -> str:
    """Who asks, in words: from which address, and by which name if they have signed in."""
    host = request.client.host if request.client else "somebody"
    visitor = getattr(request.state, "visitor", None)
    unit = f" of unit {visitor.unit}" if visitor and visitor.unit else ""
    return f"{visitor.name}{unit} at {host}" if visitor else host


def answer(value: Mapping[str, object], *, revision: str = "") -> Response:
    """Plain values; with what revision they are, for a write to name (RFC 9110, ETag and If-Match)."""
    headers = {"Cache-Control": "no-store"} | ({"ETag": f'"{revision}"'} if revision else {})
    return JSONResponse(dict(value), headers=headers)


def revision_asked(request: Request) -> str | None:
    """The revision that a write was made on, as its If-Match says; None if it says none."""
    tag = request.headers.get("if-match")
    return tag.strip().removeprefix("W/").strip('"') if tag else None
