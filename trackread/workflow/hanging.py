"""What hangs on the lines of the script, and so is touched where one changes: takes, their readings, corrections."""

from collections import Counter, defaultdict
from collections.abc import Collection
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.corrections import correction_counts
from trackread.book.readings import keys_of
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.session import Take


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs on one line. `circled` are names among `takes`; `readings` and `corrections` are counts."""

    takes: tuple[str, ...]
    circled: tuple[str, ...]
    readings: int
    corrections: int


def hanging_on(book: Book, line_ids: Collection[str]) -> dict[str, Hanging]:
    """What hangs on each of these lines that anything hangs on."""
    by_line: defaultdict[str, list[Take]] = defaultdict(list)
    for take in takes(book, line_ids=line_ids) if line_ids else ():
        by_line[take.line or ""].append(take)
    recordings = {session.id: session for session in sessions(book)}
    # A reading is of samples of a recording, by whatever line; a take may have several.
    read = Counter((key.digest, key.channel, key.start, key.stop) for key in keys_of(book))
    corrected = correction_counts(book)
    found = {}
    for line, its in by_line.items():
        spans = {
            (recordings[take.session].sound.digest, recordings[take.session].channel, *span_of(take)) for take in its
        }
        found[line] = Hanging(
            takes=tuple(take.name for take in its),
            circled=tuple(take.name for take in its if take.circled),
            readings=sum(read[span] for span in spans),
            corrections=sum(corrected.get((take.session, take.place), 0) for take in its),
        )
    return found


def span_of(take: Take) -> tuple[int, int]:
    return take.stretch.start, take.stretch.stop
