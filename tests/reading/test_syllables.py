import random
from itertools import pairwise

import pytest

from trackread.core.phones import VOWELS
from trackread.reading.lexicon import bare, cmu_ways
from trackread.reading.syllables import ONSETS, syllables_in

# The project's list of check values, "Maximal onset test set": strict maximal onset, in which a second, independent
# syllabifier agreed. The last two are where it did not (it keeps a consonant after a stressed lax vowel): there,
# strict maximal onset is our choice.
MAXIMAL_ONSET = (
    "EH1 K.S T R AH0",
    "AE1 T.L AH0 S",
    "K AH0 N.S T R AH1 K T",
    "S IH1 NG.ER0",
    "HH AH1 NG.G R IY0",
    "M IH0.S T EY1 K",
    "AE0 B.S T R AE1 K T",
    "AE1.S T R AH0.N AA2 T",
    "AY0.D IY1.AH0",
    "B AH1.T ER0",
    "HH AE1.P IY0",
)


def divided(phones: list[str]) -> str:
    return ".".join(" ".join(phones[first:stop]) for first, stop, _ in syllables_in(phones))


def some_words(count: int) -> list[list[str]]:
    ways = sorted(way.strip() for ways in cmu_ways().values() for way in ways)
    return [way.split() for way in random.Random(0).sample(ways, count)]


@pytest.mark.parametrize("word", MAXIMAL_ONSET)
def test_a_word_divides_by_strict_maximal_onset(word: str) -> None:
    assert divided(word.replace(".", " ").split()) == word


def test_the_nucleus_is_the_vowel() -> None:
    assert syllables_in(["K", "AH0", "N", "S", "T", "R", "AH1", "K", "T"]) == [(0, 3, 1), (3, 9, 6)]


def test_stress_digits_move_nothing() -> None:
    for word in some_words(500):
        assert syllables_in(word) == syllables_in(bare(tuple(word)))


def test_every_vowel_of_the_dictionary_makes_one_syllable_and_every_phone_is_in_one() -> None:
    for word in some_words(4000):
        spans = syllables_in(word)
        vowels = [k for k, phone in enumerate(bare(tuple(word))) if phone in VOWELS]

        assert [nucleus for _, _, nucleus in spans] == vowels or (not vowels and len(spans) == 1)
        assert [k for first, stop, _ in spans for k in range(first, stop)] == list(range(len(word)))
        assert all(first <= nucleus < stop for first, stop, nucleus in spans)


def test_every_onset_inside_a_word_is_legal_and_none_could_be_longer() -> None:
    for word in some_words(4000):
        symbols = bare(tuple(word))
        spans = syllables_in(word)
        for (_, _, before), (first, _, nucleus) in pairwise(spans):
            assert first == nucleus or symbols[first:nucleus] in ONSETS
            assert not any(symbols[k:nucleus] in ONSETS for k in range(before + 1, first))


def test_every_legal_onset_begins_a_word_of_the_dictionary() -> None:
    beginnings = set()
    for ways in cmu_ways().values():
        symbols = bare(tuple(ways[0].split()))
        vowel = next((k for k, symbol in enumerate(symbols) if symbol in VOWELS), 0)
        beginnings.add(symbols[:vowel])

    assert beginnings >= ONSETS


@pytest.mark.parametrize(("phones", "nucleus"), [("HH M", 1), ("SH", 0), ("P S T", 1), ("B R", 1)])
def test_a_word_without_a_vowel_is_one_syllable_around_its_most_sonorous_phone(phones: str, nucleus: int) -> None:
    word = phones.split()

    assert syllables_in(word) == [(0, len(word), nucleus)]
