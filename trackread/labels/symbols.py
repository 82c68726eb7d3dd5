"""Other people's phone symbols to ours: ARPAbet as corpora write it, SAMPA of English, and IPA.

A label may stand for no phone (silence, a glottal catch), for one, or for two that were marked as one.
Sources, all from memory: the TIMIT phone set (Garofolo et al. 1993), SAMPA for English (Wells 1997), IPA as
the Handbook (1999) writes American and Wells's pronouncing dictionary British English. A remark stands where
a row is a decision of ours.
"""

import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from trackread.core.phones import PHONES, STOPS

Table = dict[str, tuple[str, ...]]

SILENCE = ""
SILENCE_NAMES = "_ # h# sil pau sp spn epi nsn noise breath laugh <sil> <eps> <p> <p:> {sl} {ns} {br}"
SILENCES = frozenset({SILENCE, *SILENCE_NAMES.split()})

# A closure marked apart: the stop it is, where it names one, and the stops that it can be the first part of.
CLOSURES: dict[str, tuple[str, frozenset[str]]] = {
    "cl": (SILENCE, STOPS),
    "vcl": (SILENCE, STOPS),
    "pcl": ("P", frozenset({"P", "B"})),
    "bcl": ("B", frozenset({"P", "B"})),
    "tcl": ("T", frozenset({"T", "D", "CH", "JH"})),
    "dcl": ("D", frozenset({"T", "D", "CH", "JH"})),
    "kcl": ("K", frozenset({"K", "G"})),
    "gcl": ("G", frozenset({"K", "G"})),
}

# Breath after a stop, marked apart: the last part of that stop.
ASPIRATION = "aspiration"


def alike(symbols: dict[str, str]) -> Table:
    """Rows from our phone and the symbols that others write for it."""
    return {symbol: (phone,) for phone, written in symbols.items() for symbol in written.split()}


ARPABET: Table = {
    **{symbol: (symbol,) for symbol in PHONES},
    **alike({"AH": "AX AX-H", "IH": "IX", "UW": "UX", "ER": "AXR", "N": "NX EN", "HH": "HV", "L": "EL", "M": "EM"}),
    "OH": ("AA",),  # the vowel of British "lot"
    "ENG": ("NG",),
    "DX": ("T",),  # a flap; the dictionary writes T more often than D
    "Q": (),  # a glottal catch is no phone of the dictionary
    "PT": ("P", "T"),
}

SAMPA: Table = {
    **alike({symbol: symbol.lower() for symbol in ("P", "B", "T", "D", "K", "G", "F", "V", "S", "Z", "M", "N", "W")}),
    **alike({"TH": "T", "DH": "D", "SH": "S", "ZH": "Z", "HH": "h", "CH": "tS", "JH": "dZ"}),
    **alike({"NG": "N", "L": "l 5", "R": "r r\\", "Y": "j"}),
    **alike({"IY": "i: i", "IH": "I", "EH": "e E", "AE": "{ a", "AH": "V @ 6", "ER": "3: 3 @:"}),
    **alike({"AA": "A: a: Q O", "AO": "O:", "UH": "U", "UW": "u: u }:"}),
    **alike({"EY": "eI ei", "AY": "aI ai", "OY": "OI oi", "AW": "aU au", "OW": "@U @u oU"}),
    # Before an r that British English leaves out, the dictionary has a plain vowel.
    **alike({"IH": "I@ i@", "EH": "e@ e:", "UH": "U@ u@"}),
    **alike({"AE": "A", "AO": "o:"}),  # so in Australian corpora
    "4": ("T",),
    "?": (),
    "db": ("D", "B"),
    "dH": ("D", ASPIRATION),
    "H": (ASPIRATION,),
}

IPA: Table = {
    **{symbol: (phone,) for phone, (_, _, symbol) in PHONES.items()},
    **alike({"IY": "iː", "IH": "ɨ ᵻ", "EH": "e", "AE": "a", "AH": "ə ɐ", "ER": "ɚ ɜ ɜː ɜ˞ ə˞ əː"}),
    **alike({"AA": "ɑː ɒ", "AO": "ɔː oː", "UW": "uː ʉ ʉː", "OW": "o ou ow əʊ əʉ"}),
    **alike({"EY": "ei ej æɪ", "AY": "ai aj ɑɪ ɑe", "OY": "oɪ oi ɔi ɔj", "AW": "au aw æɔ"}),
    **alike({"IH": "ɪə", "EH": "eə ɛə eː ɛː", "UH": "ʊə"}),  # before an r that is left out, as in SAMPA
    **alike({"G": "g", "CH": "ʧ", "JH": "ʤ", "HH": "ɦ ç", "M": "ɱ", "L": "ɫ", "R": "r ɻ", "W": "ʍ"}),
    **alike({"T": "ɾ", "N": "ɾ̃"}),  # flaps, as in ARPAbet
    "ʔ": (),
    "ʰ": (ASPIRATION,),
}

# Stress, length by half, release, rounding and the like: said of a phone without making it another.
REMARKS = str.maketrans("", "", "ˈˌˑʰʷʲˠˤ˺")
CEDILLA = "\N{COMBINING CEDILLA}"


@dataclass(frozen=True, slots=True)
class Alphabet:
    """One way to write phones; `plain` takes from a label what its table has no rows for."""

    name: str
    table: Table
    plain: Callable[[str], str]

    def phones(self, label: str) -> tuple[str, ...] | None:
        """What one label stands for; None if that is unknown here. Two phones may stand apart by _ or a full stop."""
        whole = self.part(label)
        if whole is not None:
            return whole
        parts = [self.part(part) for part in re.split("[_.]", label)]
        return None if None in parts else tuple(phone for part in parts if part for phone in part)

    def part(self, label: str) -> tuple[str, ...] | None:
        return self.table.get(label, self.table.get(self.plain(label)))


def plain_arpabet(label: str) -> str:
    """In capitals and without the stress digit."""
    return re.sub("[012]$", "", label).upper()


def plain_sampa(label: str) -> str:
    """Without stress in front, and the mark of a syllable without vowel behind."""
    return label.lstrip('"%').removesuffix("=")


def plain_ipa(label: str) -> str:
    """Without stress, ties and the small marks on letters; a long vowel that has no row is a short one."""
    letters = unicodedata.normalize("NFD", label.replace(":", "ː").translate(REMARKS))
    bare = "".join(c for c in letters if c == CEDILLA or not unicodedata.combining(c))
    bare = unicodedata.normalize("NFC", bare)
    return bare if bare in IPA else bare.replace("ː", "")


# Where several explain a set of labels equally well, the first does.
ALPHABETS = (
    Alphabet("ARPAbet", ARPABET, plain_arpabet),
    Alphabet("SAMPA", SAMPA, plain_sampa),
    Alphabet("IPA", IPA, plain_ipa),
)


def alphabet_of(labels: Iterable[str]) -> Alphabet:
    """The alphabet that explains most of these labels."""
    spoken = {label for label in labels if not is_silence(label) and label.lower() not in CLOSURES}
    return max(ALPHABETS, key=lambda alphabet: sum(alphabet.phones(label) is not None for label in spoken))


def is_silence(label: str) -> bool:
    return label.lower() in SILENCES
