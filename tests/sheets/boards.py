"""Boards of *The Late Tram*, drawn with Pillow: the cab of a tram at night in the rain."""

from functools import cache
from hashlib import sha256
from io import BytesIO

from PIL import Image, ImageDraw

from trackread.core.sheet import Sheet

WIDE, TALL = (960, 540), (480, 720)


def drawing(size: tuple[int, int] = WIDE) -> Image.Image:
    """A tram in the dark with its windows lit, two heads behind them, and rain."""
    width, height = size
    board = Image.new("RGB", size, (24, 28, 44))
    pen = ImageDraw.Draw(board)
    for drop in range(0, width, 40):
        pen.line((drop, (drop * 7) % height, drop - 12, (drop * 7) % height + 50), fill=(80, 90, 120), width=2)
    pen.rectangle((width * 0.1, height * 0.25, width * 0.9, height * 0.85), fill=(110, 40, 36))
    for left in (0.16, 0.42, 0.68):
        pen.rectangle((width * left, height * 0.32, width * (left + 0.18), height * 0.6), fill=(250, 214, 130))
    pen.ellipse((width * 0.2, height * 0.4, width * 0.3, height * 0.6), fill=(40, 40, 40))
    pen.polygon(
        ((width * 0.5, height * 0.6), (width * 0.55, height * 0.36), (width * 0.56, height * 0.6)), fill="white"
    )
    pen.rectangle((0, height * 0.88, width, height * 0.9), fill=(150, 150, 150))
    return board


def as_bytes(picture: Image.Image, kind: str = "PNG", **options: object) -> bytes:
    """A picture as the bytes of a file."""
    target = BytesIO()
    picture.save(target, kind, **options)
    return target.getvalue()


def digest_of(picture: bytes) -> str:
    """The SHA-256 that a heading names a board by."""
    return sha256(picture).hexdigest()


@cache
def boards() -> dict[str, bytes]:
    """The boards of the examples by their SHA-256."""
    pictures = (as_bytes(drawing(WIDE)), as_bytes(drawing(TALL), "JPEG"))
    return {digest_of(picture): picture for picture in pictures}


def board_of(sheet: Sheet) -> bytes | None:
    """The board that a sheet's heading names."""
    return boards()[sheet.heading.board] if sheet.heading.board else None
