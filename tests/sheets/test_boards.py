"""The board of a shot: in every head, once more where there is room, whatever the picture is like."""

import struct
import zlib
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path as FilePath

import pdfplumber
import pypdfium2
import pytest
from PIL import Image

from tests.sheets import reading_marks as read
from tests.sheets.boards import as_bytes, digest_of, drawing
from tests.sheets.shots import crowd_shot, part_of_a_take
from tests.sheets.voices import HEADING, a_cell, two_voices
from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame
from trackread.errors import SheetError
from trackread.sheets.layout import lay_out
from trackread.sheets.marks import Page, Picture, SquareCode
from trackread.sheets.paper import MILLIMETRE, paper_for
from trackread.sheets.pdf import draw_sheet, width_of
from trackread.sheets.pictures import shape_of

A4 = paper_for("A4", 48)


def halves(left: int = 0, right: int = 255, size: tuple[int, int] = (320, 180)) -> Image.Image:
    """A picture of two tones, side by side."""
    picture = Image.new("L", size, right)
    picture.paste(left, (0, 0, size[0] // 2, size[1]))
    return picture


def boarded(picture: bytes, **changes: object) -> Sheet:
    """A short sheet with the picture as its board."""
    heading = replace(HEADING, board=digest_of(picture))
    return two_voices(heading=heading, length=Frame(84), **changes)


def drawn(picture: bytes, **changes: object) -> bytes:
    return draw_sheet(boarded(picture, **changes), A4, board=picture)


def pictures_on(page: Page) -> list[Picture]:
    return [mark for mark in page.marks if isinstance(mark, Picture)]


def laid_out(sheet: Sheet, shape: float) -> tuple[Page, ...]:
    return lay_out(sheet, A4, measure=width_of, board_shape=shape)


@pytest.mark.parametrize("shape", [16 / 9, 4 / 3, 2 / 3, 2.39, 6.0, 0.1])
def test_a_board_stands_in_every_head_between_the_texts_and_the_code_and_keeps_its_shape(shape: float):
    pages = laid_out(crowd_shot(), shape)

    assert len(pages) > 10
    for page in pages:
        (board,) = (picture for picture in pictures_on(page) if picture.y < 30)
        (code,) = (mark for mark in page.marks if isinstance(mark, SquareCode))
        beside = [text for text in read.texts(page) if text.baseline <= code.y + code.size]

        assert board.width / board.height == pytest.approx(shape)
        assert board.height <= code.size + 0.01
        assert board.x + board.width <= code.x + 0.01
        assert len(beside) >= 4
        assert all(read.extent(text).right < board.x for text in beside)


def test_a_board_of_a_usual_shape_is_as_high_as_the_code():
    page = laid_out(crowd_shot(), 16 / 9)[0]
    (code,) = (mark for mark in page.marks if isinstance(mark, SquareCode))

    assert pictures_on(page)[0].height == pytest.approx(code.size)


@pytest.mark.parametrize("shape", [16 / 9, 2 / 3])
def test_the_last_page_has_the_board_again_as_large_as_fits_if_its_rows_leave_room(shape: float):
    *_, last = laid_out(two_voices(), shape)
    large = max(pictures_on(last), key=lambda picture: picture.height)
    rows = read.uprights(last)[0]
    foot = min(text.baseline for text in read.below_rows(last) if text.baseline > rows.y2 + 30)

    assert large.height >= 45 * MILLIMETRE
    assert large.y > rows.y2 + 10
    assert large.y + large.height < foot
    assert large.width / large.height == pytest.approx(shape)
    assert large.width == pytest.approx(read.uprights(last)[-1].x1 - rows.x1) or large.y + large.height > foot - 12


@pytest.mark.parametrize("length", [48, 40])
def test_a_last_page_with_less_than_45_millimetres_free_has_no_large_board(length: int):
    pages = laid_out(two_voices(voices=(), length=Frame(length), action=(), camera=(), changed=()), 16 / 9)

    assert [len(pictures_on(page)) for page in pages] == [1] * len(pages)


def test_a_list_of_what_had_no_room_has_the_place_of_a_large_board():
    action = (a_cell(0, 1, "looks for the ticket in every pocket of the coat " * 2), a_cell(1, 2, "sighs"))
    *_, last = laid_out(two_voices(voices=(), camera=(), action=action, length=Frame(60)), 16 / 9)

    assert "In full" in read.whole_text(last)
    assert len(pictures_on(last)) == 1


def test_a_sheet_without_a_picture_has_none_and_asks_for_none():
    content = draw_sheet(part_of_a_take(), A4)

    assert b"/Subtype /Image" not in content


def test_a_picture_that_is_not_the_sheets_board_is_our_mistake():
    with pytest.raises(ValueError, match="not the sheet's board"):
        draw_sheet(part_of_a_take(), A4, board=as_bytes(halves()))


def sixteen_bits() -> Image.Image:
    """Grey of 16 bits, a dark and a light half; the low byte of the dark one is all ones."""
    row = (0x10FF).to_bytes(2, "little") * 160 + (0xF000).to_bytes(2, "little") * 160
    return Image.frombytes("I;16", (320, 180), row * 180)


def clear() -> Image.Image:
    """Black all over, and clear as glass at the right: paper is white there."""
    picture = Image.new("RGBA", (320, 180), (0, 0, 0, 255))
    picture.putalpha(halves(255, 0))
    return picture


def orientation(turn: int) -> Image.Exif:
    """Exif that says which way up a picture is (JEITA CP-3451): 6 lies on its left side."""
    exif = Image.Exif()
    exif[0x0112] = turn
    return exif


# Each as a file that Pillow writes: what is dark at the left and light at the right must print so.
MADE: dict[str, Callable[[], tuple[Image.Image, dict[str, object]]]] = {
    "grey.png": lambda: (halves(), {}),
    "colours.jpg": lambda: (halves().convert("RGB"), {}),
    "cmyk.jpg": lambda: (halves().convert("CMYK"), {}),
    "palette.png": lambda: (halves().convert("RGB").quantize(4), {}),
    "clear-palette.png": lambda: (halves(0, 90).convert("RGB").quantize(2), {"transparency": bytes((0, 255))}),
    "bits.png": lambda: (halves().convert("1"), {}),
    "sixteen.png": lambda: (sixteen_bits(), {}),
    "clear.png": lambda: (clear(), {}),
    "turned.jpg": lambda: (halves().rotate(90, expand=True), {"exif": orientation(6)}),
}


@pytest.mark.parametrize("name", MADE)
def test_pictures_of_every_kind_print_dark_where_they_are_dark(name: str, tmp_path: FilePath):
    """As PDFium renders the page."""
    picture, options = MADE[name]()
    picture.save(tmp_path / name, **options)
    content = (tmp_path / name).read_bytes()
    sheet = boarded(content)
    board = pictures_on(laid_out(sheet, shape_of(content))[0])[0]
    document = pypdfium2.PdfDocument(draw_sheet(sheet, A4, board=content))
    page = document[0].render(scale=2).to_pil().convert("L")
    middle = 2 * (board.y + board.height / 2)
    left, right = (page.getpixel((int(2 * (board.x + share * board.width)), int(middle))) for share in (0.25, 0.75))
    document.close()

    assert left < 110
    assert right > 220
    assert shape_of(content) == pytest.approx(320 / 180)


def test_a_picture_is_embedded_once_and_no_finer_than_300_dots_to_the_inch():
    """Twelve million pixels, as a telephone's camera has; read back by pdfplumber."""
    small = as_bytes(drawing((4000, 3000)), "JPEG", quality=60)
    with pdfplumber.open(BytesIO(drawn(small))) as document:
        places = [image for page in document.pages for image in page.images]

    assert drawn(small).count(b"/Subtype /Image") == 1
    assert len(places) == len({image["name"] for image in places}) + 2
    finest = max(places, key=lambda image: image["width"])
    assert 290 < finest["srcsize"][0] / (finest["width"] / 72) <= 300


def test_a_small_picture_is_not_made_larger():
    with pdfplumber.open(BytesIO(drawn(as_bytes(halves())))) as document:
        sizes = {image["srcsize"] for page in document.pages for image in page.images}

    assert sizes == {(320, 180)}


def test_a_large_picture_adds_little_to_a_sheet_that_has_it_in_its_heads_only():
    noisy = as_bytes(Image.effect_noise((4000, 3000), 60), "JPEG", quality=60)
    sheet = boarded(noisy, voices=(), camera=(), action=(), changed=())
    full = replace(sheet, length=Frame(48))

    assert len(noisy) > 2_000_000
    assert len(draw_sheet(full, A4, board=noisy)) - len(draw_sheet(full, A4)) < 100_000


def test_the_same_picture_gives_the_same_bytes():
    picture = as_bytes(drawing(), "JPEG")

    assert drawn(picture) == drawn(picture)


def test_a_dark_board_prints_with_half_of_it_lighter_than_middle_grey():
    """A night scene, of which nothing is lighter than a fifth, as PDFium renders it."""
    night = as_bytes(Image.linear_gradient("L").point(lambda tone: 10 + tone // 6))
    board = pictures_on(laid_out(boarded(night), 1.0)[0])[0]
    document = pypdfium2.PdfDocument(drawn(night))
    page = document[0].render(scale=2).to_pil().convert("L")
    crop = page.crop(tuple(int(2 * edge) for edge in (board.x, board.y, board.x + board.width, board.y + board.height)))
    tones = [tone for tone, count in enumerate(crop.histogram()) for _ in range(count)]
    document.close()

    assert tones[len(tones) // 2] > 115
    assert tones[len(tones) // 20] > 30


BROKEN = {
    "empty": b"",
    "text": b"The Late Tram, board 4",
    "gif": as_bytes(halves(), "GIF"),
    "cut-png": as_bytes(drawing())[:900],
    "cut-jpeg": as_bytes(drawing(), "JPEG")[:2000],
    "spoilt-png": as_bytes(halves()).replace(b"IDAT", b"IDAX"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_picture_is_refused_with_what_would_be_right(name: str):
    with pytest.raises(SheetError, match=r"the picture cannot be read .*: give a whole PNG or JPEG"):
        drawn(BROKEN[name])


def claiming(side: int) -> bytes:
    """A small PNG whose header says that it is a square of so many pixels a side (ISO/IEC 15948)."""
    content = bytearray(as_bytes(halves()))
    content[16:24] = struct.pack(">II", side, side)
    content[29:33] = struct.pack(">I", zlib.crc32(content[12:29]))
    return bytes(content)


@pytest.mark.parametrize("side", [9_000, 10_000, 30_000])
def test_a_picture_of_too_many_pixels_is_refused_before_it_is_unpacked(side: int):
    with pytest.raises(SheetError, match="too large: give one of 80 million pixels at most"):
        drawn(claiming(side))
