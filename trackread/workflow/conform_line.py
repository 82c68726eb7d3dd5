"""One take of a line beside another, as when the actor's comes where the stand-in's was.

Frames are told as the production numbers them, each take's first being its `first_frame`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.drafts import line_texts
from trackread.book.takes import takes
from trackread.core.session import Wholeness
from trackread.core.timebase import Frame
from trackread.editing.conform import Conformed, Pair, Place, conform
from trackread.editing.remarks import remarks
from trackread.errors import BookError
from trackread.workflow.seen_take import SeenTake, as_read, seen_take
from trackread.workflow.typed import line_name


@dataclass(frozen=True, slots=True)
class ConformedWord:
    """A word with the frames it starts on before and after, None in the take that does not say it.

    `longer` counts the frames by which it has grown, below zero if it has shrunk.
    """

    text: str
    before: int | None
    after: int | None
    longer: int


@dataclass(frozen=True, slots=True)
class FrameMove:
    """Where a frame of the first take has gone in the second."""

    before: int
    after: int


@dataclass(frozen=True, slots=True)
class ConformedLine:
    """Two takes of a line: what has changed in words, word by word, and where frames that were asked for are now."""

    line: str
    before: str
    after: str
    remarks: tuple[str, ...]
    words: tuple[ConformedWord, ...]
    frames: tuple[FrameMove, ...]


def conform_line(
    book: Book, line: str, before: str | None, after: str | None, *, frames: Sequence[int] = ()
) -> ConformedLine:
    """Lays the take `after` beside `before`: the stand-in's and the actor's, unless they are named.

    Raises BookError for a line or takes that there are none of, or that are not read; CorrectionError for a frame that
    the first take has not.
    """
    name = line_name(line)
    line_texts(book, name)
    ours = named(book, name, before) if before else chosen(book, name, stand_in=True)
    theirs = named(book, name, after) if after else chosen(book, name, stand_in=False)
    for frame in frames:
        ours.check_frame(frame)
    first = book.production.first_frame
    conformed = conform(ours.reading, theirs.reading, book.production.rate)
    return ConformedLine(
        line=name,
        before=ours.take.name,
        after=theirs.take.name,
        remarks=remarks(conformed, first=first),
        words=tuple(words_of(conformed, first)),
        frames=tuple(FrameMove(frame, first + conformed.map_frame(Frame(frame - first))) for frame in frames),
    )


def named(book: Book, line: str, name: str) -> SeenTake:
    """A take that is named. Raises BookError if it is none of this line."""
    found = seen_take(book, name)
    if found.take.line != line:
        raise BookError(f"{found.take.name} is no take of {line}: name two takes of one line")
    return found


def chosen(book: Book, line: str, *, stand_in: bool) -> SeenTake:
    """The last circled take of a line by the stand-in or the actor; where none is, the last whole one that is read.

    Raises BookError if there is none, or the circled one is not read.
    """
    its = sorted(
        (take for take in takes(book, line=line) if take.stand_in is stand_in), key=lambda take: take.number or 0
    )
    whose, option = ("a stand-in", "--from") if stand_in else ("the actor", "--to")
    if not its:
        raise BookError(f"{line} has no take by {whose}: name the take with {option}")
    if circled := [take for take in its if take.circled]:
        return seen_take(book, circled[-1].name)
    whole = (as_read(book, take) for take in reversed(its) if take.wholeness is not Wholeness.CUT_OFF)
    found = next((take for take in whole if take), None)
    if found is None:
        raise BookError(f"no whole take of {line} by {whose} has been read yet: `trackread session read` does that")
    return found


def words_of(conformed: Conformed, first: int) -> Iterator[ConformedWord]:
    """Every word of either, in the order of the second; one that has gone stands after what was before it."""
    rows: list[tuple[tuple[int, int, int], ConformedWord]] = []
    for pair in conformed.pairs:
        word = ConformedWord(pair.text, first + pair.before.frame, first + pair.after.frame, pair.longer)
        rows.append(((pair.after.number, 0, 0), word))
    for place, text in conformed.new:
        rows.append(((place.number, 0, 0), ConformedWord(text, None, first + place.frame, 0)))
    for place, text in conformed.gone:
        rows.append((after_of(conformed.pairs, place), ConformedWord(text, first + place.frame, None, 0)))
    yield from (word for _, word in sorted(rows, key=lambda row: row[0]))


def after_of(pairs: Sequence[Pair], gone: Place) -> tuple[int, int, int]:
    """Where a word that has gone stands among those of the second take."""
    before = [pair.after.number for pair in pairs if pair.before.number < gone.number]
    return (before[-1] if before else -1, 1, gone.number)
