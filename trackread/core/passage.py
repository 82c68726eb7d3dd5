"""A stretch of a reading as a value of its own: what is said between two words, to be put in the place of what was.

Phones count from the passage's first; `cuts` are samples of the recording. Words and syllables of a passage count from
its first, so that those of the reading before it are below 0.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeVar

from trackread.core.performance import Departure, Phrase
from trackread.core.reading import Phone, Reading, Syllable, Word, check_spans
from trackread.core.timebase import Sample

Part = TypeVar("Part", Word, Syllable)
Found = TypeVar("Found", Phrase, Departure)


@dataclass(frozen=True, slots=True)
class Passage:
    """What is said in a stretch, from the first of `cuts` to the last, pauses at its ends included.

    `phrases` are those of its words and of as many words before and after it as `reach` says, so that a phrase may
    come in from outside; `departures` are those that touch it.
    """

    phones: tuple[Phone, ...]
    cuts: tuple[Sample, ...]
    words: tuple[Word, ...] = ()
    syllables: tuple[Syllable, ...] = ()
    phrases: tuple[Phrase, ...] = ()
    departures: tuple[Departure, ...] = ()
    reach: tuple[int, int] = (0, 0)

    def __post_init__(self) -> None:
        if not self.phones or len(self.cuts) != len(self.phones) + 1:
            raise ValueError(f"{len(self.phones)} phones of a passage cannot have {len(self.cuts)} cuts")
        if any(a >= b for a, b in pairwise(self.cuts)):
            raise ValueError("each phone of a passage lasts at least a sample")
        check_spans([(word.first, word.stop) for word in self.words], len(self.phones))
        check_spans([(syllable.first, syllable.stop) for syllable in self.syllables], len(self.phones))
        if min(self.reach) < 0:
            raise ValueError("a passage reaches over some words beside it, or none")

    @property
    def text(self) -> str:
        """Its words."""
        return " ".join(word.text for word in self.words)


@dataclass(frozen=True, slots=True)
class Place:
    """A stretch of a reading: its words `first` to before `stop`, and all phones between the words around it."""

    reading: Reading
    first: int
    stop: int

    @property
    def phones(self) -> tuple[int, int]:
        """Its first phone, and the one after its last."""
        words = self.reading.words
        low = words[self.first - 1].stop if self.first else 0
        return low, words[self.stop].first if self.stop < len(words) else len(self.reading.phones)

    @property
    def syllables(self) -> tuple[int, int]:
        """Its first syllable, and the one after its last."""
        low, high = self.phones
        its = self.reading.syllables
        return sum(one.stop <= low for one in its), sum(one.first < high for one in its)

    @property
    def span(self) -> tuple[Sample, Sample]:
        """Its samples."""
        low, high = self.phones
        return self.reading.cuts[low], self.reading.cuts[high]

    @property
    def text(self) -> str:
        """Its words."""
        return " ".join(word.text for word in self.reading.words[self.first : self.stop])


def passage_in(place: Place, reach: tuple[int, int]) -> Passage:
    """The passage that is there; put back, it changes nothing."""
    reading, (low, high), (first, last) = place.reading, place.phones, place.syllables
    before, after = reach
    return Passage(
        phones=reading.phones[low:high],
        cuts=reading.cuts[low : high + 1],
        words=tuple(shifted(word, -low) for word in reading.words[place.first : place.stop]),
        syllables=tuple(syllable_shifted(one, -low) for one in reading.syllables[first:last]),
        phrases=tuple(
            phrase_shifted(one, -place.first, -first)
            for one in reading.phrases
            if place.first - before <= one.first and one.stop <= place.stop + after
        ),
        departures=tuple(
            moved(one, -place.first) for one in reading.departures if touches(one, place.first, place.stop)
        ),
        reach=reach,
    )


def reach_of(place: Place) -> tuple[int, int]:
    """How many words before and after a place are in phrases with its words, or with the words beside it."""
    first, stop = max(place.first - 1, 0), min(place.stop + 1, len(place.reading.words))
    near = [one for one in place.reading.phrases if one.first < stop and one.stop > first]
    low = min([place.first, *(one.first for one in near)])
    high = max([place.stop, *(one.stop for one in near)])
    return place.first - low, high - place.stop


def with_passage(place: Place, passage: Passage) -> Reading:
    """The reading with a passage in a place of it; events are left as they are.

    The ends of the passage lie where the place has them. Raises ValueError if there is no room for it.
    """
    reading, (low, high) = place.reading, place.phones
    cuts = (reading.cuts[low], *passage.cuts[1:-1], reading.cuts[high])
    if any(a >= b for a, b in pairwise(cuts)):
        raise ValueError("the passage has no room between the words beside it")
    more = len(passage.phones) - (high - low)
    words = passage.words
    return replace(
        reading,
        phones=(*reading.phones[:low], *passage.phones, *reading.phones[high:]),
        cuts=(*reading.cuts[:low], *cuts, *reading.cuts[high + 1 :]),
        words=(
            *reading.words[: place.first],
            *(shifted(word, low) for word in words),
            *(shifted(word, more) for word in reading.words[place.stop :]),
        ),
        syllables=tuple(syllables_with(place, passage, more)),
        phrases=tuple(phrases_with(place, passage)),
        departures=tuple(departures_with(place, passage)),
    )


def syllables_with(place: Place, passage: Passage, more: int) -> Iterator[Syllable]:
    low, (first, stop) = place.phones[0], place.syllables
    yield from place.reading.syllables[:first]
    yield from (syllable_shifted(one, low) for one in passage.syllables)
    yield from (syllable_shifted(one, more) for one in place.reading.syllables[stop:])


def phrases_with(place: Place, passage: Passage) -> Iterator[Phrase]:
    """The phrases around a place, cut off where those of the passage begin and end, with these between them."""
    reading, (first, stop) = place.reading, place.syllables
    more, more_syllables = len(passage.words) - (place.stop - place.first), len(passage.syllables) - (stop - first)
    low = max(place.first - passage.reach[0], 0)
    high = min(place.stop + passage.reach[1], len(reading.words))
    total = len(reading.syllables) + more_syllables
    before = (within(one, 0, low) for one in reading.phrases)
    its = (
        within(phrase_shifted(one, place.first, first), low, high + more, syllables=total) for one in passage.phrases
    )
    after = (within(one, high, len(reading.words)) for one in reading.phrases)
    yield from (one for one in before if one)
    yield from (one for one in its if one)
    yield from (phrase_shifted(one, more, more_syllables) for one in after if one)


def within(phrase: Phrase, low: int, high: int, *, syllables: int | None = None) -> Phrase | None:
    """What lies of a phrase within some words, None for nothing; its main beat only if that is there for sure."""
    first, stop = max(phrase.first, low), min(phrase.stop, high)
    if first >= stop:
        return None
    whole = (first, stop) == (phrase.first, phrase.stop)
    there = syllables is None or phrase.main is None or 0 <= phrase.main < syllables
    return replace(phrase, first=first, stop=stop, main=phrase.main if whole and there else None)


def departures_with(place: Place, passage: Passage) -> Iterator[Departure]:
    reading = place.reading
    more = len(passage.words) - (place.stop - place.first)
    others = [one for one in reading.departures if not touches(one, place.first, place.stop)]
    its = [moved(one, place.first) for one in passage.departures]
    yield from (one for one in others if one.stop < place.first)
    yield from (one for one in its if one.first >= 0 and one.stop <= len(reading.words) + more)
    yield from (moved(one, more) for one in others if one.first > place.stop)


def touches(departure: Departure, first: int, stop: int) -> bool:
    """Whether a departure is of words of a stretch, or ends or begins where it does."""
    return departure.first <= stop and departure.stop >= first


def shifted(part: Part, by: int) -> Part:
    """A part whose phones are counted from elsewhere."""
    return replace(part, first=part.first + by, stop=part.stop + by)


def syllable_shifted(syllable: Syllable, by: int) -> Syllable:
    return replace(shifted(syllable, by), nucleus=syllable.nucleus + by)


def moved(part: Found, by: int) -> Found:
    """A part whose words are counted from elsewhere."""
    return replace(part, first=part.first + by, stop=part.stop + by)


def phrase_shifted(phrase: Phrase, words: int, syllables: int) -> Phrase:
    main = None if phrase.main is None else phrase.main + syllables
    return replace(moved(phrase, words), main=main)
