"""One correction applied to a reading: what it changes, and what it may not."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar, assert_never

from trackread.core.correction import (
    Correction,
    CutAt,
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
from trackread.core.passage import with_passage
from trackread.core.performance import Reason
from trackread.core.phones import PAUSE, VOWELS
from trackread.core.plain_correction import cut_in_words, phone_in_words
from trackread.core.reading import Reading
from trackread.core.timebase import Sample
from trackread.editing.parting import joined, parted
from trackread.editing.places import find_cut, find_phone, find_place, find_word, seconds
from trackread.errors import CorrectionError

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Astray:
    """A correction that found no place, and why, in plain words."""

    correction: Correction
    reason: str


@dataclass(frozen=True, slots=True)
class Corrected:
    """A reading with corrections applied; `pins` are the samples of its pinned cuts, in order, `notes` by time."""

    reading: Reading
    pins: tuple[Sample, ...] = ()
    notes: tuple[Note, ...] = ()
    astray: tuple[Astray, ...] = ()


def applied(to: Corrected, correction: Correction) -> Corrected:
    """What becomes of a reading by one correction more; events are left as they are.

    Raises CorrectionError, in plain words, if the reading has no such part or may not be changed so.
    """
    match correction:
        case MoveCut():
            return with_cut_moved(to, correction)
        case Split():
            reading, cut = parted(to.reading, correction)
            return with_pin(replace(to, reading=reading), cut)
        case Join():
            reading, gone = joined(to.reading, correction)
            return replace(to, reading=reading, pins=tuple(pin for pin in to.pins if pin != gone))
        case PinCut(cut):
            return with_pin(to, find_cut(to.reading, cut))
        case UnpinCut(cut, confidence):
            return without_pin(to, cut, confidence)
        case Note():
            return with_note(to, correction)
        case Reread():
            return read_again(to, correction)
        case Relabel() | Respell() | SetStress() | Right() | Unsure():
            return replace(to, reading=relabelled(to.reading, correction))
        case _:
            assert_never(correction)


def relabelled(reading: Reading, correction: Relabel | Respell | SetStress | Right | Unsure) -> Reading:
    """A reading with one of its parts called or judged otherwise, all times as they were."""
    match correction:
        case Relabel():
            return with_symbol(reading, correction)
        case Respell(word, text):
            number = find_word(reading, word)
            return replace(reading, words=put(reading.words, number, lambda one: replace(one, text=text)))
        case SetStress():
            return with_stress(reading, correction)
        case Right(word):
            return with_doubt(reading, find_word(reading, word))
        case Unsure(word, doubt, reasons):
            return with_doubt(reading, find_word(reading, word), doubt, reasons)
        case _:
            assert_never(correction)


def with_cut_moved(to: Corrected, move: MoveCut) -> Corrected:
    """The cut at its new place, pinned. At most a sample is left of the phones beside it."""
    reading = to.reading
    number = find_cut(reading, move.cut, move.to)
    low, high = reading.cuts[number - 1] + 1, reading.cuts[number + 1] - 1
    if not low <= move.to <= high:
        where = f"it may lie from {seconds(reading, low)} to {seconds(reading, high)}"
        raise CorrectionError(f"{cut_in_words(move.cut)} cannot lie at {seconds(reading, move.to)}: {where}")
    pins = tuple(pin for pin in to.pins if pin != reading.cuts[number])
    cuts = put(reading.cuts, number, lambda _: move.to)
    return with_pin(replace(to, reading=replace(reading, cuts=cuts), pins=pins), number)


def with_pin(to: Corrected, number: int) -> Corrected:
    """A cut pinned, and so sure; a word that starts there is in no doubt."""
    reading = with_confidence(to.reading, number, 1.0)
    for k, word in enumerate(reading.words):
        if word.first == number:
            reading = with_doubt(reading, k)
    return replace(to, reading=reading, pins=tuple(sorted({*to.pins, reading.cuts[number]})))


def without_pin(to: Corrected, cut: CutAt, confidence: float) -> Corrected:
    """A cut that may move again."""
    number = find_cut(to.reading, cut)
    sample = to.reading.cuts[number]
    if sample not in to.pins:
        raise CorrectionError(f"{cut_in_words(cut)} is not pinned: it may move as it is")
    pins = tuple(pin for pin in to.pins if pin != sample)
    return replace(to, reading=with_confidence(to.reading, number, confidence), pins=pins)


def read_again(to: Corrected, again: Reread) -> Corrected:
    """A stretch as it was heard when it was read again; of the pins inside it those stay that were heeded."""
    place = find_place(to.reading, again.previous, again.following)
    start, stop = place.span
    try:
        reading = with_passage(place, again.passage)
    except ValueError as error:
        where = f"from {seconds(to.reading, start)} to {seconds(to.reading, stop)}"
        raise CorrectionError(f"'{again.passage.text}' has no room {where} any more: read it again") from error
    passage = again.passage
    sure = {cut for cut, phone in zip(passage.cuts[1:], passage.phones[1:], strict=False) if phone.confidence == 1}
    pins = tuple(pin for pin in to.pins if not start < pin < stop or pin in sure)
    return replace(to, reading=reading, pins=pins)


def with_note(to: Corrected, note: Note) -> Corrected:
    """One note at a sample, or none if it is empty."""
    if not 0 <= note.sample < to.reading.sound.length:
        length = seconds(to.reading, to.reading.sound.length)
        raise CorrectionError(
            f"no note can stand at {seconds(to.reading, note.sample)}: the take lasts from 0.000 s to {length}"
        )
    others = [one for one in to.notes if one.sample != note.sample]
    kept = [*others, note] if note.text else others
    return replace(to, notes=tuple(sorted(kept, key=lambda one: one.sample)))


def with_symbol(reading: Reading, relabel: Relabel) -> Reading:
    """A phone with another symbol; a vowel that carries a syllable stays one, and a pause a pause."""
    number = find_phone(reading, relabel.phone)
    before, symbol = reading.phones[number].symbol, relabel.symbol
    if before != symbol and PAUSE in (before, symbol):
        raise CorrectionError(
            f"{phone_in_words(relabel.phone)} is a {'pause' if before == PAUSE else 'sound'} and stays one: "
            "split a phone to put something in, join two to take it away"
        )
    carries = any(syllable.nucleus == number for syllable in reading.syllables)
    if carries and before in VOWELS and symbol not in VOWELS:
        raise CorrectionError(f"{phone_in_words(relabel.phone)} carries a syllable: it can be another vowel only")
    return replace(reading, phones=put(reading.phones, number, lambda one: replace(one, symbol=symbol)))


def with_stress(reading: Reading, stress: SetStress) -> Reading:
    """A syllable with another degree of stress."""
    nucleus = find_phone(reading, stress.nucleus)
    number = next((k for k, syllable in enumerate(reading.syllables) if syllable.nucleus == nucleus), None)
    if number is None:
        raise CorrectionError(f"{phone_in_words(stress.nucleus)} carries no syllable: name its vowel")
    return replace(reading, syllables=put(reading.syllables, number, lambda one: replace(one, stress=stress.degree)))


def with_doubt(reading: Reading, number: int, doubt: float = 0.0, reasons: tuple[Reason, ...] = ()) -> Reading:
    """A word with this doubt, none unless given."""
    return replace(reading, words=put(reading.words, number, lambda one: replace(one, doubt=doubt, reasons=reasons)))


def with_confidence(reading: Reading, number: int, confidence: float) -> Reading:
    """A reading that is so sure of one of its cuts."""
    return replace(reading, phones=put(reading.phones, number, lambda one: replace(one, confidence=confidence)))


def put(parts: tuple[T, ...], number: int, change: Callable[[T], T]) -> tuple[T, ...]:
    """The parts with one of them changed."""
    return (*parts[:number], change(parts[number]), *parts[number + 1 :])
