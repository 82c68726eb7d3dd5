"""Frames of the check movie as pictures: a panel for each voice, and the frame's number at the foot.

All of it is told by shape and grey, so that it can be read on any screen; only pictures of mouths have colours.
"""

from collections.abc import Iterator
from functools import lru_cache

from PIL import Image, ImageDraw

from trackread.film.film import Film, Seen, check_voices, seen_of
from trackread.film.lettering import BOLD, REGULAR, write
from trackread.film.looks import GROUND, check_looks, mouth_of
from trackread.film.places import (
    FOOT,
    GAP,
    HEIGHT,
    NUMBER_SIZE,
    PAD,
    WIDTH,
    Panel,
    Place,
    count_place,
    length_place,
    number_place,
    panels,
    titles_place,
)

BEHIND, SOFT, INK = 214, 105, 0  # tones
CARD = (GROUND, GROUND, GROUND)
COUNT_SIZE, LENGTH_SIZE = 54, 24
TITLE_SIZES = (38, 22, 22, 22)
NO_MOUTHS = "no mouths planned"
# Of a beat's bar, by how strong it is: its width in parts of the mouth's, its thickness in parts of its place's height,
# and its tone.
BARS = {0: (0.16, 0.2, GROUND), 1: (0.4, 0.27, 165), 2: (0.8, 0.34, INK)}
UNDERLINE = 0.14


def frames_of(film: Film) -> Iterator[Image.Image]:
    """Each frame of a film, in colour; every one is a picture of its own.

    Raises FilmError, before the first of them, for a film without voices or with more than eight, or a picture of a
    mouth that cannot be read.
    """
    check_voices(film)
    check_looks(film)
    return _frames(film)


def _frames(film: Film) -> Iterator[Image.Image]:
    places = panels(len(film.voices))
    seen = [seen_of(voice, film.length) for voice in film.voices]

    # What is seen of a voice holds for frames on end, and comes again.
    @lru_cache(maxsize=4 * len(places))
    def panel(index: int, state: Seen) -> Image.Image:
        return panel_of(film, index, state)

    ground = _ground(film)
    for frame in range(film.length):
        picture = ground.copy()
        for index, place in enumerate(places):
            picture.paste(panel(index, seen[index][frame]), place.whole[:2])
        _write_foot(picture, film, frame)
        yield picture


def panel_of(film: Film, index: int, state: Seen) -> Image.Image:
    """The panel of voice `index` as it is seen in a state."""
    voice, panel = film.voices[index], panels(len(film.voices))[index]
    # It is drawn where it stands in the frame, so that all places are those of a frame.
    picture = Image.new("RGB", (WIDTH, HEIGHT), CARD)
    pen = ImageDraw.Draw(picture)
    pen.rectangle(_outline(panel.whole), outline=(INK if state.word else BEHIND,) * 3, width=4 if state.word else 1)
    write(pen, voice.character, panel.name, size=panel.letters.name, face=BOLD)
    if state.mouth:
        picture.paste(mouth_of(voice, state.mouth, panel.mouth.width), panel.mouth[:2])
    name = state.mouth or ("" if voice.worn else NO_MOUTHS)
    write(pen, name, panel.mouth_name, size=panel.letters.mouth, tone=SOFT)
    write(pen, state.word, panel.word, size=panel.letters.word, face=BOLD)
    _draw_beat(pen, panel, state)
    if state.pinned:
        _draw_pin(pen, panel)
    return picture.crop(panel.whole)


def _draw_beat(pen: ImageDraw.ImageDraw, panel: Panel, state: Seen) -> None:
    """A bar, wider, thicker and darker if stronger; twice as thick where it lands, and underlined if it is main."""
    if state.beat is None:
        return
    place, side = panel.beat, panel.mouth.width
    part, thick, tone = BARS[state.beat]
    left, right = place.centre[0] - part * side / 2, place.centre[0] + part * side / 2
    height = thick * place.height * (2 if state.lands else 1)
    line = place.height * UNDERLINE
    bar = (left, place.top + 1, right, place.top + height)
    pen.rectangle(bar, fill=(tone,) * 3, outline=(INK,) * 3, width=2)
    if state.main:
        pen.rectangle((left, place.bottom - line, right, place.bottom - 1), fill=(INK,) * 3)


def _draw_pin(pen: ImageDraw.ImageDraw, panel: Panel) -> None:
    """A pin in the upper right corner of the panel: its head, and the needle slanting down to the left."""
    size = panel.letters.name
    x, y = panel.name.right - 0.5 * size, panel.name.top + 0.6 * size
    pen.line((x, y, x - 0.6 * size, y + 0.9 * size), fill=(INK,) * 3, width=3)
    pen.circle((x, y), 0.36 * size, fill=(INK,) * 3)


def _ground(film: Film) -> Image.Image:
    """All that is the same on every frame."""
    picture = Image.new("RGB", (WIDTH, HEIGHT), (BEHIND,) * 3)
    pen = ImageDraw.Draw(picture)
    place = titles_place()
    top = place.top + PAD
    for title, size in zip(film.titles, TITLE_SIZES, strict=False):
        line = Place(place.left, top, place.right, top + size + 4)
        write(pen, title, line, size=size, face=BOLD if size == TITLE_SIZES[0] else REGULAR, side="r")
        top = line.bottom
    return picture


def _write_foot(picture: Image.Image, film: Film, frame: int) -> None:
    pen = ImageDraw.Draw(picture)
    write(pen, str(film.number_of(frame)), number_place(), size=NUMBER_SIZE, face=BOLD, side="l")
    count, length = count_place(), length_place()
    write(pen, film.count_of(frame), count, size=COUNT_SIZE, side="l")
    write(pen, f"of {film.count_of(film.length)} at {film.rate.name}", length, size=LENGTH_SIZE, side="l", tone=SOFT)
    # How much of the film is over, along the top of the foot.
    line = HEIGHT - FOOT - GAP // 2
    done = GAP + (WIDTH - 2 * GAP) * (frame + 1) // film.length
    pen.rectangle((GAP, line, WIDTH - GAP - 1, line + 3), fill=(GROUND,) * 3)
    pen.rectangle((GAP, line, done - 1, line + 3), fill=(SOFT,) * 3)


def _outline(place: Place) -> tuple[int, int, int, int]:
    return place.left, place.top, place.right - 1, place.bottom - 1
