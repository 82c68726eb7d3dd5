"""The current reading: the first one, with every correction laid over it in order, none of them lost."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from trackread.core.correction import Correction, MoveCut, Pin
from trackread.core.passage import Place
from trackread.core.performance import MANNERS, Event
from trackread.core.reading import Reading
from trackread.core.timebase import Sample
from trackread.editing.applying import Astray, Corrected, applied
from trackread.editing.places import cut_at
from trackread.errors import CorrectionError

Span = tuple[Sample, Sample]


def corrected(reading: Reading, corrections: Iterable[Correction]) -> Corrected:
    """A reading with all corrections applied, in order; those that find no place in it are kept with the reason."""
    found = Corrected(reading)
    taken: list[Correction] = []
    for one in corrections:
        try:
            found = applied(found, one)
            taken.append(one)
        except CorrectionError as error:
            found = replace(found, astray=(*found.astray, Astray(one, str(error))))
    astray = tuple(one for one in found.astray if not overtaken(one.correction, taken))
    return replace(found, reading=settled(reading, found.reading), astray=astray)


def overtaken(move: Correction, taken: Iterable[Correction]) -> bool:
    """Whether a cut that could not be moved was moved on from there to where it is, so that nothing is lost."""
    return isinstance(move, MoveCut) and any(
        isinstance(later, MoveCut)
        and (later.cut.sample, later.cut.after, later.cut.word) == (move.to, move.cut.after, move.cut.word)
        for later in taken
    )


def pins_of(found: Corrected) -> tuple[Pin, ...]:
    """The pinned cuts, as reading again needs them."""
    return tuple(cut_at(found.reading, found.reading.cuts.index(pin)) for pin in found.pins)


def pins_within(found: Corrected, place: Place) -> tuple[Pin, ...]:
    """The pinned cuts inside a place of a reading, as seen by who hears the sound of that place alone."""
    reading, (start, stop) = found.reading, place.span
    before = [word.text for word in reading.words[: place.first]]
    its = [pin for pin in pins_of(found) if start < pin.sample < stop]
    return tuple(
        replace(pin, sample=Sample(pin.sample - start), order=pin.order - before.count(pin.word)) for pin in its
    )


def settled(first: Reading, now: Reading) -> Reading:
    """The reading with its events where its words leave them room; what no word has moved onto stays as it was.

    Always from the first reading, so that an event has its length again when a word that was moved onto it goes back.
    """
    then = spans_of(first)
    moved = [span for span in spans_of(now) if span not in then]
    events = [piece for event in first.events for piece in pieces_of(event, moved, then)]
    return replace(now, events=tuple(events))


def spans_of(reading: Reading) -> dict[Span, None]:
    """Where each word starts and stops, in order."""
    return {(reading.start(word), reading.stop(word)): None for word in reading.words}


def pieces_of(event: Event, moved: Iterable[Span], then: Iterable[Span]) -> Iterator[Event]:
    """What is left of an event by words that have moved onto it; a word that lay on it `then` leaves it as it is."""
    start, stop = event.start, event.stop
    onto = [span for span in moved if event.kind not in MANNERS and meet(span, (start, stop))]
    under = [span for span in then if meet(span, (start, stop))] if onto else []
    for span in onto:
        if any(meet(span, one) for one in under):
            continue
        if start < span[0]:
            yield replace(event, start=start, stop=span[0])
        start = max(start, span[1])
    if start < stop:
        yield replace(event, start=start, stop=stop)


def meet(one: Span, other: Span) -> bool:
    """Whether two spans have a sample in common."""
    return one[0] < other[1] and other[0] < one[1]
