"""What mouths look like, as pictures of the size that a film wants them in."""

import struct
from functools import lru_cache
from io import BytesIO

from PIL import Image, ImageDraw

from trackread.core.drawing import Drawing, Look, Shape
from trackread.errors import FilmError
from trackread.film.film import Film, FilmVoice

GROUND = 244  # the tone of what mouths lie on
FINER = 4  # drawings are drawn so many times larger, for smooth edges
# No more than a large camera's: a small file can claim to be vast.
MOST_PIXELS = 80_000_000


def check_looks(film: Film) -> None:
    """Raises FilmError for a picture of a mouth that is worn and cannot be read."""
    for voice in film.voices:
        for mouth in {one.mouth: None for one in voice.worn}:
            mouth_of(voice, mouth, 1)


def mouth_of(voice: FilmVoice, mouth: str, size: int) -> Image.Image:
    """A mouth of a voice in a square of `size` pixels, in colour. Raises FilmError if its picture cannot be read."""
    try:
        return picture_of(voice.looks[mouth], size)
    except FilmError as error:
        raise FilmError(f"{voice.character}, mouth {mouth!r}: {error}") from error


@lru_cache(maxsize=512)
def picture_of(look: Look, size: int) -> Image.Image:
    """What a mouth looks like in a square of `size` pixels, the whole of it seen.

    Raises FilmError for a picture that is no PNG.
    """
    return _drawn(look, size) if isinstance(look, Drawing) else _shown(look, size)


def _drawn(drawing: Drawing, size: int) -> Image.Image:
    fine = FINER * size
    picture = Image.new("L", (fine, fine), GROUND)
    pen = ImageDraw.Draw(picture)
    for shape in drawing.shapes:
        _draw(pen, shape, fine)
    return picture.resize((size, size), Image.Resampling.BOX).convert("RGB")


def _draw(pen: ImageDraw.ImageDraw, shape: Shape, fine: int) -> None:
    points = [(fine * x, fine * y) for x, y in shape.points]
    if shape.fill is not None:
        pen.polygon(points, fill=int(255 * shape.fill))
        points.append(points[0])
    pen.line(points, fill=0, width=max(1, int(fine * shape.weight)), joint="curve")
    for x, y in (points[0], points[-1]):  # round ends
        pen.circle((x, y), fine * shape.weight / 2, fill=0)


def _shown(picture: bytes, size: int) -> Image.Image:
    image = _opened(picture)
    image.thumbnail((size, size), Image.Resampling.LANCZOS)
    if image.width < size and image.height < size:
        scale = size / max(image.size)
        image = image.resize((max(1, int(image.width * scale)), max(1, int(image.height * scale))))
    square = Image.new("RGBA", (size, size), (GROUND, GROUND, GROUND, 255))
    square.alpha_composite(image, ((size - image.width) // 2, (size - image.height) // 2))
    return square.convert("RGB")


def _opened(picture: bytes) -> Image.Image:
    too_large = f"the picture is too large: give one of {MOST_PIXELS // 1_000_000} million pixels at most"
    try:
        with Image.open(BytesIO(picture), formats=("PNG",)) as image:
            if image.width * image.height > MOST_PIXELS:
                raise FilmError(too_large)
            # Of 16 bits in grey Pillow would keep the lower half.
            deep = image.mode.startswith("I")
            return (image.convert("I").point(lambda tone: tone / 256).convert("L") if deep else image).convert("RGBA")
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise FilmError(too_large) from error
    # Pillow's readers of broken files raise all of these.
    except (OSError, SyntaxError, ValueError, EOFError, struct.error) as error:
        raise FilmError(f"the picture cannot be read ({error}): give a whole PNG") from error
