"""Cuts that people placed, kept to the sample when a take is read again.

The take is first read without them, which says what its words are and how they are said; then every stretch with pins
is aligned once more, each part between two pins on its own sound. Times are float seconds.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product

from trackread.core.correction import Pin
from trackread.core.phones import PAUSE
from trackread.core.reading import Reading
from trackread.reading.between import LEAST_PAUSE, Fix
from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.placement import Placed
from trackread.reading.said import SaidWord
from trackread.reading.sounds import RATE
from trackread.reading.stretches import Span

NEAR = 1.0  # seconds: a word that is said so far from a pin is another one
LEAST = 0.001  # seconds of a phone between two pins
CHOICES = 256  # ways of a number's words, taken together, that are tried for one that has all its pins

Choice = tuple[Pronunciation, ...]  # how each spoken word of a word on the sheet is said


@dataclass(frozen=True, slots=True)
class Pinned:
    """Where pins lie among the spoken words of a take, in order, and the ways in which pinned words are said."""

    fixes: tuple[Fix, ...]
    ways: Mapping[int, Pronunciation]


def left_out(reading: Reading, pins: Sequence[Pin]) -> tuple[Pin, ...]:
    """The pins that found no place in a reading: their words are not said in it, or are said otherwise."""
    cuts = {cut: number for number, cut in enumerate(reading.cuts[:-1])}
    return tuple(pin for pin in pins if not is_pinned(reading, cuts.get(pin.sample, 0), pin))


def is_pinned(reading: Reading, number: int, pin: Pin) -> bool:
    """Whether a cut, none if 0, is the pinned one."""
    if not number or reading.phones[number].symbol != pin.after:
        return False
    falls_silent = pin.after == PAUSE
    place = number - 1 if falls_silent else number
    if falls_silent and reading.phones[place].symbol != pin.before:
        return False
    return any(word.text == pin.word and word.first <= place < word.stop for word in reading.words)


def find_pins(
    pins: Sequence[Pin],
    words: Sequence[SaidWord],
    placed: Sequence[Placed],
    *,
    spans: Sequence[Span],
    sample_rate: int,
) -> Pinned:
    """The places of those pins that have one in a take whose phones are placed without them.

    `spans` has the stretch of each spoken word: a pin outside that has no place.
    """
    said = said_phones(placed)
    starts = {k: phones[0].start for k, phones in said.items()}
    ways = {k: tuple(one.mark.phone for one in phones) for k, phones in said.items()}
    asked: dict[int, list[Pin]] = {}
    for pin in pins:
        number = word_of(pin, words, starts, pin.sample / sample_rate)
        if number is not None:
            asked.setdefault(number, []).append(pin)
    fixes: dict[tuple[int, int, bool], Fix] = {}
    for number, here in asked.items():
        spoken = [k for k, word in enumerate(words) if word.number == number]
        chosen = best_ways(here, [words[k].ways for k in spoken], tuple(ways[k] for k in spoken))
        ways |= dict(zip(spoken, chosen, strict=True))
        for pin in here:
            fix = fix_of(pin, spoken, chosen, sample_rate)
            if fix and spans[fix.word].start < fix.time * RATE < spans[fix.word].stop:
                fixes[fix.word, fix.phone, fix.stops] = fix
    kept = tuple(with_room([fixes[place] for place in sorted(fixes)], ways))
    return Pinned(kept, {fix.word: ways[fix.word] for fix in kept})


def fix_of(pin: Pin, spoken: Sequence[int], choice: Choice, sample_rate: int) -> Fix | None:
    """The fix of a pin in spoken words that are said so; None if they have no such cut."""
    place = place_in(pin, choice)
    if place is None:
        return None
    ordinal, phone = place
    joined = pin.before != PAUSE or phone > 0
    return Fix(spoken[ordinal], phone, pin.after == PAUSE, joined, pin.sample / sample_rate)


def said_phones(placed: Sequence[Placed]) -> dict[int, list[Placed]]:
    """The placed phones of each spoken word."""
    found: dict[int, list[Placed]] = {}
    for one in placed:
        found.setdefault(one.mark.word, []).append(one)
    return found


def word_of(pin: Pin, words: Sequence[SaidWord], starts: Mapping[int, float], time: float) -> int | None:
    """The number on the sheet of a pin's word: that of its text and order if it is near, else the nearest; or None."""
    begins: dict[int, float] = {}
    for k, word in enumerate(words):
        if word.text == pin.word:
            begins.setdefault(word.number, starts[k])
    near = [number for number, start in begins.items() if abs(start - time) <= NEAR]
    in_order = [number for order, number in enumerate(begins) if order == pin.order and number in near]
    return next(iter(in_order or sorted(near, key=lambda number: abs(begins[number] - time))), None)


def best_ways(pins: Sequence[Pin], ways: Sequence[Sequence[Pronunciation]], heard: Choice) -> Choice:
    """A way for each spoken word of a word on the sheet: as they were heard, unless others have more of its pins."""
    choices = [heard, *islice(product(*ways), CHOICES)]
    return max(choices, key=lambda choice: sum(place_in(pin, choice) is not None for pin in pins))


def place_in(pin: Pin, choice: Choice) -> tuple[int, int] | None:
    """Which of the spoken words that are said so, and which of its phones, starts at a pin, or stops there.

    A sound more or less before it, by another way to say the word, is no matter.
    """
    phones = [(ordinal, k, symbol) for ordinal, way in enumerate(choice) for k, symbol in enumerate(bare(way))]
    symbols = [symbol for _, _, symbol in phones]
    wanted = pin.phone - (pin.after == PAUSE)
    near = range(max(0, wanted - 1), min(len(phones), wanted + 2))
    fitting = [place for place in near if fits(pin, symbols, place)]
    if pin.after == PAUSE:
        fitting = [place for place in fitting if phones[place][1] + 1 == len(choice[phones[place][0]])]
    best = min(fitting, key=lambda place: abs(place - wanted), default=None)
    return None if best is None else phones[best][:2]


def fits(pin: Pin, symbols: Sequence[str], place: int) -> bool:
    """Whether a phone may be the one that starts at a pin, or stops there before a pause; the first starts the word."""
    if pin.after == PAUSE:
        return symbols[place] == pin.before
    if symbols[place] != pin.after or (place == 0) != (pin.phone == 0):
        return False
    return place == 0 or pin.before in (PAUSE, symbols[place - 1])


def with_room(fixes: Sequence[Fix], ways: Mapping[int, Pronunciation]) -> Iterator[Fix]:
    """The fixes, in order, that leave the phones between them some room; one that does not is left out."""
    before = {word: sum(len(way) for other, way in ways.items() if other < word) for word in ways}
    reached, count = 0.0, 0
    for fix in fixes:
        here = before[fix.word] + fix.phone + fix.stops
        if fix.time - reached >= (LEAST * (here - count) if here > count else LEAST_PAUSE):
            reached, count = fix.time, here
            yield fix


def fixes_in(span: Span, words: range, fixes: Sequence[Fix]) -> list[Fix]:
    """The fixes of the words of a stretch, in its own seconds and by the places of its words in it."""
    offset = span.start / RATE
    return [replace(fix, word=words.index(fix.word), time=fix.time - offset) for fix in fixes if fix.word in words]
