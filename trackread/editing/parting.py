"""A phone parted in two, and two made one: words and syllables keep to the phones they had.

Phones are numbered from 0 and spans of them leave their stop out.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from trackread.core.correction import Join, PhoneAt, Side, Split
from trackread.core.phones import PAUSE
from trackread.core.plain_correction import phone_in_words
from trackread.core.reading import Phone, Reading, Syllable, Word
from trackread.core.timebase import Sample
from trackread.editing.places import find_phone, phone_at, seconds
from trackread.errors import CorrectionError

Part = TypeVar("Part", Word, Syllable)


def parted(reading: Reading, split: Split) -> tuple[Reading, int]:
    """The reading with a phone in two, and the number of the second. Raises CorrectionError where that cannot be."""
    number = find_phone(reading, split.phone)
    start, stop = reading.cuts[number : number + 2]
    called = phone_in_words(split.phone)
    if not start < split.at < stop:
        where = f"it lasts from {seconds(reading, start)} to {seconds(reading, stop)}"
        raise CorrectionError(f"{called} cannot be split at {seconds(reading, split.at)}: {where}")
    check_side(reading.words, number, split.word, f"the second part of {called}", "word")
    check_side(reading.syllables, number, split.syllable, f"the second part of {called}", "syllable")
    second = number + 1
    words = [spread(word, number, split.word) for word in reading.words]
    syllables = [
        replace(spread(one, number, split.syllable), nucleus=one.nucleus + (one.nucleus > number))
        for one in reading.syllables
    ]
    check_owners(words, syllables, second, split)
    phones = (*reading.phones[:second], Phone(split.symbol, 1.0), *reading.phones[second:])
    cuts = (*reading.cuts[:second], split.at, *reading.cuts[second:])
    return replace(reading, phones=phones, cuts=cuts, words=tuple(words), syllables=tuple(syllables)), second


def joined(reading: Reading, join: Join) -> tuple[Reading, Sample]:
    """The reading with a phone and the next in one, and the cut that is gone. Raises CorrectionError as `parted`."""
    number = find_phone(reading, join.phone)
    second = number + 1
    if second == len(reading.phones) or reading.phones[second].symbol != join.following:
        there = phone_in_words(phone_at(reading, second)) if second < len(reading.phones) else "the end of the take"
        wanted = phone_in_words(PhoneAt(join.phone.sample, join.following, ""))
        raise CorrectionError(f"after {phone_in_words(join.phone)} comes {there}, not {wanted}")
    swallowed = phone_in_words(phone_at(reading, second))
    if any(syllable.nucleus == second for syllable in reading.syllables):
        raise CorrectionError(f"{swallowed} carries a syllable: join it with the sound after it, or move the cut")
    words = [closed(word, second) for word in reading.words]
    syllables = [
        replace(closed(one, second), nucleus=one.nucleus - (one.nucleus > second)) for one in reading.syllables
    ]
    phones = (*reading.phones[:second], *reading.phones[second + 1 :])
    for word in words:
        if word.first == word.stop or PAUSE in (phones[word.first].symbol, phones[word.stop - 1].symbol):
            raise CorrectionError(
                f"{swallowed} is all the sound there is: a word has a sound at each end; move the cut"
            )
    cuts = (*reading.cuts[:second], *reading.cuts[second + 1 :])
    found = replace(reading, phones=phones, cuts=cuts, words=tuple(words), syllables=tuple(syllables))
    return found, reading.cuts[second]


def side_of(parts: Iterable[Word | Syllable], number: int) -> Side:
    """What the phone after `number` belongs to, seen from that one."""
    for part in parts:
        if part.first <= number and number + 1 < part.stop:
            return Side.THIS
        if part.first == number + 1:
            return Side.NEXT
    return Side.NEITHER


def spread(part: Part, number: int, side: Side) -> Part:
    """A part once the phone `number` is two."""
    second = number + 1
    takes_first = side is Side.NEXT and part.first == second
    takes_last = side is Side.THIS and part.stop == second
    first = part.first + (part.first > number and not takes_first)
    return replace(part, first=first, stop=part.stop + (part.stop > second or takes_last))


def closed(part: Part, gone: int) -> Part:
    """A part once the phone `gone` is the one before it."""
    return replace(part, first=part.first - (part.first > gone), stop=part.stop - (part.stop > gone))


def check_side(parts: Iterable[Word | Syllable], number: int, side: Side, what: str, kind: str) -> None:
    """Raises CorrectionError unless a new phone after `number` can be on that side."""
    inside = any(part.first <= number and number + 1 < part.stop for part in parts)
    if inside and side is not Side.THIS:
        raise CorrectionError(f"{what} lies within a {kind}: it belongs to {Side.THIS.value!r}, not to {side.value!r}")
    if side is Side.NEXT and not any(part.first == number + 1 for part in parts):
        raise CorrectionError(f"{what} cannot belong to the next {kind}: none starts there")


def check_owners(words: Iterable[Word], syllables: Iterable[Syllable], second: int, split: Split) -> None:
    """Raises CorrectionError unless a new sound is in a word, and a new pause at no edge of one."""
    word = next((one for one in words if one.first <= second < one.stop), None)
    syllable = next((one for one in syllables if one.first <= second < one.stop), None)
    if split.symbol == PAUSE:
        if syllable or (word and second + 1 == word.stop):
            raise CorrectionError(
                f"a pause in {phone_in_words(split.phone)} belongs to no syllable, and to a word only inside it: "
                "split the last sound, and let the pause belong to neither"
            )
    elif word is None:
        raise CorrectionError(f"a sound in {phone_in_words(split.phone)} belongs to a word: let it belong to the next")
    elif syllable and not (word.first <= syllable.first and syllable.stop <= word.stop):
        raise CorrectionError("a syllable lies within one word: let the sound belong to word and syllable alike")
