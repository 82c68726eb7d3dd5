"""Reads pictures of a film without knowing what is on them: numbers and mouths are the nearest of all that there are.

Digits and mouths are drawn here anew, with Pillow alone, so that nothing of the film's own drawing is believed but the
places, the tone behind a mouth and the typeface.
"""

from functools import cache
from io import BytesIO
from pathlib import Path

import av
import numpy as np
from PIL import Image, ImageDraw, ImageFont

import trackread
from trackread.film.looks import GROUND
from trackread.film.places import NUMBER_SIZE, mouth_place, number_place

DIGITS = Path(trackread.__file__).parent / "fonts" / "DejaVuSans-Bold.ttf"
NUMBERS = range(2000)  # that a frame may have


def pictures_of(movie):
    """Each picture of a movie in greys, and the exact time at which it is shown, in seconds."""
    with av.open(BytesIO(movie)) as container:
        frames = list(container.decode(video=0))
    return [frame.to_image().convert("L") for frame in frames], [frame.pts * frame.time_base for frame in frames]


def heard_in(movie):
    """The sound of a movie, shape (channels, samples), and when it begins, in seconds."""
    with av.open(BytesIO(movie)) as container:
        frames = list(container.decode(audio=0))
    assert {frame.sample_rate for frame in frames} == {48000}
    return np.concatenate([frame.to_ndarray() for frame in frames], axis=1), frames[0].pts * frames[0].time_base


def number_in(picture, place=None, size=NUMBER_SIZE):
    """The number that is nearest to what is seen in a place, of all numbers there may be."""
    seen = ink_of(picture.crop(place or number_place()), size)
    numerals = numerals_of(size)
    return int(np.argmin(np.abs(numerals - seen).sum(axis=1)))


@cache
def numerals_of(size):
    """Every number, as `ink_of` sees it."""
    font = ImageFont.truetype(DIGITS, size)
    return np.array([ink_of(_numeral(number, font, size), size) for number in NUMBERS])


def _numeral(number, font, size):
    picture = Image.new("L", (4 * size, 2 * size), 255)
    ImageDraw.Draw(picture).text((size // 2, size // 2), str(number), 0, font)
    return picture


def ink_of(picture, size):
    """What is dark, 1, with its upper left corner in that of a field of one size for all."""
    grey = np.asarray(picture)
    dark = grey < 128
    assert dark.any(), "there is nothing to read"
    top, left = dark.any(axis=1).argmax(), dark.any(axis=0).argmax()
    field = np.zeros((size, 3 * size), np.int8)
    found = dark[top : top + size, left : left + 3 * size]
    field[: found.shape[0], : found.shape[1]] = found
    return field[:: max(1, size // 20), :: max(1, size // 20)].ravel()


def mouth_in(picture, voice, place):
    """The name of the mouth of a voice that is nearest to what is seen in a place."""
    seen = np.asarray(picture.crop(place), np.float32)
    looks = {name: drawn(look, seen.shape[0]) for name, look in voice.looks.items()}
    return min(looks, key=lambda name: np.abs(looks[name] - seen).mean())


def mouths_in(picture, film):
    """The mouth that is seen of every voice."""
    places = [mouth_place(len(film.voices), index) for index in range(len(film.voices))]
    return [mouth_in(picture, *both) for both in zip(film.voices, places, strict=True)]


@cache
def drawn(look, size):
    fine = 3 * size
    picture = Image.new("L", (fine, fine), GROUND)
    pen = ImageDraw.Draw(picture)
    for shape in look.shapes:
        points = [(fine * x, fine * y) for x, y in shape.points]
        if shape.fill is not None:
            pen.polygon(points, fill=int(255 * shape.fill))
            points.append(points[0])
        pen.line(points, fill=0, width=round(fine * shape.weight), joint="curve")
    return np.asarray(picture.resize((size, size), Image.Resampling.BOX), np.float32)


def planned(film, frame):
    """The mouth that each voice wears on a frame."""
    return [next(one.mouth for one in v.worn if one.first <= frame < one.stop) for v in film.voices]
