"""Guesses at words, against the CMU Pronouncing Dictionary, which eSpeak NG is not made from."""

import random
import string
from difflib import SequenceMatcher

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.phones import PHONES, VOWELS
from trackread.reading.guess import FROM_IPA, TOKEN, guess, ipa_of
from trackread.reading.lexicon import bare, cmu_ways, dictionary_ways

WORDS = sorted(word for word in cmu_ways() if word.isalpha())


def wrong_phones(word):
    """How many phones of the nearest of the dictionary's ways are wrong in the guess, and of how many."""
    guessed = bare(guess(word))
    found = []
    for way in map(bare, dictionary_ways(word)):
        blocks = SequenceMatcher(None, guessed, way, autojunk=False).get_matching_blocks()
        found.append((max(len(guessed), len(way)) - sum(block.size for block in blocks), len(way)))
    return min(found)


def test_most_phones_of_a_guess_are_right():
    # A sample; scripts/measure-guess gives the figure to quote, some 10 %.
    found = [wrong_phones(word) for word in random.Random(1).sample(WORDS, 200)]
    wrong, phones = (sum(column) for column in zip(*found, strict=True))

    assert phones > 1000
    assert wrong / phones < 0.15
    assert sum(wrong == 0 for wrong, _ in found) > 100


# From the dictionary, as everyone says them.
@pytest.mark.parametrize(
    ("word", "phones"),
    [
        ("tram", "T R AE1 M"),
        ("medium", "M IY1 D IY0 AH0 M"),
        ("hurry", "HH ER1 IY0"),
        ("button", "B AH1 T AH0 N"),
        ("fire", "F AY1 ER0"),
        ("here", "HH IH1 R"),
        ("judge", "JH AH1 JH"),
        ("thing", "TH IH1 NG"),
        ("brother's", "B R AH1 DH ER0 Z"),
    ],
)
def test_plain_words_are_guessed_as_the_dictionary_has_them(word, phones):
    assert " ".join(guess(word)) == phones


def test_nothing_that_espeak_says_is_passed_over():
    left = {mark for word in random.Random(2).sample(WORDS, 5000) for mark in TOKEN.sub("", ipa_of(word))}

    assert left <= set(" ːʲ̃")


def test_every_sound_of_the_table_is_a_phone():
    assert {symbol for way in FROM_IPA.values() for symbol in way.split()} <= set(PHONES)


@given(st.text(string.ascii_lowercase + "'", min_size=1, max_size=12).filter(lambda word: word.strip("'")))
def test_every_spelling_is_guessed_in_phones_with_stress_on_vowels_only(word):
    phones = guess(word)

    assert phones
    assert set(bare(phones)) <= set(PHONES)
    assert all((phone[-1] in "012") == (phone.rstrip("012") in VOWELS) for phone in phones)


def test_a_guess_is_the_same_each_time():
    assert len({guess("mumblethorpe") for _ in range(3)}) == 1


@pytest.mark.parametrize("nothing", ["", "'", "''", " "])
def test_what_cannot_be_said_has_no_guess(nothing):
    assert guess(nothing) == ()
