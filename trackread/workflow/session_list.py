"""What was found in sessions, in numbers and in words."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypedDict

from trackread.book.book import Book
from trackread.book.sessions import is_numbered, pieces_done, sessions
from trackread.book.takes import takes
from trackread.core.session import Session, StretchKind, Take, Wholeness
from trackread.workflow.session_work import Outcome


@dataclass(frozen=True, slots=True)
class SessionRow:
    """A session and its stretches; `heard` is how many of its samples have been listened to."""

    session: Session
    heard: int
    takes: int
    lines: int
    cut_off: int
    slates: int
    chatter: int
    unsure: int


class PlainSession(TypedDict):
    name: str
    file: str
    sound: str
    characters: list[str]
    stand_in: bool
    channel: int | None
    samples: int
    sample_rate: int
    heard: int
    takes: int
    lines: int
    cut_off: int
    slates: int
    chatter: int
    unsure: int
    author: str
    added: str


def session_rows(book: Book) -> tuple[SessionRow, ...]:
    """Every session, in the order of their being added."""
    found: dict[int, list[Take]] = {}
    for take in takes(book):
        found.setdefault(take.session, []).append(take)
    return tuple(row_of(book, session, found.get(session.id, [])) for session in sessions(book))


def row_of(book: Book, session: Session, found: list[Take]) -> SessionRow:
    kinds = Counter(take.kind for take in found)
    whole = is_numbered(book, session.id)
    heard = session.sound.length if whole else sum(stop - start for start, stop in pieces_done(book, session.id))
    return SessionRow(
        session,
        heard,
        kinds[StretchKind.TAKE],
        len({take.line for take in found if take.line}),
        sum(take.wholeness is Wholeness.CUT_OFF for take in found),
        kinds[StretchKind.SLATE],
        kinds[StretchKind.CHATTER],
        kinds[StretchKind.UNSURE],
    )


def plain_session(row: SessionRow) -> PlainSession:
    """A session as JSON has it; samples are whole numbers."""
    session = row.session
    return {
        "name": f"S{session.id}",
        "file": session.name,
        "sound": session.sound.digest,
        "characters": list(session.characters),
        "stand_in": session.stand_in,
        "channel": session.channel,
        "samples": session.sound.length,
        "sample_rate": session.sound.sample_rate,
        "heard": row.heard,
        "takes": row.takes,
        "lines": row.lines,
        "cut_off": row.cut_off,
        "slates": row.slates,
        "chatter": row.chatter,
        "unsure": row.unsure,
        "author": session.author,
        "added": session.added,
    }


def summary(outcome: Outcome) -> Iterator[str]:
    """What became of a session, in sentences."""
    kinds = Counter(take.kind for take in outcome.takes)
    found = [take for take in outcome.takes if take.kind is StretchKind.TAKE]
    cut = sum(take.wholeness is Wholeness.CUT_OFF for take in found)
    lines = len({take.line for take in found})
    yield (
        f"S{outcome.session.id}, {outcome.session.name}: {counted(len(found), 'take')} of {counted(lines, 'line')}, "
        f"{cut} of them cut off; {counted(kinds[StretchKind.SLATE], 'slate')}, "
        f"{kinds[StretchKind.CHATTER]} times other talk."
    )
    if unsure := kinds[StretchKind.UNSURE]:
        yield (
            f"{counted(unsure, 'stretch', 'stretches')} for you to decide: see `trackread takes --unsure`, "
            "then `trackread assign`."
        )
    if not outcome.takes:
        yield "Nobody speaks in it."


def counted(count: int, one: str, many: str = "") -> str:
    """So many of something.

    >>> counted(1, "take"), counted(3, "take")
    ('1 take', '3 takes')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"
