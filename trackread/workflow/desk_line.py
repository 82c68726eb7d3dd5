"""The takes of a line beside one another, in plain values: where each says which of the line's words.

Samples count from each take's own first at its own rate, words from 0, `stop` is not included.
"""

from collections.abc import Iterator, Sequence

from trackread.book.book import Book
from trackread.book.drafts import line_texts
from trackread.book.sessions import session
from trackread.book.takes import takes
from trackread.core.reading import Reading
from trackread.core.session import StretchKind, Take
from trackread.editing.conform import bare, matches
from trackread.errors import LineError
from trackread.reading.spoken import written_words
from trackread.workflow.desk_take import Plain
from trackread.workflow.seen_take import as_read
from trackread.workflow.typed import line_name


def line_at_desk(book: Book, line: str) -> Plain:
    """A line of the newest draft with all its takes, in order. Raises BookError if there is none such."""
    name = line_name(line)
    _, newest = line_texts(book, name)[-1]
    words = words_in(newest.text)
    found = sorted(takes(book, line=name, kind=StretchKind.TAKE), key=lambda take: take.number or 0)
    return {
        "line": name,
        "character": newest.character,
        "words": words,
        "takes": [plain_take(book, take, words) for take in found],
    }


def words_in(text: str) -> list[str]:
    """The words of a line that are spoken; none, where it has only hints."""
    try:
        return [word.text for word in written_words(text)]
    except LineError:
        return []


def plain_take(book: Book, take: Take, words: Sequence[str]) -> Plain:
    """A take, with the words of the line that it says; of one that has not been read none is known."""
    seen = as_read(book, take)
    return {
        "name": take.name,
        "circled": take.circled,
        "read": seen is not None,
        "sample_rate": session(book, take.session).sound.sample_rate,
        "samples": take.stretch.stop - take.stretch.start,
        "words": list(said(seen.reading, words)) if seen else [],
    }


def said(reading: Reading, words: Sequence[str]) -> Iterator[tuple[int, int, int]]:
    """The words that a reading has: the number of each in the line, its first sample and the one after its last."""
    theirs = [bare(word.text) for word in reading.words]
    for number, place in matches([bare(word) for word in words], theirs):
        word = reading.words[place]
        yield number, reading.start(word), reading.stop(word)
