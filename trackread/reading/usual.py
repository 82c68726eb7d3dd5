"""How long and how loud the phones of a syllable usually are, whoever says them: facts as tables.

Only ratios count, since what is heard is compared with the middle of its take.
"""

from collections.abc import Sequence

from trackread.core.phones import PAUSE, PHONES, VOWELS

# Milliseconds of a phone by itself (inherent durations, Klatt 1979, as printed in Allen, Hunnicutt and Klatt, From Text
# to Speech: The MITalk System, 1987), and dB of a vowel said with one effort (Lehiste and Peterson 1959, Vowel
# Amplitude and Phonemic Stress in American English); both from memory. Open vowels are longer and louder. Diphthongs
# are as loud as their first half, ER as AH.
VOWEL: dict[str, tuple[int, float]] = {
    "AA": (240, 80.2),
    "AE": (230, 79.4),
    "AH": (140, 79.7),
    "AO": (240, 80.6),
    "AW": (260, 80.2),
    "AY": (250, 80.2),
    "EH": (150, 79.3),
    "ER": (180, 79.7),
    "EY": (190, 78.6),
    "IH": (135, 78.1),
    "IY": (155, 75.1),
    "OW": (220, 79.7),
    "OY": (280, 80.6),
    "UH": (160, 78.4),
    "UW": (210, 78.2),
}
OTHER_LEVEL = 75.1  # "hmm", "shh": the softest vowel
# Consonants lie close together, so their kind is enough.
CONSONANT_LENGTHS = {"stop": 80, "affricate": 110, "fricative": 85, "nasal": 65, "approximant": 80}
LENGTHS = {PAUSE: 0} | {
    symbol: VOWEL[symbol][0] if kind == "vowel" else CONSONANT_LENGTHS[kind] for symbol, (kind, _, _) in PHONES.items()
}

# The share of a length that no place can shorten (about the mean of Klatt's least durations; from memory).
FIRM_VOWEL, FIRM_CONSONANT = 0.42, 0.65

# What the place does to the rest (Klatt's rules as printed in Jurafsky and Martin, Speech and Language Processing).
FINAL, NOT_FINAL = 1.4, 0.6  # the rhyme of the last syllable before a pause; a vowel anywhere else
BEFORE_VOICELESS = 0.7
IN_CLUSTER = 0.5  # a consonant beside a consonant
VOICELESS = frozenset({"P", "T", "K", "CH", "F", "TH", "S", "SH"})


def usual_level(nucleus: str) -> float:
    """How loud a nucleus usually is, in dB."""
    return VOWEL[nucleus][1] if nucleus in VOWEL else OTHER_LEVEL


def usual_lengths(symbols: Sequence[str], nucleus: int, *, final: bool) -> list[float]:
    """How long each phone of one syllable usually is, in milliseconds (0 for a pause); `final` if it ends a phrase."""
    return [
        LENGTHS[symbol] * (firm + (1 - firm) * factor)
        for symbol, firm, factor in (
            (symbols[place], FIRM_VOWEL, vowel_factor(symbols, place, final=final))
            if symbols[place] in VOWELS
            else (symbols[place], FIRM_CONSONANT, consonant_factor(symbols, place, final=final and place >= nucleus))
            for place in range(len(symbols))
        )
    ]


def vowel_factor(symbols: Sequence[str], place: int, *, final: bool) -> float:
    closed = place + 1 < len(symbols) and symbols[place + 1] in VOICELESS
    return (FINAL if final else NOT_FINAL) * (BEFORE_VOICELESS if closed else 1)


def consonant_factor(symbols: Sequence[str], place: int, *, final: bool) -> float:
    beside = [symbols[k] for k in (place - 1, place + 1) if 0 <= k < len(symbols)]
    return (FINAL if final else 1) * (IN_CLUSTER if any(symbol not in VOWELS for symbol in beside) else 1)
