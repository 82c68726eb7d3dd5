"""Laws of the other ways a word may be said, on random words of the dictionary."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.phones import PHONES, VOWELS
from trackread.reading.lexicon import bare, cmu_ways, dictionary_ways
from trackread.reading.variants import MOST, WEAK_FORMS, clipped, is_vowel, non_rhotic, ways_with_variants

words = st.sampled_from(sorted(word for word in cmu_ways() if word.isalpha())) | st.sampled_from(sorted(WEAK_FORMS))


def spoken(word):
    return ways_with_variants(word, dictionary_ways(word))


def said(word):
    return {" ".join(bare(way)) for way in spoken(word)}


@given(words)
def test_the_ways_of_the_dictionary_stay_and_stay_first(word):
    known = list(dict.fromkeys(map(bare, dictionary_ways(word))))

    assert [bare(way) for way in spoken(word)][: len(known)] == known[:MOST]
    assert spoken(word)[0] == dictionary_ways(word)[0]


# In the dictionary two of their ways differ in stress alone.
@pytest.mark.parametrize("word", ["been", "with", "increases", "islam"])
def test_a_way_that_comes_twice_with_other_stress_keeps_its_first_place(word):
    assert spoken(word)[0] == dictionary_ways(word)[0]


@given(words)
def test_no_way_comes_twice_and_there_are_not_too_many(word):
    ways = [bare(way) for way in spoken(word)]

    assert len(set(ways)) == len(ways) <= MOST


@given(words)
def test_every_way_is_phones_with_stress_on_vowels_only(word):
    for way in spoken(word):
        assert way
        assert set(bare(way)) <= set(PHONES)
        assert all((phone[-1] in "012") == (phone.rstrip("012") in VOWELS) for phone in way)


@given(words)
def test_a_way_is_neither_longer_nor_has_other_syllables_save_for_a_schwa(word):
    for way in dictionary_ways(word):
        for other in (*clipped(way), *non_rhotic(way)):
            assert len(other) <= len(way)
            assert sum(map(is_vowel, other)) - sum(map(is_vowel, way)) in range(way.count("R") + 1)


@given(words)
def test_a_non_rhotic_way_has_no_r_after_a_vowel_unless_a_vowel_follows(word):
    for way in dictionary_ways(word):
        for other in non_rhotic(way):
            heard = [k for k, phone in enumerate(other) if phone == "R" and k and is_vowel(other[k - 1])]
            assert all(k + 1 < len(other) and is_vowel(other[k + 1]) for k in heard)


@given(words)
def test_a_word_has_a_non_rhotic_way_only_if_it_has_an_r(word):
    for way in dictionary_ways(word):
        assert {"R", "ER"} & set(bare(way)) or not list(non_rhotic(way))


@given(words)
def test_what_is_clipped_is_one_t_or_d_beside_a_consonant(word):
    for way in dictionary_ways(word):
        for other in clipped(way):
            place = next((k for k, pair in enumerate(zip(way, other, strict=False)) if len(set(pair)) > 1), len(other))
            assert (*other[:place], way[place], *other[place:]) == way
            assert way[place] in ("T", "D")


# As British and careless speakers say them (Roach, English Phonetics and Phonology, ch. 7, 12, 14; from memory).
@pytest.mark.parametrize(
    ("word", "way"),
    [
        ("car", "K AA"),
        ("hard", "HH AA D"),
        ("here", "HH IH AH"),
        ("tired", "T AY AH D"),
        ("ticker", "T IH K AH"),
        ("hand", "HH AE N"),
        ("friends", "F R EH N Z"),
        ("last", "L AE S"),
        ("and", "AH N"),
        ("of", "AH"),
        ("him", "IH M"),
        ("going", "G OW AH N"),
    ],
)
def test_a_known_way_is_offered(word, way):
    assert way in said(word)


@pytest.mark.parametrize(("word", "way"), [("very", "V EH IY"), ("tram", "T AE M"), ("red", "EH D"), ("bed", "B EH")])
def test_a_way_that_nobody_says_is_not_offered(word, way):
    assert way not in said(word)


@pytest.mark.parametrize("word", WEAK_FORMS)
def test_every_weak_form_is_offered(word):
    assert {" ".join(bare(tuple(form.split()))) for form in WEAK_FORMS[word]} <= said(word)
