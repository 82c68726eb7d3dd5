"""All frames of a film on pages, as pictures in PNG: a plan of mouths to look at without waiting for it to play.

Twelve frames stand in a row, half a second at 24. Under a row's numbers each voice has a band: its mouths, and below
them its words, each over the frames on which it is said. Lengths are pixels from a page's upper left corner.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from itertools import groupby

from PIL import Image, ImageDraw

from trackread.film.film import Film, FilmVoice, Seen, by_frame, check_voices, said, seen_of
from trackread.film.lettering import BOLD, write
from trackread.film.looks import check_looks, mouth_of
from trackread.film.places import Place

IN_ROW = 12
NAMES = 132  # the column of names on the left
CELL = 96  # a mouth, and a frame's width
EDGE = 16
HEAD = 48
NUMBERS = 36
BAR = 6  # above the number of a second's first frame
WORDS = 26
BETWEEN = 18  # rows
TALLEST = 2000  # a page, if more than one row is on it
WIDTH = 2 * EDGE + NAMES + IN_ROW * CELL
INK, QUIET, SPOKEN, PAPER = 0, 200, 222, 255  # tones


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a frame stands: on which page, from 0, its number's place, and that of each voice's mouth."""

    frame: int
    page: int
    number: Place
    mouths: tuple[Place, ...]

    def words(self, index: int) -> Place:
        """Where the word is that voice `index` says."""
        mouth = self.mouths[index]
        return Place(mouth.left, mouth.bottom, mouth.right, mouth.bottom + WORDS)


def strip_of(film: Film, *, every: int = 1) -> tuple[bytes, ...]:
    """Pages as PNG with every frame of a film on them, or with `every` second or third and so on, the first always.

    A word that is said on none of the frames shown is not seen. Raises FilmError for a film without voices or with more
    than eight, or a picture of a mouth that cannot be read.
    """
    check_voices(film)
    check_looks(film)
    seen = [seen_of(voice, film.length) for voice in film.voices]
    pages = [list(spots) for _, spots in groupby(spots_of(film, every=every), key=lambda spot: spot.page)]
    return tuple(_page(film, seen, spots, total=len(pages)) for spots in pages)


def spots_of(film: Film, *, every: int = 1) -> Iterator[Spot]:
    """Where each frame stands that is shown. Raises ValueError for less than every frame."""
    if every < 1:
        raise ValueError(f"of a film every frame is shown, or every second, and not every {every}")
    voices = len(film.voices)
    height = NUMBERS + voices * (CELL + WORDS) + BETWEEN
    rows = max(1, (TALLEST - HEAD - 2 * EDGE) // height)
    for place, frame in enumerate(range(0, film.length, every)):
        row, column = divmod(place, IN_ROW)
        page, row = divmod(row, rows)
        left, top = EDGE + NAMES + column * CELL, EDGE + HEAD + row * height
        bands = (top + NUMBERS + index * (CELL + WORDS) for index in range(voices))
        mouths = tuple(Place(left, band, left + CELL, band + CELL) for band in bands)
        yield Spot(frame, page, Place(left, top + BAR, left + CELL, top + NUMBERS), mouths)


def _page(film: Film, seen: list[tuple[Seen, ...]], spots: list[Spot], *, total: int) -> bytes:
    height = max(spot.words(-1).bottom for spot in spots) + EDGE
    picture = Image.new("RGB", (WIDTH, height), (PAPER,) * 3)
    pen = ImageDraw.Draw(picture)
    titles, pages = Place(EDGE, EDGE, WIDTH - 200, HEAD), Place(WIDTH - 200, EDGE, WIDTH - EDGE, HEAD)
    write(pen, " · ".join(film.titles), titles, size=24, face=BOLD, side="l")
    if total > 1:
        write(pen, f"{spots[0].page + 1} of {total}", pages, size=20, side="r")
    for _, row in groupby(spots, key=lambda spot: spot.number.top):
        _draw_row(picture, film, seen, list(row))
    target = BytesIO()
    picture.save(target, "PNG")
    return target.getvalue()


def _draw_row(picture: Image.Image, film: Film, seen: list[tuple[Seen, ...]], row: list[Spot]) -> None:
    pen = ImageDraw.Draw(picture)
    for spot in row:
        write(pen, str(film.number_of(spot.frame)), spot.number, size=20, face=BOLD)
        if spot.frame % film.rate.base == 0:  # a bar over each second
            left, top, right, _ = spot.number
            pen.rectangle((left, top - BAR, right - 1, top - 3), fill=(INK,) * 3)
    for index, voice in enumerate(film.voices):
        left, top, _, bottom = row[0].mouths[index]
        write(pen, voice.character, Place(EDGE, top, left - 8, bottom), size=20, face=BOLD, side="l")
        for spot in row:
            _draw_mouth(picture, voice, spot.mouths[index], seen[index][spot.frame])
        _draw_words(pen, voice, index, row)


def _draw_mouth(picture: Image.Image, voice: FilmVoice, place: Place, state: Seen) -> None:
    """The mouth of a frame, with a dot in its corner if it is pinned."""
    pen = ImageDraw.Draw(picture)
    if state.mouth:
        picture.paste(mouth_of(voice, state.mouth, CELL), place[:2])
    pen.rectangle((place.left, place.top, place.right - 1, place.bottom - 1), outline=(QUIET,) * 3)
    if state.pinned:
        pen.circle((place.right - 10, place.top + 10), 5, fill=(INK,) * 3)


def _draw_words(pen: ImageDraw.ImageDraw, voice: FilmVoice, index: int, row: list[Spot]) -> None:
    """Each word over the frames of the row on which it is said, with a bar where it begins."""
    words = by_frame(voice.words)
    for word, together in groupby(row, key=lambda spot: words.get(spot.frame)):
        if word is None:
            continue
        spots = list(together)
        first, last = spots[0].words(index), spots[-1].words(index)
        place = Place(first.left, first.top, last.right, first.bottom)
        pen.rectangle((place.left, place.top + 1, place.right - 2, place.bottom - 3), fill=(SPOKEN,) * 3)
        if spots[0] is not row[0] or (spots[0].frame == word.first and not word.before):
            pen.rectangle((place.left, place.top + 1, place.left + 3, place.bottom - 3), fill=(INK,) * 3)
        write(pen, said(word), Place(place.left + 6, place.top, place.right - 4, place.bottom - 2), size=18)
