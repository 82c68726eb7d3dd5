"""What is seen on a frame besides its number and mouths, before any coding."""

from dataclasses import replace
from io import BytesIO
from zlib import crc32

import numpy as np
import pytest
from PIL import Image

from tests.film.makers import a_film, a_silent_voice, a_voice, looks_of
from tests.film.watching import number_in
from trackread.core.mouth import Worn
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import Frame
from trackread.errors import FilmError
from trackread.film.film import FilmVoice, Seen, seen_of
from trackread.film.frames import frames_of
from trackread.film.gif import gif_of
from trackread.film.lettering import BOLD, fitted, typeface
from trackread.film.looks import GROUND, picture_of
from trackread.film.movie import movie_of
from trackread.film.places import (
    HEIGHT,
    WIDTH,
    count_place,
    length_place,
    mouth_place,
    number_place,
    panels,
    titles_place,
)
from trackread.film.strip import strip_of

WRITERS = (movie_of, gif_of, strip_of)


def ink(picture, place):
    """How much darker than paper a place is, in whole black pixels."""
    return float((GROUND - np.asarray(picture.convert("L").crop(place), float)).clip(0).sum() / GROUND)


def frames(*voices, length=8):
    return list(frames_of(a_film(*voices, length=length)))


def with_beats(*beats):
    return replace(a_silent_voice("tum", 8), beats=beats)


def png(picture):
    target = BytesIO()
    picture.save(target, "PNG")
    return target.getvalue()


def wearing(look, length=1):
    return FilmVoice("TUM", {"round": look}, (Worn("round", Frame(0), Frame(length)),))


@pytest.mark.parametrize("count", range(1, 9))
def test_no_place_lies_over_another_or_outside_the_frame(count):
    field = np.zeros((HEIGHT, WIDTH), int)
    inner = [(p.name, p.mouth, p.mouth_name, p.word, p.beat) for p in panels(count)]
    feet = (number_place(), count_place(), length_place(), titles_place())
    for left, top, right, bottom in (*(place for places in inner for place in places), *feet):
        assert 0 <= left < right <= WIDTH
        assert 0 <= top < bottom <= HEIGHT
        field[top:bottom, left:right] += 1

    assert field.max() == 1
    assert all(panel.mouth.width == panel.mouth.height >= 140 for panel in panels(count))
    assert len({panel.mouth.width for panel in panels(count)}) == 1


def test_the_largest_number_has_room():
    (picture,) = frames_of(a_film(a_silent_voice("tum", 1), length=1, first_number=999_999))
    _, top, right, bottom = number_place()

    assert len(np.unique(np.asarray(picture.crop((right - 8, top, right + 8, bottom))))) == 1


def test_the_stronger_a_beat_the_more_ink_it_has():
    beats = [Beat(Frame(2 * degree), Frame(2 * degree + 2), degree) for degree in range(3)]
    pictures = frames(with_beats(*beats))
    place = panels(1)[0].beat
    held = [ink(pictures[2 * degree + 1], place) for degree in range(3)]

    assert 0 < held[0] < held[1] / 2 < held[2] / 4
    assert ink(pictures[7], place) == 0


def test_a_beat_is_twice_as_thick_on_the_frame_where_it_lands():
    pictures = frames(with_beats(Beat(Frame(1), Frame(4), 2), Beat(Frame(4), Frame(6), 2)))
    place = panels(1)[0].beat
    inks = [ink(picture, place) for picture in pictures]

    assert inks[2] == inks[3] == inks[5] > 0
    assert inks[1] == inks[4]
    assert 1.9 < inks[1] / inks[2] < 2.1


def test_a_beat_that_began_before_the_film_does_not_land():
    pictures = frames(with_beats(Beat(Frame(0), Frame(3), 2, before=True)))
    inks = [ink(picture, panels(1)[0].beat) for picture in pictures]

    assert inks[0] == inks[1] > 0


def test_a_main_beat_has_a_line_of_its_own():
    plain, main = (frames(with_beats(Beat(Frame(0), Frame(3), 2, main=main)))[1] for main in (False, True))
    left, _, right, bottom = panels(1)[0].beat
    foot = (left, bottom - 3, right, bottom)

    assert ink(plain, foot) == 0
    assert ink(main, foot) > 100


def test_a_pinned_mouth_has_a_mark_beside_the_name():
    looks = looks_of("tum")
    rest = next(iter(looks))
    voice = FilmVoice("TUM", looks, (Worn(rest, Frame(0), Frame(4)), Worn(rest, Frame(4), Frame(8), pinned=True)))
    _, top, right, bottom = panels(1)[0].name
    marked = [ink(picture, (right - 30, top, right, bottom)) > 50 for picture in frames(voice)]

    assert marked == [False] * 4 + [True] * 4


def test_a_word_is_seen_while_it_is_said():
    voice = replace(a_silent_voice("tum", 8), words=(Cell(Frame(2), Frame(5), "acorns"),))
    written = [ink(picture, panels(1)[0].word) > 0 for picture in frames(voice)]

    assert written == [2 <= k < 5 for k in range(8)]


def test_a_word_of_which_the_film_has_a_part_says_so():
    cell = Cell(Frame(0), Frame(2), "acorns", before=True, beyond=True)

    assert seen_of(FilmVoice("TUM", {}, words=(cell,)), 2) == (Seen(word="…acorns…"),) * 2


