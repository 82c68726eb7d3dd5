"""How the parts of a reading are written for people and other programs: sounds, symbols and syllables as text."""

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
    word = next((word for word in reading.words if is_in(syllable, word)), None)
    if word and sum(is_in(other, word) for other in reading.syllables) == 1:
        letters = "".join(c for c in word.text.lower() if c.isalnum() or c in "'’")
        if letters:
            return letters
    return "".join(respelling(phone.symbol) for phone in reading.phones[syllable.first : syllable.stop])


def is_in(syllable: Syllable, word: Word) -> bool:
    """Whether the word has this syllable."""
    return word.first <= syllable.first and syllable.stop <= word.stop
