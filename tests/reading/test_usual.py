"""Usual lengths and levels against measurements of connected speech."""

from statistics import mean

import pytest

from trackread.core.phones import PAUSE, PHONES, VOWELS
from trackread.reading.usual import usual_lengths, usual_level


def vowel_in_had(vowel: str, *, final: bool) -> float:
    return usual_lengths(["HH", vowel, "D"], 1, final=final)[1]


# Hillenbrand, Clark and Houde 2000: vowels of hVd words said alone last 272 ms in the mean, with a deviation of 64.
def test_vowels_of_words_said_alone_are_as_long_as_was_measured() -> None:
    lengths = [vowel_in_had(vowel, final=True) for vowel in sorted(VOWELS)]

    assert mean(lengths) == pytest.approx(272, abs=64)
    assert all(144 <= length <= 400 for length in lengths)


# Klatt 1976 (from memory): in connected speech a stressed vowel lasts about 130 ms and a consonant about 70.
def test_phones_within_a_phrase_are_as_long_as_was_measured() -> None:
    consonants = [usual_lengths([one, "AA"], 1, final=False)[0] for one in PHONES if one not in VOWELS]

    assert mean(vowel_in_had(vowel, final=False) for vowel in sorted(VOWELS)) == pytest.approx(130, rel=0.2)
    assert mean(consonants) == pytest.approx(70, rel=0.2)


# A study of initial clusters (JASA): consonants in clusters of two are 12 % shorter, of three 18 %.
def test_a_consonant_beside_another_is_shorter_by_what_was_measured() -> None:
    alone, beside = usual_lengths(["S", "AA"], 1, final=False), usual_lengths(["S", "T", "AA"], 2, final=False)

    assert 0.12 <= 1 - beside[0] / alone[0] <= 0.18


@pytest.mark.parametrize("vowel", sorted(VOWELS))
def test_a_vowel_is_longer_at_the_end_and_shorter_before_a_voiceless_consonant(vowel: str) -> None:
    assert vowel_in_had(vowel, final=True) > vowel_in_had(vowel, final=False)
    assert usual_lengths([vowel, "T"], 0, final=False)[0] < usual_lengths([vowel, "D"], 0, final=False)[0]


def test_what_comes_before_the_vowel_is_not_lengthened_at_the_end() -> None:
    final, within = (usual_lengths(["S", "AA", "M"], 1, final=final) for final in (True, False))

    assert final[0] == within[0]
    assert final[2] > within[2]


def test_a_pause_has_no_usual_length() -> None:
    assert usual_lengths(["T", PAUSE, "AA"], 2, final=False)[1] == 0


# Lehiste and Peterson 1959 (from memory): about 5 dB between the most open vowels and the closest.
def test_open_vowels_are_louder_than_close_ones() -> None:
    assert usual_level("AA") - usual_level("IY") == pytest.approx(5, abs=1)
    assert min(usual_level(vowel) for vowel in ("AA", "AE", "AO")) > max(
        usual_level(v) for v in ("IY", "IH", "UW", "UH")
    )


def test_a_nucleus_that_is_no_vowel_has_a_level() -> None:
    assert usual_level("M") == min(usual_level(vowel) for vowel in VOWELS)
