"""How the parts of a reading are written for people and other programs: sounds, symbols and syllables as text."""

from bisect import bisect_left, bisect_right

from trackread.core.phones import ipa, respelling
from trackread.core.reading import Reading, Syllable, Word


def sounds_of(reading: Reading, *, as_ipa: bool) -> tuple[str, ...]:
    """Each phone as it is printed, respelt or in IPA; a pause is empty."""
    digits = stress_digits(reading)
    if as_ipa:
        return tuple(ipa(phone.symbol, stressed=digits.get(k) != 0) for k, phone in enumerate(reading.phones))
    return tuple(respelling(phone.symbol) for phone in reading.phones)


def arpabet_of(reading: Reading) -> tuple[str, ...]:
    """Each phone in ARPAbet, the vowel of a syllable with the dictionary's stress digit."""
    digits = stress_digits(reading)
    return tuple(f"{phone.symbol}{digits.get(k, '')}" for k, phone in enumerate(reading.phones))


def stress_digits(reading: Reading) -> dict[int, int]:
    """The dictionary's stress digit by the phone that carries it."""
    return {syllable.nucleus: syllable.lexical for syllable in reading.syllables}


def syllable_text(reading: Reading, syllable: Syllable) -> str:
    """A syllable in letters: the word's own where it is the only one, else its sounds respelt.

    English spelling does not say where one syllable's letters end, so `ticket` is `tih` and `kiht`.
    """
    word = word_with(reading, syllable)
    if word and only_one_in(reading, word) and (letters := letters_of(word)):
        return letters
    return "".join(respelling(phone.symbol) for phone in reading.phones[syllable.first : syllable.stop])


def word_with(reading: Reading, syllable: Syllable) -> Word | None:
    """The word that has a syllable, found by halving: words are in order and apart."""
    number = bisect_right(reading.words, syllable.first, key=lambda word: word.first) - 1
    return reading.words[number] if number >= 0 and is_in(syllable, reading.words[number]) else None


def only_one_in(reading: Reading, word: Word) -> bool:
    """Whether a word has just one syllable."""
    low, high = (bisect_left(reading.syllables, phone, key=lambda one: one.first) for phone in (word.first, word.stop))
    return sum(is_in(one, word) for one in reading.syllables[low:high]) == 1


def letters_of(word: Word) -> str:
    """A word in small letters, without marks but apostrophes."""
    return "".join(c for c in word.text.lower() if c.isalnum() or c in "'’")


def is_in(syllable: Syllable, word: Word) -> bool:
    """Whether the word has this syllable."""
    return word.first <= syllable.first and syllable.stop <= word.stop
