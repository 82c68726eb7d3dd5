"""The 39 phones of North American English that the dictionary uses, and pauses: facts as tables.

Symbols are ARPAbet as in the CMU Pronouncing Dictionary, without stress digits. `SIL` is a pause,
which is a phone like any other. IPA follows the usual correspondences (IPA Handbook, American
English); the respelling is our own: what an English reader says aloud without training.
"""

PAUSE = "SIL"

# symbol: (kind, respelling, IPA)
PHONES: dict[str, tuple[str, str, str]] = {
    "AA": ("vowel", "ah", "ɑ"),
    "AE": ("vowel", "a", "æ"),
    "AH": ("vowel", "uh", "ʌ"),
    "AO": ("vowel", "aw", "ɔ"),
    "AW": ("vowel", "ow", "aʊ"),
    "AY": ("vowel", "eye", "aɪ"),
    "EH": ("vowel", "eh", "ɛ"),
    "ER": ("vowel", "er", "ɝ"),
    "EY": ("vowel", "ay", "eɪ"),
    "IH": ("vowel", "ih", "ɪ"),
    "IY": ("vowel", "ee", "i"),
    "OW": ("vowel", "oh", "oʊ"),
    "OY": ("vowel", "oy", "ɔɪ"),
    "UH": ("vowel", "uu", "ʊ"),
    "UW": ("vowel", "oo", "u"),
    "P": ("stop", "p", "p"),
    "B": ("stop", "b", "b"),
    "T": ("stop", "t", "t"),
    "D": ("stop", "d", "d"),
    "K": ("stop", "k", "k"),
    "G": ("stop", "g", "ɡ"),
    "CH": ("affricate", "ch", "tʃ"),
    "JH": ("affricate", "j", "dʒ"),
    "F": ("fricative", "f", "f"),
    "V": ("fricative", "v", "v"),
    "TH": ("fricative", "th", "θ"),
    "DH": ("fricative", "th", "ð"),
    "S": ("fricative", "s", "s"),
    "Z": ("fricative", "z", "z"),
    "SH": ("fricative", "sh", "ʃ"),
    "ZH": ("fricative", "zh", "ʒ"),
    "HH": ("fricative", "h", "h"),
    "M": ("nasal", "m", "m"),
    "N": ("nasal", "n", "n"),
    "NG": ("nasal", "ng", "ŋ"),
    "L": ("approximant", "l", "l"),
    "R": ("approximant", "r", "ɹ"),
    "W": ("approximant", "w", "w"),
    "Y": ("approximant", "y", "j"),
}

VOWELS = frozenset(symbol for symbol, (kind, _, _) in PHONES.items() if kind == "vowel")
STOPS = frozenset(symbol for symbol, (kind, _, _) in PHONES.items() if kind in ("stop", "affricate"))


def respelling(symbol: str) -> str:
    """How a phone is written for a reader without phonetics: `IY` as `ee`; a pause is empty."""
    return "" if symbol == PAUSE else PHONES[symbol][1]


def ipa(symbol: str, *, stressed: bool = True) -> str:
    """A phone in IPA; unstressed `AH` and `ER` are the reduced vowels; a pause is empty."""
    if not stressed and symbol in ("AH", "ER"):
        return {"AH": "ə", "ER": "ɚ"}[symbol]
    return "" if symbol == PAUSE else PHONES[symbol][2]
