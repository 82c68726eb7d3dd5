"""Placed phones to the parts of a Reading: phones that cover the whole sound, words, syllables.

Here times turn from seconds into samples of the recording.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from trackread.core.performance import MANNERS, Event
from trackread.core.phones import PAUSE
from trackread.core.reading import Phone, Reading, Source, Syllable, Word
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, sample_at_seconds
from trackread.reading.events import Found
from trackread.reading.placement import Placed
from trackread.reading.syllables import syllables_in

SHORTEST_PAUSE = 0.020  # seconds; a shorter gap is no pause but a boundary
SHORTEST_EVENT = 0.080  # what words leave of an event that is shorter is none: two frames
UNSTRESSED = 0


@dataclass(frozen=True, slots=True)
class Timeline:
    """`phones` and `cuts` as a Reading has them; `places` gives the phone of each placed one."""

    phones: tuple[Phone, ...]
    cuts: tuple[Sample, ...]
    places: tuple[int, ...]


def timeline(placed: Sequence[Placed], sound: Sound) -> Timeline:
    """Phones and pauses over the whole sound, each at least a sample long, in order."""
    pause = sample_at_seconds(SHORTEST_PAUSE, sound.sample_rate)
    phones: list[Phone] = []
    cuts: list[int] = []
    places: list[int] = []
    reached, sure = 0, 1.0
    for k, one in enumerate(placed):
        last = sound.length - (len(placed) - k)
        start = min(max(reached, sample_at_seconds(one.start, sound.sample_rate)), last)
        if start - reached >= pause:
            phones.append(Phone(PAUSE, sure))
            cuts.append(reached)
            reached = start
        places.append(len(phones))
        phones.append(Phone(one.mark.phone.rstrip("012"), one.confidence))
        cuts.append(reached)
        reached = min(max(reached + 1, sample_at_seconds(one.stop, sound.sample_rate)), last + 1)
        sure = one.stop_confidence
    if sound.length - reached >= pause:
        phones.append(Phone(PAUSE, sure))
        cuts.append(reached)
    return Timeline(tuple(phones), tuple(map(Sample, [*cuts, sound.length])), tuple(places))


def words_of(
    placed: Sequence[Placed], places: Sequence[int], owner: Sequence[int], written: Mapping[int, tuple[str, Source]]
) -> tuple[Word, ...]:
    """The words on the sheet (text and source by number), each over the phones of the spoken words it owns."""
    found = []
    for word, group in groupby(zip(placed, places, strict=True), key=lambda pair: owner[pair[0].mark.word]):
        at = [place for _, place in group]
        text, source = written[word]
        found.append(Word(text, at[0], at[-1] + 1, source))
    return tuple(found)


def syllables_of(placed: Sequence[Placed], places: Sequence[int]) -> tuple[Syllable, ...]:
    """The syllables of every spoken word, with the dictionary's stress and none heard yet."""
    found = []
    for _, group in groupby(zip(placed, places, strict=True), key=lambda pair: pair[0].mark.word):
        said = [(one.mark.phone, place) for one, place in group]
        for first, stop, nucleus in syllables_in([phone for phone, _ in said]):
            digit = said[nucleus][0][-1]
            lexical = int(digit) if digit.isdigit() else UNSTRESSED
            at = [said[k][1] for k in (first, stop - 1, nucleus)]
            found.append(Syllable(at[0], at[1] + 1, at[2], lexical, stress=0, strength=0.0))
    return tuple(found)


def events_of(found: Sequence[Found], reading: Reading) -> tuple[Event, ...]:
    """Events in samples of the reading, in order; those between words keep out of them."""
    rate = reading.sound.sample_rate
    events: list[Event] = []
    for one in found:
        span = sample_at_seconds(one.start, rate), min(sample_at_seconds(one.stop, rate), reading.sound.length)
        for start, stop in [span] if one.kind in MANNERS else outside_words(span, reading):
            if stop - start >= sample_at_seconds(SHORTEST_EVENT, rate):
                events.append(Event(one.kind, Sample(start), Sample(stop), one.confidence, one.hinted))
    return tuple(sorted(events, key=lambda event: event.start))


def outside_words(span: tuple[int, int], reading: Reading) -> Iterator[tuple[int, int]]:
    """The parts of a span of samples in which no word sounds."""
    start, stop = span
    for word in reading.words:
        first, last = reading.start(word), reading.stop(word)
        if first < stop and start < last:
            if start < first:
                yield start, first
            start = last
    if start < stop:
        yield start, stop
