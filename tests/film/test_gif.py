"""The animated GIF, read by Pillow."""

from fractions import Fraction
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageSequence

from tests.film.makers import a_film, a_silent_voice, a_voice
from tests.film.watching import mouth_in, number_in, planned
from trackread.core.timebase import NAMED_RATES
from trackread.film.film import Film
from trackread.film.gif import delays_of, gif_of, step_of
from trackread.film.places import NUMBER_SIZE, mouth_place, number_place

NAMES = sorted(NAMED_RATES)


def halved(place):
    return tuple(side // 2 for side in place)


def shown(gif):
    """Each picture in greys, and for how many milliseconds it is shown."""
    with Image.open(BytesIO(gif)) as image:
        return [(frame.convert("L"), frame.info["duration"]) for frame in ImageSequence.Iterator(image)]


@given(st.sampled_from(NAMES), st.integers(1, 2000))
def test_no_picture_comes_more_than_five_milliseconds_early_or_late(name, length):
    film = Film((), a_film(rate=name).rate, length, 1, ())
    every, at = step_of(film), 0

    for place, delay in enumerate(delays_of(film)):
        assert abs(Fraction(at, 100) - place * every / NAMED_RATES[name]) <= Fraction(5, 1000)
        at += delay
    assert abs(Fraction(at, 100) - length / NAMED_RATES[name]) <= Fraction(5, 1000)


@given(st.sampled_from(NAMES), st.integers(1, 300).map(lambda half: 2 * half))
def test_no_picture_is_shown_for_less_than_browsers_can(name, length):
    assert min(delays_of(Film((), a_film(rate=name).rate, length, 1, ()))) >= 2


@pytest.mark.parametrize(("rate", "every"), [("24", 1), ("29.97", 1), ("50", 1), ("59.94", 2)])
def test_the_file_has_the_frames_and_the_delays(rate, every):
    film = a_film(a_voice("tum", 40), length=40, rate=rate)
    pictures = shown(gif_of(film))

    assert [number_in(picture, halved(number_place()), NUMBER_SIZE // 2) for picture, _ in pictures] == [
        *range(1, 41, every)
    ]
    assert [milliseconds for _, milliseconds in pictures] == [10 * delay for delay in delays_of(film)]


def test_mouths_are_read_from_the_pixels():
    film = a_film(a_voice("brack", 40), a_silent_voice("tum", 40), length=40)
    places = [halved(mouth_place(2, index)) for index in range(2)]
    found = [
        [mouth_in(picture, *both) for both in zip(film.voices, places, strict=True)]
        for picture, _ in shown(gif_of(film))
    ]

    assert found == [planned(film, k) for k in range(40)]


def test_it_begins_again_at_its_end():
    with Image.open(BytesIO(gif_of(a_film()))) as image:
        assert image.info["loop"] == 0


def test_a_film_of_one_frame_is_one_picture():
    assert len(shown(gif_of(a_film(a_silent_voice("tum", 1), length=1)))) == 1
