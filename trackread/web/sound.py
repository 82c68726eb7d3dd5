"""Sound for a browser, whole or a range of its bytes (RFC 9110: range requests, section 14; conditions, section 13)."""

import re
from collections.abc import Callable, Iterable

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from trackread.web.known import is_named

WAVE = "audio/wav"
# One range; to a list of several the whole may be answered (section 14.2), and no browser asks for one of a sound.
RANGE = re.compile(r"bytes=(\d{0,18})-(\d{0,18})")

Content = Callable[[int, int], Iterable[bytes]]  # the bytes from a first one to before another


def sound_answer(request: Request, tag: str, size: int, content: Content) -> Response:
    """A sound of `size` bytes, or the range of it that is asked for; `tag` is its ETag, without quotes."""
    # A take may be given another stretch, so a browser asks each time whether it still has the right one.
    headers = {"ETag": f'"{tag}"', "Accept-Ranges": "bytes", "Cache-Control": "private, no-cache"}
    if is_named(tag, request.headers.get("if-none-match", "")):
        return Response(status_code=304, headers=headers)
    asked = range_asked(request, tag)
    first, stop = span_of(asked, size) if asked else (0, size)
    if first >= stop:
        return Response(status_code=416, headers={**headers, "Content-Range": f"bytes */{size}"})
    headers["Content-Length"] = str(stop - first)
    if asked:
        headers["Content-Range"] = f"bytes {first}-{stop - 1}/{size}"
    parts = () if request.method == "HEAD" else content(first, stop)
    return StreamingResponse(parts, 206 if asked else 200, headers, WAVE)


def range_asked(request: Request, tag: str) -> tuple[str, str] | None:
    """The two ends of the range that is asked for, as written; None if none counts.

    One counts only if the sound is still that which If-Range names, strongly compared (section 13.1.5).
    """
    asked = RANGE.fullmatch(request.headers.get("range", "").strip())
    if asked is None or asked[0] == "bytes=-" or request.headers.get("if-range", f'"{tag}"') != f'"{tag}"':
        return None
    return asked[1], asked[2]


def span_of(asked: tuple[str, str], size: int) -> tuple[int, int]:
    """The first byte of a range and the one after its last; empty if the sound has none of them (section 14.1.2)."""
    first, last = asked
    if not first:
        return max(size - int(last), 0), size
    return int(first), min(int(last) + 1, size) if last else size
