"""A stretch of a take heard again with the words that a person typed for it, as a passage that takes its place.

The sound between the words on either side is read by itself, word for word; how strong its syllables are is then judged
among those of the whole take, and what a phrase is, too.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from trackread.core.correction import Pin
from trackread.core.passage import Passage, Place, passage_in, reach_of, with_passage
from trackread.core.performance import Departure, DepartureKind
from trackread.core.phones import PAUSE
from trackread.core.reading import Phone, Reading, Syllable, Word
from trackread.core.spelling import is_in, letters_of
from trackread.core.timebase import Sample
from trackread.reading.assembly import Timeline
from trackread.reading.phrases import phrases_of
from trackread.reading.sounds import Recording
from trackread.reading.spoken import written_words
from trackread.reading.take import Reader, stressed


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be heard again: the sound of a place and nothing else, with the `words` that are said in it, none for
    a pause, the line that the take is of, and the pins inside the place, whose samples count from its first.
    """

    recording: Recording
    place: Place
    words: str
    line: str
    pins: tuple[Pin, ...] = ()


def heard_again(wish: Wish, reader: Reader) -> Passage:
    """The passage that is said in the place; `reader` is a faithful one.

    Raises LineError if the words cannot be spoken, ReadingError if there is no room for them.
    """
    place = wish.place
    if wish.words:
        passage = passage_of(reader.read(wish.recording, wish.words, pins=wish.pins), place)
    else:
        passage = Passage((Phone(PAUSE, 1.0),), place.span)
    there = Place(with_passage(place, passage), place.first, place.first + len(passage.words))
    now = replace(there.reading, syllables=tuple(judged(there)))
    now = replace(
        now,
        phrases=phrases_of(now.phones, now.cuts, now.words, now.syllables, pitch=now.pitch),
        departures=tuple(departures_from(wish.line, now)),
    )
    return passage_in(replace(there, reading=now), reach_of(place))


def passage_of(reading: Reading, place: Place) -> Passage:
    """A reading of the sound of a place, as a passage."""
    start = place.span[0]
    cuts = tuple(Sample(start + cut) for cut in reading.cuts)
    return Passage(reading.phones, cuts, reading.words, reading.syllables)


def judged(there: Place) -> Iterator[Syllable]:
    """The syllables of a reading, those of a place with the stress that they have among all of them."""
    reading = there.reading
    low, high = there.syllables
    owners = {one.first: letters_of(word) for word in reading.words for one in reading.syllables if is_in(one, word)}
    time = Timeline(reading.phones, reading.cuts, ())
    tracks = (reading.pitch, reading.level)
    every = stressed(reading.syllables, owners, time, words=reading.words, tracks=tracks)
    for number, (was, now) in enumerate(zip(reading.syllables, every, strict=True)):
        yield now if low <= number < high else was


def departures_from(line: str, reading: Reading) -> Iterator[Departure]:
    """How the words of a reading leave a line, by their letters alone."""
    written = written_words(line)
    asked = [letters_of(Word(word.text, 0, 1)) for word in written]
    said = [letters_of(word) for word in reading.words]
    for kind, low, high, first, stop in SequenceMatcher(None, asked, said, autojunk=False).get_opcodes():
        text = " ".join(word.text for word in written[low:high])
        if kind == "delete":
            yield Departure(DepartureKind.DROPPED, first, first, text)
        elif kind == "insert":
            again = said[max(2 * first - stop, 0) : first] == said[first:stop]
            yield Departure(DepartureKind.REPEATED if again else DepartureKind.ADDED, first, stop, "")
        elif kind == "replace":
            yield Departure(DepartureKind.SWAPPED, first, stop, text)
