"""Other people's phone symbols to ours: ARPAbet as corpora write it, and SAMPA of English.

A label may stand for no phone (silence, or a closure that belongs to the stop after it), for one, or
for two that were marked as one. Sources: the TIMIT phone set (Garofolo et al. 1993) and SAMPA for
English (Wells 1997), both from memory; the remark says where a row is a decision of ours.
"""

import re

from trackread.core.phones import PHONES

SILENCES = frozenset({"", "_", "#", "h#", "sil", "pau", "sp", "spn", "epi", "<sil>", "<p:>", "nsn"})

# Closures, and aspiration marked apart: part of the stop beside them.
CLOSURES = frozenset({"cl", "vcl", "pcl", "tcl", "kcl", "qcl", "bcl", "dcl", "gcl"})
ASPIRATION = frozenset({"H"})  # in narrow SAMPA only

ARPABET: dict[str, tuple[str, ...]] = {
    **{symbol: (symbol,) for symbol in PHONES},
    "AX": ("AH",),
    "AX-H": ("AH",),
    "IX": ("IH",),
    "UX": ("UW",),
    "AXR": ("ER",),
    "DX": ("T",),  # a flap; the dictionary writes T
    "NX": ("N",),
    "HV": ("HH",),
    "EL": ("L",),
    "EM": ("M",),
    "EN": ("N",),
    "ENG": ("NG",),
    "OH": ("AA",),
    "Q": (),  # a glottal catch is no phone of English spelling
    "PT": ("P", "T"),
}

SAMPA: dict[str, tuple[str, ...]] = {
    **{c: (c.upper(),) for c in "p b t d k g f v s z m n l r w".split()},
    **{"T": ("TH",), "D": ("DH",), "S": ("SH",), "Z": ("ZH",), "N": ("NG",), "j": ("Y",), "h": ("HH",)},
    **{"tS": ("CH",), "dZ": ("JH",), "4": ("T",), "?": ()},
    **{"i:": ("IY",), "i": ("IY",), "I": ("IH",), "e": ("EH",), "E": ("EH",), "{": ("AE",), "A": ("AE",)},
    **{"V": ("AH",), "@": ("AH",), "6": ("AH",), "@:": ("ER",), "3:": ("ER",), "3": ("ER",)},
    **{"A:": ("AA",), "a:": ("AA",), "a": ("AE",), "Q": ("AA",), "O": ("AA",), "O:": ("AO",), "o:": ("AO",)},
    **{"U": ("UH",), "u": ("UW",), "u:": ("UW",), "}:": ("UW",)},
    **{"ei": ("EY",), "eI": ("EY",), "ai": ("AY",), "aI": ("AY",), "oi": ("OY",), "OI": ("OY",)},
    **{"au": ("AW",), "aU": ("AW",), "@u": ("OW",), "@U": ("OW",), "oU": ("OW",)},
    **{"i@": ("IH",), "I@": ("IH",), "e@": ("EH",), "e:": ("EH",), "u@": ("UH",), "U@": ("UH",)},
}


def reader_of(symbols: set[str]) -> "dict[str, tuple[str, ...]]":
    """The table that reads this set of labels: ARPAbet if it explains as many of them as SAMPA does."""
    spoken = {symbol for symbol in symbols if symbol not in SILENCES and symbol not in CLOSURES}
    by_arpabet = sum(plain(symbol).upper() in ARPABET for symbol in spoken)
    by_sampa = sum(all(part in SAMPA for part in re.split("[_.]", symbol)) for symbol in spoken)
    return ARPABET if by_arpabet >= by_sampa else SAMPA


def plain(symbol: str) -> str:
    """A label without stress digits, nasal and length remarks."""
    return re.sub(r"[012]$", "", symbol)


def phones_of(symbol: str, table: dict[str, tuple[str, ...]]) -> tuple[str, ...] | None:
    """Our phones for one label; None for a label that the table does not know."""
    if table is ARPABET:
        return table.get(plain(symbol).upper())
    found: list[str] = []
    for part in [symbol] if symbol in table else re.split("[_.]", symbol):
        if part not in table:
            return None
        found.extend(table[part])
    return tuple(found)
