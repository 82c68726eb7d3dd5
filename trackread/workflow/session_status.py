"""How far each session has been listened through, and what was found in it."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.sessions import is_numbered, pieces_done, sessions
from trackread.book.takes import takes as every_take
from trackread.core.session import StretchKind, Take
from trackread.core.timebase import resampled


@dataclass(frozen=True, slots=True)
class SessionStatus:
    """A session: how long it is, how many hundredths of it are `heard`, 100 only when its takes have their names."""

    name: str
    recording: str
    stand_in: bool
    milliseconds: int
    heard: int
    takes: int
    unsure: int
    chatter: int
    slates: int


def sessions_of(book: Book) -> tuple[SessionStatus, ...]:
    """All sessions, in the order of their being added."""
    return session_statuses(book, every_take(book))


def session_statuses(book: Book, every: Sequence[Take]) -> tuple[SessionStatus, ...]:
    """All sessions, of whose stretches `every` one is given."""
    kinds = Counter((take.session, take.kind) for take in every)
    return tuple(
        SessionStatus(
            name=f"S{one.id}",
            recording=one.name,
            stand_in=one.stand_in,
            milliseconds=resampled(one.sound.length, one.sound.sample_rate, 1000),
            heard=heard_of(book, one.id, one.sound.length),
            takes=kinds[one.id, StretchKind.TAKE],
            unsure=kinds[one.id, StretchKind.UNSURE],
            chatter=kinds[one.id, StretchKind.CHATTER],
            slates=kinds[one.id, StretchKind.SLATE],
        )
        for one in sessions(book)
    )


def heard_of(book: Book, session: int, length: int) -> int:
    """How many hundredths of a session have been listened through, whole ones only."""
    if is_numbered(book, session):
        return 100
    return min(99, 100 * sum(stop - start for start, stop in pieces_done(book, session)) // length)
