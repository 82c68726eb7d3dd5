"""A line made ready to be found in a take: its written words, how each may be said, and what its hints ask for."""

import re
from dataclasses import dataclass

from trackread.core.performance import EventKind
from trackread.core.reading import Source
from trackread.reading.lexicon import Entry, Lexicon, Pronunciation
from trackread.reading.spoken import WrittenWord, hints_in, written_words
from trackread.reading.variants import ways_with_variants

# Beginnings of the words by which a hint names what is heard; the first that fits counts. A space ends a word: nobody
# hums humbly, or yells in yellow.
NAMES: dict[str, EventKind] = {
    "breathes out": EventKind.BREATH_OUT,
    "breathe out": EventKind.BREATH_OUT,
    "breathing out": EventKind.BREATH_OUT,
    "breath out": EventKind.BREATH_OUT,
    "exhal": EventKind.BREATH_OUT,
    "breath": EventKind.BREATH_IN,
    "inhal": EventKind.BREATH_IN,
    "laugh": EventKind.LAUGH,
    "chuckl": EventKind.LAUGH,
    "giggl": EventKind.LAUGH,
    "snigger": EventKind.LAUGH,
    "sigh": EventKind.SIGH,
    "gasp": EventKind.GASP,
    "cough": EventKind.COUGH,
    "clears": EventKind.COUGH,
    "hum ": EventKind.HUM,
    "hums": EventKind.HUM,
    "humming": EventKind.HUM,
    "whisper": EventKind.WHISPER,
    "shout": EventKind.SHOUT,
    "yell ": EventKind.SHOUT,
    "yells": EventKind.SHOUT,
    "yelling": EventKind.SHOUT,
}


@dataclass(frozen=True, slots=True)
class Asked:
    """Something that a hint of the line asks for, after so many of its written words."""

    kind: EventKind
    after: int


@dataclass(frozen=True, slots=True)
class Line:
    """A line ready to be found: its written words, and for each spoken word how it may be said."""

    written: tuple[WrittenWord, ...]
    spoken: tuple[str, ...]
    entries: tuple[Entry, ...]
    ways: tuple[tuple[Pronunciation, ...], ...]
    owner: tuple[int, ...]  # the written word of each spoken one
    asked: tuple[Asked, ...] = ()

    @property
    def strange(self) -> frozenset[int]:
        """The spoken words that no dictionary has."""
        return frozenset(k for k, entry in enumerate(self.entries) if entry.source is not Source.DICTIONARY)

    def source_of(self, written: int) -> Source:
        """Where a written word's pronunciation came from; a guess if any part of it was guessed."""
        sources = [entry.source for entry, owner in zip(self.entries, self.owner, strict=True) if owner == written]
        return max(sources, key=list(Source).index)


def prepare(text: str, lexicon: Lexicon) -> Line:
    """The line ready to be found. Raises LineError if it cannot be spoken."""
    written = written_words(text)
    spoken = tuple(word for each in written for word in each.spoken)
    entries = tuple(lexicon.look_up(word) for word in spoken)
    return Line(
        written,
        spoken,
        entries,
        ways=tuple(
            entry.ways if entry.source is Source.PRODUCTION else ways_with_variants(word, entry.ways)
            for entry, word in zip(entries, spoken, strict=True)
        ),
        owner=tuple(k for k, each in enumerate(written) for _ in each.spoken),
        asked=tuple(Asked(kind, after) for hint, after in hints_in(text) if (kind := kind_named(hint))),
    )


def kind_named(hint: str) -> EventKind | None:
    """What a hint such as `laughs` or `quietly, with a sigh` names; None if it is none of what is looked for."""
    words = f" {' '.join(re.findall('[a-z]+', hint.lower()))} "
    return next((kind for name, kind in NAMES.items() if " " + name in words), None)
