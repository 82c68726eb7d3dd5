"""What a browser has already is not sent again (RFC 9110, section 13: ETag and If-None-Match)."""

from collections.abc import Callable

from starlette.requests import Request
from starlette.responses import Response


def unless_known(
    request: Request, tag: str, content: Callable[[], bytes], kind: str, name: str | None = None
) -> Response:
    """What a browser is sent unless it has it already; `name` is what its file is called."""
    headers = {"ETag": f'"{tag}"', "Cache-Control": "private, no-cache"}
    if is_named(tag, request.headers.get("if-none-match", "")):
        return Response(status_code=304, headers=headers)
    if name:
        # A code may have any letters in it; `file_stem` leaves no quotes (RFC 6266).
        headers["Content-Disposition"] = f'inline; filename="{name.encode("ascii", "replace").decode()}"'
    return Response(content(), headers=headers, media_type=kind)


def is_named(tag: str, condition: str) -> bool:
    """Whether an If-None-Match names a tag, weakly compared (section 13.1.2)."""
    named = [one.strip().removeprefix("W/") for one in condition.split(",")]
    return "*" in named or f'"{tag}"' in named
