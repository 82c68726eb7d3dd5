"""Which takes have been read, and which want to be read again since what their readings depend on has changed."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from enum import StrEnum

from trackread.book.book import Book
from trackread.book.readings import keys_of
from trackread.book.sessions import sessions
from trackread.core.session import Take
from trackread.workflow.take_readings import key_of, pronunciations_digest

TakePlace = tuple[int, int]  # a take's session and its place there


class ReadingState(StrEnum):
    """How far a take is with its reading."""

    READ = "read"
    AGAIN = "to be read again"  # the line's words, the production's pronunciations or the engine have changed
    UNREAD = "not read"


def reading_states(book: Book, takes: Iterable[Take], texts: Mapping[str, str]) -> dict[TakePlace, ReadingState]:
    """How far each take is, all in two queries; `texts` are the words of lines as they are now.

    Pins play no part: they are made after a reading, and kept in the next.
    """
    recordings = {session.id: session for session in sessions(book)}
    pronunciations = pronunciations_digest(book.folder)
    every = keys_of(book)
    now = {replace(key, pins_digest="") for key in every}
    ever = {(key.digest, key.channel, key.start, key.stop) for key in every}
    found = {}
    for take in takes:
        if take.line is None or take.line not in texts:
            continue
        key = key_of(take, recordings[take.session], texts[take.line], pronunciations=pronunciations)
        before = (key.digest, key.channel, key.start, key.stop) in ever
        state = ReadingState.READ if key in now else ReadingState.AGAIN if before else ReadingState.UNREAD
        found[take.session, take.place] = state
    return found
