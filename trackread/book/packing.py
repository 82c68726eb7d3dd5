"""Values as JSON that is compressed: readings, cuts and sheets as the book keeps them, without looking into them."""

import json
import zlib
from collections.abc import Mapping
from typing import cast


def packed(body: Mapping[str, object]) -> bytes:
    """A plain value, compressed."""
    text = json.dumps(body, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return zlib.compress(text.encode())


def unpacked(body: bytes) -> dict[str, object]:
    """The value as it was packed. Raises ValueError if it is none."""
    try:
        plain = json.loads(zlib.decompress(body))
    except zlib.error as error:
        raise ValueError(str(error)) from error
    if not isinstance(plain, dict):
        raise ValueError("it is no mapping")
    return cast(dict[str, object], plain)
