"""What a person sees of a take who corrects it: its words, the notes beside it, and the log of its corrections."""

from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.corrections import corrections
from trackread.core.correction import DEGREES
from trackread.core.plain_correction import words_of
from trackread.core.reading import Word
from trackread.core.spelling import is_in
from trackread.core.timebase import Sample
from trackread.workflow.correcting import sounds_in
from trackread.workflow.seen_take import SeenTake
from trackread.workflow.undoing import UNDOES, undone


@dataclass(frozen=True, slots=True)
class SeenWord:
    """A word by its number, from 1, on frames `frame` to before `stop`, with its sounds in ARPAbet.

    `stresses` are those of its syllables. `pinned` says whether its start stays where it is, however often the
    take is read again.
    """

    number: int
    text: str
    frame: int
    stop: int
    sounds: tuple[str, ...]
    stresses: tuple[str, ...]
    doubt: float
    reasons: tuple[str, ...]
    pinned: bool


@dataclass(frozen=True, slots=True)
class SeenNote:
    """What is written beside a frame."""

    frame: int
    text: str


@dataclass(frozen=True, slots=True)
class LostCorrection:
    """A correction that has no place in the reading any more, and why."""

    words: str
    reason: str


@dataclass(frozen=True, slots=True)
class TakeWords:
    """A take's words, notes and corrections that found no place. `seen` is the number of its last correction.

    `old_words` are set where the line has other words now, and the take was read with these.
    """

    take: str
    seen: int
    words: tuple[SeenWord, ...]
    notes: tuple[SeenNote, ...]
    lost: tuple[LostCorrection, ...]
    old_words: str


@dataclass(frozen=True, slots=True)
class LoggedCorrection:
    """A correction in the log; `undoes` is the number of the one that it takes back, None unless it does."""

    number: int
    author: str
    time: str
    words: str
    undoes: int | None
    undone: bool


def take_words(take: SeenTake) -> TakeWords:
    """All that is to be seen of a take."""
    counting = take.counting
    return TakeWords(
        take=take.take.name,
        seen=len(take.notes),
        words=tuple(seen_word(take, k, word) for k, word in enumerate(take.reading.words, 1)),
        notes=tuple(SeenNote(counting.frame(note.sample), note.text) for note in take.now.notes),
        lost=tuple(LostCorrection(words_of(one.correction, counting), one.reason) for one in take.now.astray),
        old_words=take.old_words,
    )


def seen_word(take: SeenTake, number: int, word: Word) -> SeenWord:
    """One word."""
    reading, frame = take.reading, take.counting.frame
    start, stop = reading.start(word), reading.stop(word)
    return SeenWord(
        number=number,
        text=word.text,
        frame=frame(start),
        stop=frame(Sample(stop - 1)) + 1,
        sounds=tuple(reading.phones[k].symbol for k in sounds_in(take, str(number))),
        stresses=tuple(DEGREES[one.stress] for one in reading.syllables if is_in(one, word)),
        doubt=word.doubt,
        reasons=tuple(reason.value for reason in word.reasons),
        pinned=start in take.now.pins,
    )


def correction_log(book: Book, name: str) -> tuple[LoggedCorrection, ...]:
    """All corrections of a take, the first first. Raises BookError if there is no such take."""
    notes = corrections(book, name)
    gone = undone(notes)
    return tuple(
        LoggedCorrection(
            number=note.sequence,
            author=note.author,
            time=note.time,
            words=note.words,
            undoes=int(str(note.body[UNDOES])) if UNDOES in note.body else None,
            undone=note.sequence in gone,
        )
        for note in notes
    )
