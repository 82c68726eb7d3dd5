"""Which word a syllable is of, found quickly, against looking through all words."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading
from trackread.core.spelling import is_in, only_one_in, syllable_text, word_with

WORDS = st.lists(st.sampled_from([("ticket", "T IH1 K IH0 T"), ("a", "AH0"), ("-", "-"), ("hm", "HH M")]), min_size=1)


@given(WORDS, st.data())
def test_a_syllable_is_of_the_word_that_has_all_its_sounds(said, data):
    """Some words are taken away, so that their syllables are of none."""
    whole = a_reading(*("-" if text == "-" else (text, sounds) for text, sounds in said))
    words = tuple(word for word in whole.words if data.draw(st.booleans()))
    reading = replace(whole, words=words)
    found = [word_with(reading, one) for one in reading.syllables]

    assert found == [next((word for word in words if is_in(one, word)), None) for one in reading.syllables]
    for word in words:
        assert only_one_in(reading, word) == (sum(is_in(one, word) for one in reading.syllables) == 1)


def test_only_a_word_of_one_syllable_keeps_its_letters():
    reading = a_reading(("the", "DH AH0"), ("ticket", "T IH1 K IH0 T"))

    assert [syllable_text(reading, one) for one in reading.syllables] == ["the", "tih", "kiht"]
