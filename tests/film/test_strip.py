"""The pages with all frames on them, read from their pixels."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from tests.film.makers import a_film, a_silent_voice, a_voice
from tests.film.watching import mouth_in, number_in, planned
from trackread.film.strip import IN_ROW, spots_of, strip_of

DIGITS = 20  # pixels to the em


def opened(pages):
    return [Image.open(BytesIO(page)).convert("L") for page in pages]


@pytest.mark.parametrize(("length", "every"), [(48, 1), (47, 2), (100, 3), (200, 1), (1, 1)])
def test_every_frame_stands_on_the_pages_once_with_its_number_and_its_mouths(length, every):
    voices = (a_voice("brack", length), a_silent_voice("tum", length), a_voice("miss-pell", length, seed=1))
    film = a_film(*voices, length=length, first_number=101)
    pages, spots = opened(strip_of(film, every=every)), list(spots_of(film, every=every))
    numbers = [number_in(pages[spot.page], spot.number, DIGITS) for spot in spots]
    mouths = [[mouth_in(pages[spot.page], *both) for both in zip(voices, spot.mouths, strict=True)] for spot in spots]

    assert numbers == [*range(101, 101 + length, every)]
    assert mouths == [planned(film, k) for k in range(0, length, every)]
    assert {spot.page for spot in spots} == set(range(len(pages)))


def test_twelve_frames_stand_in_a_row():
    spots = list(spots_of(a_film()))
    rows = {spot.number.top for spot in spots}

    assert IN_ROW == 12
    assert [sum(spot.number.top == row for spot in spots) for row in sorted(rows)] == [12] * 4


@pytest.mark.parametrize("count", [1, 2, 5, 8])
def test_nothing_on_a_page_lies_over_anything_else(count):
    film = a_film(*[a_silent_voice("tum", 120) for _ in range(count)], length=120)
    pages = [np.zeros((image.height, image.width), int) for image in opened(strip_of(film))]
    for spot in spots_of(film):
        for left, top, right, bottom in (spot.number, *spot.mouths, *map(spot.words, range(count))):
            assert left >= 0
            assert bottom <= len(pages[spot.page])
            assert right <= len(pages[spot.page][0])
            pages[spot.page][top:bottom, left:right] += 1

    assert max(page.max() for page in pages) == 1


def test_frames_on_which_a_word_is_said_are_marked():
    film = a_film()
    pages = opened(strip_of(film))
    for index, voice in enumerate(film.voices):
        said = {k for word in voice.words for k in range(word.first, word.stop)}
        marked = set()
        for spot in spots_of(film):
            place = spot.words(index)
            marked |= {spot.frame} if pages[0].getpixel((place.left + 12, place.bottom - 5)) < 240 else set()
        assert said
        assert marked == said


def test_a_bar_marks_the_frame_on_which_a_word_begins():
    film = a_film()
    pages = opened(strip_of(film))
    for index, voice in enumerate(film.voices):
        begun = set()
        for spot in spots_of(film):
            place = spot.words(index)
            begun |= {spot.frame} if pages[0].getpixel((place.left + 1, place.bottom - 6)) < 50 else set()
        assert begun == {word.first for word in voice.words}


def test_a_pinned_mouth_has_a_dot():
    film = a_film()
    page = opened(strip_of(film))[0]
    for index, voice in enumerate(film.voices):
        pinned = {k for one in voice.worn if one.pinned for k in range(one.first, one.stop)}
        dotted = {
            spot.frame
            for spot in spots_of(film)
            if page.getpixel((spot.mouths[index].right - 10, spot.mouths[index].top + 10)) < 50
        }
        assert pinned
        assert dotted == pinned


def test_the_same_film_has_the_same_pages():
    assert strip_of(a_film()) == strip_of(a_film())


def test_less_than_every_frame_is_a_mistake_of_ours():
    with pytest.raises(ValueError, match="not every 0"):
        strip_of(a_film(), every=0)
