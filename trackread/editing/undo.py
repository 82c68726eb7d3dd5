"""What undoes a correction: corrections again, appended like any other."""

from collections.abc import Iterator
from typing import assert_never

from trackread.core.correction import (
    Correction,
    Join,
    MoveCut,
    Note,
    PinCut,
    Relabel,
    Reread,
    Respell,
    Right,
    SetStress,
    Split,
    UnpinCut,
    Unsure,
)
from trackread.core.passage import passage_in
from trackread.editing.applying import Corrected, applied
from trackread.editing.parting import side_of
from trackread.editing.places import cut_at, find_cut, find_phone, find_place, find_word, phone_at, place_seen, word_at


def inverse(before: Corrected, correction: Correction) -> tuple[Correction, ...]:
    """The corrections that, after `correction`, make everything again what it was before it.

    Raises CorrectionError if the correction cannot be applied.
    """
    after = applied(before, correction)
    back = tuple(reversed_of(before, after, correction))
    for one in back:
        after = applied(after, one)
    return (*back, *repairs(before, after))


def reversed_of(before: Corrected, after: Corrected, correction: Correction) -> Iterator[Correction]:
    """What puts back the times, names and degrees that a correction changed; pins and doubts are left to `repairs`."""
    then, now = before.reading, after.reading
    match correction:
        case MoveCut(cut, to):
            number = find_cut(then, cut, to)
            yield MoveCut(cut_at(now, number), then.cuts[number])
        case Relabel(phone):
            number = find_phone(then, phone)
            yield Relabel(phone_at(now, number), then.phones[number].symbol)
        case Respell(word):
            number = find_word(then, word)
            yield Respell(word_at(now, number), then.words[number].text)
        case Split(phone, _, symbol):
            yield Join(phone_at(now, find_phone(then, phone)), symbol)
        case Join(phone, following):
            number = find_phone(then, phone)
            sides = (side_of(then.words, number), side_of(then.syllables, number))
            yield Split(phone_at(now, number), then.cuts[number + 1], following, *sides)
        case SetStress(nucleus):
            number = find_phone(then, nucleus)
            degree = next(one.stress for one in then.syllables if one.nucleus == number)
            yield SetStress(phone_at(now, number), degree)
        case UnpinCut(cut):
            yield PinCut(cut_at(now, find_cut(then, cut)))
        case Note(sample):
            yield Note(sample, next((one.text for one in before.notes if one.sample == sample), ""))
        case Reread(previous, following, _, passage):
            place = find_place(then, previous, following)
            yield Reread(*place_seen(place), passage.text, passage_in(place, passage.reach))
            start, stop = place.span
            for pin in (pin for pin in before.pins if start < pin < stop):
                yield PinCut(cut_at(then, then.cuts.index(pin)))
        case PinCut() | Right() | Unsure():
            return
        case _:
            assert_never(correction)


def repairs(before: Corrected, after: Corrected) -> Iterator[Correction]:
    """What makes pins and doubts again what they were, where all else is as it was."""
    reading = before.reading
    for pin in sorted({*after.pins} - {*before.pins}):
        number = reading.cuts.index(pin)
        yield UnpinCut(cut_at(after.reading, number), reading.phones[number].confidence)
    for number, (then, now) in enumerate(zip(reading.words, after.reading.words, strict=True)):
        if (then.doubt, then.reasons) != (now.doubt, now.reasons):
            yield Unsure(word_at(reading, number), then.doubt, then.reasons)
