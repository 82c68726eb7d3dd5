"""Pictures that people bring: opened as PNG or JPEG, whatever their colours and whichever way up, and made printable.

Sheets are printed in grey, so pictures are too. Lengths are points, a shape is a width as a multiple of its height.
"""

import struct
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from math import log

from PIL import ExifTags, Image, ImageOps, ImageStat

from trackread.errors import SheetError

FORMATS = ("PNG", "JPEG")
DOTS_PER_POINT = 300 / 72
# No more than a large camera's: a small file can claim to be vast.
MOST_PIXELS = 80_000_000
# Turns by a quarter: JEITA CP-3451 (Exif), orientation.
LYING = (5, 6, 7, 8)
# Of the darkest and the lightest, what may become black and white, in hundredths.
CLIPPED = 1
QUALITY = 85
# Pixels along the longer side that a sheet across A3 has use for: 300 dots to the inch of 180 mm.
LARGEST = 2200
# Half of a picture is as light as this, of 255, or lighter: a scene at night would be a black patch on a copy.
MIDDLE, DARKEST = 110, 8
# The darkest that is printed: a copier makes it black enough.
BLACKEST = 48


def shape_of(picture: bytes) -> float:
    """The shape of a picture as it is looked at. Raises SheetError if it is no PNG or JPEG."""
    with _opened(picture) as image:
        width, height = image.size
        return height / width if image.getexif().get(ExifTags.Base.Orientation) in LYING else width / height


def kept(picture: bytes) -> bytes:
    """A picture as a book keeps it: as it is, or if it is larger than any sheet needs, made smaller, and upright.

    Raises SheetError if it is no PNG or JPEG.
    """
    with _opened(picture) as image:
        if max(image.size) <= LARGEST:
            return picture
        image.draft("RGB", (LARGEST, LARGEST))
        upright = ImageOps.exif_transpose(_in_colour(image))
        upright.thumbnail((LARGEST, LARGEST), Image.Resampling.LANCZOS)
        target = BytesIO()
        upright.save(target, "JPEG", quality=QUALITY)
        return target.getvalue()


def grey(picture: bytes, most: int | None = None) -> Image.Image:
    """A picture in shades of grey, upright and on white, its longer side `most` pixels if it has more.

    Raises SheetError if it is no PNG or JPEG.
    """
    with _opened(picture) as image:
        if most:
            # A JPEG is unpacked at an eighth of its size where that is enough, in a fraction of the time.
            image.draft("L", (most, most))
        shades = ImageOps.exif_transpose(_in_grey(image))
        if most:
            shades.thumbnail((most, most), Image.Resampling.LANCZOS)
        return shades


def printable(picture: bytes, longer_side: float) -> bytes:
    """A picture as a grey JPEG of 300 dots to the inch at most, its longer side so many points on paper.

    Its tones are spread from black to white, and dark ones lightened. Raises as `grey`.
    """
    most = max(int(longer_side * DOTS_PER_POINT), 1)
    spread = ImageOps.autocontrast(grey(picture, most), cutoff=CLIPPED)
    target = BytesIO()
    spread.point(_lightened(spread)).save(target, "JPEG", quality=QUALITY)
    return target.getvalue()


def small(picture: bytes, most: int) -> bytes:
    """A picture in its colours as PNG, upright and on white, its longer side `most` pixels if it has more.

    Raises SheetError if it is no PNG or JPEG.
    """
    with _opened(picture) as image:
        image.draft("RGB", (most, most))
        colours = ImageOps.exif_transpose(_in_colour(image))
        colours.thumbnail((most, most), Image.Resampling.LANCZOS)
        target = BytesIO()
        colours.save(target, "PNG")
        return target.getvalue()


def _lightened(shades: Image.Image) -> list[int]:
    """What each tone of a picture becomes on paper."""
    median = max(ImageStat.Stat(shades).median[0], DARKEST)
    power = min(log(MIDDLE / 255) / log(median / 255), 1.0) if median < 255 else 1.0
    return [BLACKEST + int((255 - BLACKEST) * (tone / 255) ** power) for tone in range(256)]


def _in_colour(image: Image.Image) -> Image.Image:
    """A picture in colours, those that it has, on white."""
    if image.mode.startswith("I") or image.mode in ("1", "L"):
        return _in_grey(image)
    if image.has_transparency_data:
        return Image.alpha_composite(Image.new("RGBA", image.size, "white"), image.convert("RGBA")).convert("RGB")
    return image.convert("RGB")


def _in_grey(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I"):
        # Of 16 bits Pillow would keep the lower half.
        return image.convert("I").point(lambda value: value / 256).convert("L")
    if image.has_transparency_data:
        clear = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", image.size, "white"), clear).convert("L")
    return image.convert("L")


@contextmanager
def _opened(picture: bytes) -> Iterator[Image.Image]:
    """A picture whose pixels are not yet read; what goes wrong with them later is said in the same words."""
    try:
        with Image.open(BytesIO(picture), formats=FORMATS) as image:
            if image.width * image.height > MOST_PIXELS:
                raise SheetError(
                    f"a picture of {image.width} by {image.height} pixels is too large: "
                    f"give one of {MOST_PIXELS // 1_000_000} million pixels at most"
                )
            yield image
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise SheetError(
            f"the picture is too large: give one of {MOST_PIXELS // 1_000_000} million pixels at most"
        ) from error
    # Pillow's readers of broken files raise all of these.
    except (OSError, SyntaxError, ValueError, EOFError, struct.error) as error:
        raise SheetError(f"the picture cannot be read ({error}): give a whole PNG or JPEG") from error
