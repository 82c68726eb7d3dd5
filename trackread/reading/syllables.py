"""The syllables of a spoken word, by one rule: strict maximal onset.

Between two vowels as many consonants go to the second as may begin an English word; the rest close the
first. Stress moves nothing: `B AH1.T ER0`, not `B AH1 T.ER0`. Spans are indices, `stop` not included.
"""

from collections.abc import Sequence
from itertools import pairwise

from trackread.core.phones import PHONES, VOWELS

# Consonants that may begin an English word (Gimson, An Introduction to the Pronunciation of English, and
# Roach, English Phonetics and Phonology, chapter 8; from memory). Each begins words of the CMU dictionary.
# Left out, though the dictionary has them in names and loans: `SH W`, `SH L`, `T S`, `V L`, `Z W` and the like.
ONSETS = frozenset(
    tuple(onset.split())
    for onset in (
        *(symbol for symbol, (kind, _, _) in PHONES.items() if kind != "vowel" and symbol != "NG"),
        *("P R", "P L", "P Y", "B R", "B L", "B Y", "T R", "T W", "T Y", "D R", "D W", "D Y"),
        *("K R", "K L", "K W", "K Y", "G R", "G L", "G W", "G Y"),
        *("F R", "F L", "F Y", "V Y", "TH R", "TH W", "TH Y", "SH R", "HH W", "HH Y"),
        *("S P", "S T", "S K", "S M", "S N", "S F", "S L", "S W", "S Y"),
        *("M Y", "N Y", "L Y"),  # music, new as the British say it, lute as it was once said
        *("S P R", "S P L", "S P Y", "S T R", "S T Y", "S K R", "S K L", "S K W", "S K Y"),
    )
)

# How loud a kind of phone is beside the others (the sonority hierarchy: Selkirk 1984, Clements 1990; from memory).
SONORITY = {"vowel": 5, "approximant": 4, "nasal": 3, "fricative": 2, "affricate": 1, "stop": 0}


def syllables_in(phones: Sequence[str]) -> list[tuple[int, int, int]]:
    """The syllables of one word as (first, stop, nucleus), together all of its phones, in order.

    `phones` are ARPAbet with or without stress digits. A word without a vowel ("hmm", "shh") is one
    syllable around its most sonorous phone, the first of several alike.
    """
    symbols = [phone.rstrip("012") for phone in phones]
    nuclei = [k for k, symbol in enumerate(symbols) if symbol in VOWELS] or [most_sonorous(symbols)]
    starts = [onset_start(symbols, *pair) for pair in pairwise(nuclei)]
    return list(zip([0, *starts], [*starts, len(symbols)], nuclei, strict=True))


def onset_start(symbols: Sequence[str], vowel: int, next_vowel: int) -> int:
    """Where the syllable of `next_vowel` starts: its longest legal onset after `vowel`."""
    starts = range(vowel + 1, next_vowel)
    return next((k for k in starts if tuple(symbols[k:next_vowel]) in ONSETS), next_vowel)


def most_sonorous(symbols: Sequence[str]) -> int:
    return max(range(len(symbols)), key=lambda k: SONORITY[PHONES[symbols[k]][0]])
