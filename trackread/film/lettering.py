"""Texts in pictures: the project's typeface, made smaller or cut where a place is too narrow.

Sizes are pixels to the em. Letters are drawn the same on every machine: no library that shapes them is asked.
"""

from functools import lru_cache
from importlib import resources
from typing import Literal

from PIL import ImageDraw, ImageFont

from trackread.film.places import Place

REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"
LEAST = 12  # smaller letters are not read in a movie
CUT = "…"


@lru_cache(maxsize=64)
def typeface(name: str, size: int) -> ImageFont.FreeTypeFont:
    """A face of the typeface at a size."""
    with resources.as_file(resources.files("trackread") / "fonts" / f"{name}.ttf") as path:
        return ImageFont.truetype(path, size, layout_engine=ImageFont.Layout.BASIC)


def write(
    pen: ImageDraw.ImageDraw,
    text: str,
    place: Place,
    *,
    size: int,
    face: str = REGULAR,
    side: Literal["l", "m", "r"] = "m",
    tone: int = 0,
) -> None:
    """Writes a text at one `side` of a place (m is the middle), in the middle of its height.

    The letters are `size`, or as much smaller as the place is too narrow; what is too long even so is cut.
    """
    text, size = fitted(text, place.width, size=size, face=face)
    x = {"l": place.left, "m": place.centre[0], "r": place.right}[side]
    # Of letters with the same baseline, whatever hangs below it.
    pen.text((x, place.centre[1] + 0.36 * size), text, (tone,) * 3, typeface(face, size), f"{side}s")


@lru_cache(maxsize=1024)
def fitted(text: str, width: int, *, size: int, face: str) -> tuple[str, int]:
    """The text, and the size at which it is no wider than `width`."""
    while size > LEAST and typeface(face, size).getlength(text) > width:
        size -= 1
    kept = text
    while kept and typeface(face, size).getlength(text) > width:
        kept = kept[:-1]
        text = kept.rstrip() + CUT
    return text, size
