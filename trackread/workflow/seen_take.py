"""A take as a person sees it who corrects it: its reading with all corrections, and its words by number or text.

Frames are told as the production numbers them, the take's first being its `first_frame`; words and their sounds and
syllables count from 1.
"""

from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.corrections import CorrectionNote, corrections
from trackread.book.drafts import line_texts
from trackread.book.sessions import session
from trackread.book.takes import take_named
from trackread.core.correction import Correction
from trackread.core.plain_correction import Counting, correction_from_plain
from trackread.core.reading import Reading, Word
from trackread.core.session import Take
from trackread.core.timebase import Sample, first_sample_of, frames_covering
from trackread.editing.applying import Corrected
from trackread.editing.conform import bare
from trackread.editing.replay import corrected
from trackread.errors import BookError, CorrectionError
from trackread.workflow.take_readings import first_reading


@dataclass(frozen=True, slots=True)
class SeenTake:
    """A take, its reading as the engine made it and as it stands, and the corrections in between.

    `old_words` are set where the line has been changed since, and the take not read again.
    """

    take: Take
    first: Reading
    now: Corrected
    notes: tuple[CorrectionNote, ...]
    counting: Counting
    old_words: str = ""

    @property
    def reading(self) -> Reading:
        return self.now.reading

    @property
    def made(self) -> tuple[Correction, ...]:
        """The corrections, in the order of their being made."""
        return tuple(correction_from_plain(note.body) for note in self.notes)

    @property
    def frames(self) -> range:
        """The numbers of the take's frames."""
        sound = self.first.sound
        return range(
            self.counting.first,
            self.counting.first + frames_covering(sound.length, sound.sample_rate, self.counting.rate),
        )

    def sample(self, frame: int) -> Sample:
        """The first sample of a frame. Raises CorrectionError for a frame that the take has not."""
        self.check_frame(frame)
        return first_sample_of(frame - self.counting.first, self.counting.sample_rate, self.counting.rate)

    def check_frame(self, frame: int) -> None:
        """Raises CorrectionError for a frame that the take has not."""
        if frame not in self.frames:
            raise CorrectionError(
                f"{self.take.name} has no frame {frame}: it has frames {self.frames[0]} to {self.frames[-1]}"
            )

    def word_number(self, asked: str) -> int:
        """The place, from 0, of the word with this number, from 1, or this text.

        Raises CorrectionError if there is none, or if it is said more than once.
        """
        words = self.reading.words
        if asked.isascii() and asked.isdigit() and 1 <= int(asked) <= len(words):
            return int(asked) - 1
        alike = [k for k, word in enumerate(words) if bare(word.text) == bare(asked)]
        if len(alike) == 1:
            return alike[0]
        if alike:
            numbers = " and ".join(str(k + 1) for k in alike)
            raise CorrectionError(f"{asked!r} is said more than once in {self.take.name}, as words {numbers}: name one")
        said = f"its words are 1 to {len(words)}" if words else "it has no words"
        raise CorrectionError(f"{self.take.name} has no word {asked!r}: {said}; `trackread correct show` lists them")

    def word(self, asked: str) -> Word:
        """The word with this number or text, as `word_number`."""
        return self.reading.words[self.word_number(asked)]


def seen_take(book: Book, name: str) -> SeenTake:
    """A take by its name. Raises BookError if there is none such, or if it has not been read."""
    take = take_named(book, name)
    if take.line is None:
        raise BookError(f"{take.name} is {take.kind.value}, no take: assign it to a line first")
    found = as_read(book, take)
    if found is None:
        raise BookError(f"{take.name} has not been read yet: `trackread session read` does that")
    return found


def as_read(book: Book, take: Take) -> SeenTake | None:
    """A take as it was read, by the newest words of its line that it was read with; None if it has not been read."""
    recording = session(book, take.session)
    texts = list(dict.fromkeys(line.text for _, line in reversed(line_texts(book, take.line or ""))))
    for text in texts:
        first = first_reading(book, take, recording, text)
        if first is not None:
            notes = corrections(book, take.name)
            now = corrected(first, [correction_from_plain(note.body) for note in notes])
            counting = Counting(first.sound.sample_rate, book.production.rate, book.production.first_frame)
            return SeenTake(take, first, now, notes, counting, "" if text == texts[0] else text)
    return None
