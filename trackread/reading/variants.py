"""Other ways a word may be said in running speech: reduced, clipped and non-rhotic forms.

Works on pronunciations with stress digits. The alternatives are offered to the aligner, which keeps
what the sound fits; a rule that only adds ways can do no harm to a careful speaker.
"""

from collections.abc import Callable, Iterable, Iterator

from trackread.core.phones import VOWELS
from trackread.reading.lexicon import Pronunciation, bare

# Weak forms of function words, as taught for English (Roach, English Phonetics and Phonology, ch. 12; from memory).
WEAK_FORMS = {
    "and": ["AH0 N", "AE1 N", "AH0 N D"],
    "to": ["T AH0", "T IH0", "T UW1"],
    "for": ["F ER0", "F AO1 R", "F AH0"],
    "of": ["AH0 V", "AH0"],
    "the": ["DH AH0", "DH IY0"],
    "a": ["AH0", "EY1"],
    "you": ["Y UW1", "Y AH0"],
    "your": ["Y AO1 R", "Y ER0", "Y UH1 R", "Y AH0"],
    "are": ["AA1 R", "ER0"],
    "or": ["AO1 R", "ER0"],
    "her": ["HH ER1", "ER0"],
    "him": ["HH IH1 M", "IH0 M"],
    "his": ["HH IH1 Z", "IH0 Z"],
    "he": ["HH IY1", "IY0"],
    "have": ["HH AE1 V", "AH0 V", "HH AH0 V"],
    "has": ["HH AE1 Z", "AH0 Z"],
    "had": ["HH AE1 D", "AH0 D", "HH AH0 D"],
    "was": ["W AA1 Z", "W AH0 Z"],
    "were": ["W ER1", "W AH0"],
    "that": ["DH AE1 T", "DH AH0 T"],
    "them": ["DH EH1 M", "DH AH0 M"],
    "at": ["AE1 T", "AH0 T"],
    "as": ["AE1 Z", "AH0 Z"],
    "an": ["AE1 N", "AH0 N"],
    "can": ["K AE1 N", "K AH0 N"],
    "from": ["F R AH1 M", "F ER0 M"],
    "just": ["JH AH1 S T", "JH AH0 S", "JH IH0 S T"],
    "going": ["G OW1 IH0 NG", "G OW1 AH0 N"],
    "than": ["DH AE1 N", "DH AH0 N"],
    "here": ["HH IY1 R", "HH IH1 R"],
}
MOST = 10  # ways a word: beyond it the aligner begins to choose by chance


def ways_with_variants(word: str, ways: Iterable[Pronunciation]) -> tuple[Pronunciation, ...]:
    """The given ways first, then weak forms, clipped consonants and non-rhotic forms, without repeats."""
    found: dict[Pronunciation, Pronunciation] = {}
    for way in (*ways, *(tuple(weak.split()) for weak in WEAK_FORMS.get(word, []))):
        keep(found, way)
    for rule in RULES:
        for way in list(found.values()):
            for variant in rule(way):
                keep(found, variant)
    return tuple(list(found.values())[:MOST])


def keep(found: dict[Pronunciation, Pronunciation], way: Pronunciation) -> None:
    if way:
        found.setdefault(bare(way), way)


def clipped(way: Pronunciation) -> Iterator[Pronunciation]:
    """T and D vanish after a consonant: at the end (hand), or inside a cluster (friends)."""
    if len(way) > 2 and way[-1] in ("T", "D") and not is_vowel(way[-2]):
        yield way[:-1]
    for i in range(1, len(way) - 1):
        inside = way[i] in ("T", "D") and way[i - 1] in ("N", "S", "L") and not is_vowel(way[i + 1])
        if inside and len(way) > 3:
            yield way[:i] + way[i + 1 :]


def non_rhotic(way: Pronunciation) -> Iterator[Pronunciation]:
    """R is silent unless a vowel follows; after a close vowel, and in final ER, it leaves a schwa."""
    spoken: list[str] = []
    for i, phone in enumerate(way):
        before_vowel = i + 1 < len(way) and is_vowel(way[i + 1])
        if phone == "R" and i and is_vowel(way[i - 1]) and not before_vowel:
            spoken += ["AH0"] if way[i - 1][:-1] in ("IH", "IY", "UH") else []
        elif phone.startswith("ER") and not before_vowel and i > 1:
            spoken.append("AH" + phone[-1])
        else:
            spoken.append(phone)
    if tuple(spoken) != way:
        yield tuple(spoken)


RULES: tuple[Callable[[Pronunciation], Iterator[Pronunciation]], ...] = (clipped, non_rhotic)


def is_vowel(phone: str) -> bool:
    return phone.rstrip("012") in VOWELS
