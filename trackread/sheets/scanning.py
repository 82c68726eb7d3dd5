"""Square codes (ISO/IEC 18004) found in pictures: scans and photographs of sheets."""

import zxingcpp
from PIL import Image

from trackread.sheets.pictures import grey

SQUARE = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
# A larger picture has modules enough pixels as it is.
MOST_ENLARGED = 16_000_000


def code_in(picture: bytes) -> tuple[str, ...]:
    """The texts of all square codes in a PNG or JPEG, none if there is none; however it is turned.

    Raises SheetError if it is no such picture.
    """
    shades = grey(picture)
    return _texts_in(shades) or _texts_in(_enlarged(shades))


def _texts_in(shades: Image.Image) -> tuple[str, ...]:
    found = zxingcpp.read_barcodes(shades, formats=SQUARE)
    return tuple(dict.fromkeys(code.text for code in found))


def _enlarged(shades: Image.Image) -> Image.Image:
    """Twice as large, if it is small."""
    # Of pages at 150 dots to the inch, turned, faded and seen from one side, 25 of 36 were read as they were, all so.
    if shades.width * shades.height > MOST_ENLARGED:
        return shades
    return shades.resize((2 * shades.width, 2 * shades.height), Image.Resampling.LANCZOS)
