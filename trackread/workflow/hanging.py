"""What hangs on the lines of the script, and so is touched where one changes: takes, their readings, corrections."""

from collections import Counter, defaultdict
from collections.abc import Collection
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.corrections import correction_counts
from trackread.book.issues import issues
from trackread.book.readings import keys_of
from trackread.book.sessions import sessions
from trackread.book.takes import takes
from trackread.core.session import Take
from trackread.workflow.current_cut import current_cut
from trackread.workflow.material import gather
from trackread.workflow.shot_brief import brief_of


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs on one line. `circled` are names among `takes`; `readings` and `corrections` are counts.

    `shots` are those in which it is heard, `out` those of them whose sheets are out, with the issue and its unit.
    """

    takes: tuple[str, ...]
    circled: tuple[str, ...]
    readings: int
    corrections: int
    shots: tuple[str, ...] = ()
    out: tuple[str, ...] = ()


def hanging_on(book: Book, line_ids: Collection[str]) -> dict[str, Hanging]:
    """What hangs on each of these lines that anything hangs on."""
    by_line: defaultdict[str, list[Take]] = defaultdict(list)
    for take in takes(book, line_ids=line_ids) if line_ids else ():
        by_line[take.line or ""].append(take)
    recordings = {session.id: session for session in sessions(book)}
    # A reading is of samples of a recording, by whatever line; a take may have several.
    read = Counter((key.digest, key.channel, key.start, key.stop) for key in keys_of(book))
    corrected = correction_counts(book)
    shots, out = shots_of_lines(book), sheets_out(book)
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
            shots=shots.get(line, ()),
            out=tuple(out[shot] for shot in shots.get(line, ()) if shot in out),
        )
    return found


def shots_of_lines(book: Book) -> dict[str, tuple[str, ...]]:
    """The shots in which each line is heard, in the order of the cut; nothing where there is no cut."""
    numbered = current_cut(book)
    if not numbered.cut.shots:
        return {}
    material = gather(book, numbered)
    found: defaultdict[str, dict[str, None]] = defaultdict(dict)
    for shot in material.cut.shots:
        for one in brief_of(material, shot).heard:
            found[one.line][shot.name] = None
    return {line: tuple(shots) for line, shots in found.items()}


def sheets_out(book: Book) -> dict[str, str]:
    """The sheet that is out of each shot of which one is: `SH010 (issue 2, unit 7)`."""
    return {one.shot: f"{one.shot} (issue {one.number}, unit {one.unit})" for one in issues(book, current=True)}


def span_of(take: Take) -> tuple[int, int]:
    return take.stretch.start, take.stretch.stop
