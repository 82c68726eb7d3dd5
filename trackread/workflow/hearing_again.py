"""A stretch of a take heard again with the words that a person typed for it, as a correction.

A wrong word pulls the edges of the words beside it, too, so that these are heard again with it, around what is pinned.
On 243 words of people, exchanged one at a time, 12 % start over a frame off when they are heard so, 39 % when the word
is heard by itself, 13 % when all words are right from the start (scripts/measure-again).
"""

from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field, replace
from multiprocessing import get_context
from threading import Lock

from trackread.book.book import Book
from trackread.book.drafts import line_texts
from trackread.book.sessions import session
from trackread.core.correction import Correction, Reread
from trackread.core.passage import Passage
from trackread.core.passage import Place as Stretch
from trackread.core.reading import Source
from trackread.editing.places import place_seen
from trackread.editing.replay import pins_within
from trackread.errors import BookError, CorrectionError
from trackread.workflow.correcting import Make
from trackread.workflow.failure import Failure
from trackread.workflow.seen_take import SeenTake
from trackread.workflow.session_tasks import ToHearAgain, hear_again
from trackread.workflow.session_work import place_of, words_of
from trackread.workflow.typed import in_letters
from trackread.workflow.workers import end_with_parent

Hear = Callable[[ToHearAgain], Passage | Failure]


@dataclass(slots=True)
class Ears:
    """The engines in a process of their own, which is started when they are first wanted and kept."""

    lock: Lock = field(default_factory=Lock)
    process: ProcessPoolExecutor | None = None

    def __call__(self, task: ToHearAgain) -> Passage | Failure:
        """What is heard. Raises BookError if the process dies; the next one is heard by a new one."""
        try:
            return self.sent(task).result()
        except BrokenProcessPool as error:
            self.close()
            raise BookError("the process that hears ended, perhaps for want of memory: ask again") from error

    def sent(self, task: ToHearAgain) -> Future[Passage | Failure]:
        with self.lock:
            if self.process is None:
                self.process = ProcessPoolExecutor(1, get_context("spawn"), initializer=end_with_parent)
            return self.process.submit(hear_again, task)

    def close(self) -> None:
        with self.lock:
            if self.process is not None:
                self.process.shutdown(wait=False, cancel_futures=True)
            self.process = None


def again(book: Book, first: str, last: str, text: str, hear: Hear) -> Make:
    """The words from one to another, by number or text, are said as `text`; an empty one says that they are not there.

    What is made raises CorrectionError for words that cannot be spoken, or have no room there.
    """

    def make(take: SeenTake) -> Correction:
        return again_between(book, take, (take.word_number(first), take.word_number(last) + 1), text, hear)

    return make


def again_between(book: Book, take: SeenTake, span: tuple[int, int], text: str, hear: Hear) -> Correction:
    """The words of a span, by their places, are said as `text`; raises as `again` does."""
    first, stop = span
    if first >= stop:
        raise CorrectionError("the last word comes before the first: name them in the order in which they are said")
    said = in_letters(" ".join(text.split()), "what is said")
    before, after = fellows(take, first, stop)
    stretch = Stretch(take.reading, first - len(before), stop + len(after))
    task = task_of(book, take, stretch, " ".join([*before, *said.split(), *after]))
    passage = hear(task)
    if isinstance(passage, Failure):
        raise CorrectionError(f"{take.take.name} cannot be heard so: {passage.reason}")
    return Reread(*place_seen(stretch), stretch.text, passage)


def fellows(take: SeenTake, first: int, stop: int) -> tuple[list[str], list[str]]:
    """The word before a span and the one after it, as they are written; none where no word is known."""
    words = take.reading.words
    before, after = words[max(first - 1, 0) : first], words[stop : stop + 1]
    return [one.text for one in before if one.source is not Source.HEARD], [
        one.text for one in after if one.source is not Source.HEARD
    ]


def task_of(book: Book, take: SeenTake, stretch: Stretch, words: str) -> ToHearAgain:
    """What is to be heard. Raises CorrectionError if the recording is missing."""
    place = place_of(book, session(book, take.take.session), take.take)
    if isinstance(place, Failure):
        raise CorrectionError(place.reason)
    start, stop = stretch.span
    its = replace(place, start=place.start + start, stop=place.start + stop)
    line = take.old_words or line_texts(book, take.take.line or "")[-1][1].text
    return ToHearAgain(its, stretch, words, line, words_of(book), pins_within(take.now, stretch))
