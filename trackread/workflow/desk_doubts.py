"""The words of all takes whose starts an ear should check, those worth it most first; and the list of takes by line."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from threading import Lock
from typing import cast

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote, all_corrections
from trackread.book.drafts import lines_by_id, texts_by_line
from trackread.book.readings import newest_notes, readings_with
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.plain import PlainReading, reading_from_plain
from trackread.core.plain_correction import correction_from_plain
from trackread.core.session import StretchKind, Take
from trackread.core.timebase import frame_at
from trackread.editing.replay import corrected
from trackread.workflow.take_readings import digest_of

# A doubt worth an ear: one start in seven is off by more than a frame (our own choice, no source).
WORTH = 0.15

TakePlace = tuple[int, int]  # a take's session and its place there
State = tuple[int, int]  # the number of a reading, and how many corrections lie over it


@dataclass(frozen=True, slots=True)
class DoubtfulWord:
    """A word by its place in its take, and the frame it starts on, both from 0."""

    word: int
    text: str
    frame: int
    doubt: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TakeDoubts:
    """The words of a take that are worth an ear, and how many words it has."""

    take: Take
    words: int
    doubtful: tuple[DoubtfulWord, ...]


@dataclass(slots=True)
class Doubts:
    """What is in doubt in every take of a book. What was found is kept until the take's reading is another.

    May be asked by several threads.
    """

    book: Book
    known: dict[TakePlace, tuple[State, TakeDoubts]] = field(default_factory=dict)
    lock: Lock = field(default_factory=Lock)

    def all(self) -> dict[str, TakeDoubts]:
        """The doubts of every take that is read, by its name."""
        with self.lock:
            found = takes(self.book, kind=StretchKind.TAKE)
            notes = all_corrections(self.book)
            states = states_of(self.book, found, notes)
            new = [one for one in found if self._is_new(one, states)]
            bodies = readings_with(self.book, {states[place_of(one)][0] for one in new})
            for one in new:
                place = place_of(one)
                plain = cast(PlainReading, bodies[states[place][0]])
                self.known[place] = states[place], doubts_in(self.book, one, plain, notes.get(place, ()))
            return {one.name: self.known[place_of(one)][1] for one in found if place_of(one) in states}

    def _is_new(self, take: Take, states: dict[TakePlace, State]) -> bool:
        place = place_of(take)
        known = self.known.get(place)
        return place in states and (known is None or (known[0], known[1].take) != (states[place], take))


def place_of(take: Take) -> TakePlace:
    return take.session, take.place


def states_of(
    book: Book, found: Sequence[Take], notes: dict[TakePlace, tuple[CorrectionNote, ...]]
) -> dict[TakePlace, State]:
    """The reading that counts of each take that is read, and how often it was corrected; in a few queries for all."""
    readings, texts = newest_notes(book), texts_by_line(book)
    recordings = {one.id: one for one in sessions(book)}
    states = {}
    for take in found:
        its, span = recordings[take.session], take.stretch
        for text in dict.fromkeys(texts.get(take.line or "", ())):
            note = readings.get((its.sound.digest, its.channel, span.start, span.stop, digest_of(text)))
            if note:
                states[place_of(take)] = note.id, len(notes.get(place_of(take), ()))
                break
    return states


def doubts_in(book: Book, take: Take, plain: PlainReading, notes: Sequence[CorrectionNote]) -> TakeDoubts:
    """The words of one take that are worth an ear, in their order."""
    reading = corrected(reading_from_plain(plain), [correction_from_plain(note.body) for note in notes]).reading
    rate, sample_rate = book.production.rate, reading.sound.sample_rate
    return TakeDoubts(
        take,
        len(reading.words),
        tuple(
            DoubtfulWord(
                word=number,
                text=word.text,
                frame=frame_at(reading.start(word), sample_rate, rate),
                doubt=round(word.doubt, 3),
                reasons=tuple(reason.value for reason in word.reasons),
            )
            for number, word in enumerate(reading.words)
            if word.doubt >= WORTH
        ),
    )


def doubts_in_order(found: dict[str, TakeDoubts]) -> list[tuple[TakeDoubts, DoubtfulWord]]:
    """All doubtful words, those of circled takes before others, and then the most doubtful first."""
    every = [(one, word) for one in found.values() for word in one.doubtful]
    return sorted(every, key=lambda pair: (not pair[0].take.circled, -pair[1].doubt))


def lines_with_takes(book: Book, found: dict[str, TakeDoubts]) -> list[dict[str, object]]:
    """Every line that has takes, in the order of the script, each with its takes and what is in doubt in them."""
    by_line: dict[str, list[dict[str, object]]] = {}
    for take in takes(book, kind=StretchKind.TAKE):
        doubts = found.get(take.name)
        by_line.setdefault(take.line or "", []).append(
            {
                "name": take.name,
                "number": take.number,
                "circled": take.circled,
                "stand_in": take.stand_in,
                "whole": take.wholeness.value if take.wholeness else "",
                "read": doubts is not None,
                "words": doubts.words if doubts else 0,
                "doubts": len(doubts.doubtful) if doubts else 0,
            }
        )
    return [
        {
            "line": id,
            "scene": known.line.scene,
            "character": known.line.character,
            "text": known.line.text,
            "current": known.current,
            "takes": sorted(by_line[id], key=lambda one: cast(int, one["number"])),
        }
        for id, known in lines_by_id(book).items()
        if id in by_line
    ]