def test_a_voice_without_mouths_has_only_words():
    voice = FilmVoice("TUM", {}, words=(Cell(Frame(0), Frame(8), "acorns"),))
    picture = frames(voice)[0]

    assert ink(picture, mouth_place(1, 0)) == 0
    assert ink(picture, panels(1)[0].word) > 0


@pytest.mark.parametrize(("rate", "count"), [("24", "1+06"), ("23.976", "1+06"), ("25", "1+05"), ("29.97df", "1+00")])
def test_seconds_and_frames_count_from_nothing_at_the_first_frame(rate, count):
    film = a_film(rate=rate, first_number=1001)

    assert (film.count_of(0), film.count_of(30), film.number_of(30)) == ("0+00", count, 1031)


def test_colours_of_a_picture_are_kept():
    look = png(Image.new("RGB", (30, 30), (200, 40, 60)))
    (picture,) = frames_of(a_film(wearing(look), length=1))

    assert picture.getpixel(tuple(map(int, mouth_place(1, 0).centre))) == (200, 40, 60)


@pytest.mark.parametrize("shape", [(40, 10), (10, 40), (400, 100), (100, 400), (9000, 3)])
def test_a_picture_is_seen_whole_and_in_its_shape(shape):
    picture = picture_of(png(Image.new("L", shape, 0)), 200).convert("L")
    dark = np.asarray(picture) < GROUND / 2
    seen = (dark.any(axis=0).sum(), dark.any(axis=1).sum())

    assert max(seen) == 200
    assert min(seen) == pytest.approx(200 * min(shape) / max(shape), abs=1)


@pytest.mark.parametrize(
    ("image", "tone"),
    [
        (Image.new("LA", (20, 20), (0, 0)), GROUND),
        (Image.new("RGBA", (20, 20), (0, 0, 0, 0)), GROUND),
        (Image.new("1", (20, 20), 0), 0),
        (Image.fromarray(np.full((20, 20), 0x8000, np.uint16)), 0x80),
        (Image.new("P", (20, 20), 0), 0),
    ],
)
def test_a_picture_of_any_kind_of_png_has_its_tones(image, tone):
    assert picture_of(png(image), 40).convert("L").getpixel((20, 20)) == tone


@pytest.mark.parametrize("write", WRITERS)
@pytest.mark.parametrize("content", [b"", b"no picture", png(Image.new("L", (50, 50)))[:60]])
def test_a_picture_that_cannot_be_read_is_named(write, content):
    with pytest.raises(FilmError, match=r"TUM, mouth 'round': the picture cannot be read .*: give a whole PNG"):
        write(a_film(wearing(content), length=1))


def test_a_jpeg_is_no_png():
    target = BytesIO()
    Image.new("L", (20, 20)).save(target, "JPEG")

    with pytest.raises(FilmError, match="give a whole PNG"):
        gif_of(a_film(wearing(target.getvalue()), length=1))


@pytest.mark.parametrize(("width", "height"), [(50_000, 50_000), (9_500, 9_000)])
def test_a_picture_that_claims_to_be_vast_is_refused(width, height):
    # The first chunk of a PNG says how large it is, and each has a CRC (ISO/IEC 15948).
    head = b"IHDR" + width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((8, 0, 0, 0, 0))
    chunk = (13).to_bytes(4, "big") + head + crc32(head).to_bytes(4, "big")
    vast = b"\x89PNG\r\n\x1a\n" + chunk + (4).to_bytes(4, "big") + b"IDAT"

    with pytest.raises(FilmError, match="'round': the picture is too large: give one of 80 million pixels at most"):
        gif_of(a_film(wearing(vast), length=1))


@pytest.mark.parametrize("write", WRITERS)
def test_a_film_without_anybody_is_refused(write):
    with pytest.raises(FilmError, match="give it one character at least"):
        write(replace(a_film(), voices=()))


@pytest.mark.parametrize("write", WRITERS)
def test_a_film_of_nine_is_refused(write):
    with pytest.raises(FilmError, match="9 characters are too many for one film: give it 8 at most"):
        write(a_film(*[a_silent_voice("tum")] * 9))


@pytest.mark.parametrize("text", ["a", "acorns", "Llanfairpwllgwyngyllgogerychwyrndrobwll", "W" * 300, ""])
@pytest.mark.parametrize("width", [40, 200, 600])
def test_a_text_is_never_wider_than_its_place(text, width):
    kept, size = fitted(text, width, size=60, face=BOLD)

    assert typeface(BOLD, size).getlength(kept) <= width
    assert kept == text or (kept.endswith("…") and text.startswith(kept[:-1]))


def test_plans_that_do_not_cover_the_film_are_mistakes_of_ours():
    looks = looks_of("tum")
    rest = next(iter(looks))

    with pytest.raises(ValueError, match="without a gap"):
        FilmVoice("TUM", looks, (Worn(rest, Frame(0), Frame(2)), Worn(rest, Frame(3), Frame(8))))
    with pytest.raises(ValueError, match="no look of"):
        FilmVoice("TUM", {}, (Worn(rest, Frame(0), Frame(2)),))
    with pytest.raises(ValueError, match="do not cover"):
        a_film(a_silent_voice("tum", 7), length=8)
    with pytest.raises(ValueError, match="lies outside"):
        a_film(FilmVoice("TUM", {}, words=(Cell(Frame(0), Frame(9), "acorns"),)), length=8)


def test_numbers_of_consecutive_frames_follow_one_another():
    assert [number_in(picture.convert("L")) for picture in frames(a_voice("tum", 8))] == [*range(1, 9)]
