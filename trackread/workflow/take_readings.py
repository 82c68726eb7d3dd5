"""The reading of a take as the book has it: the newest that was made, with all corrections replayed over it.

A reading is kept under everything it depends on, so nothing is read twice; where the line's words, the production's
pronunciations or the engine have changed since, the take wants to be read again, and its pins are given to the reader.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import astuple
from pathlib import Path
from typing import cast

from trackread.book.book import Book
from trackread.book.corrections import corrections
from trackread.book.drafts import line_texts
from trackread.book.readings import ReadingKey, newest_reading
from trackread.core.correction import Pin
from trackread.core.plain import PlainReading, reading_from_plain
from trackread.core.plain_correction import correction_from_plain
from trackread.core.reading import ENGINE, Reading
from trackread.core.session import Session, Take
from trackread.editing.applying import Corrected
from trackread.editing.replay import corrected, pins_of

PRONUNCIATIONS = "pronunciations.txt"  # in the production's folder, if it has words of its own


def pronunciations_of(folder: Path) -> Path | None:
    """The production's own pronunciations, if it has any."""
    path = folder / PRONUNCIATIONS
    return path if path.is_file() else None


def digest_of(text: str) -> str:
    """SHA-256 in hex; "" of nothing."""
    return hashlib.sha256(text.encode()).hexdigest() if text else ""


def pronunciations_digest(folder: Path) -> str:
    """What tells two states of the production's pronunciations apart."""
    path = pronunciations_of(folder)
    return hashlib.sha256(path.read_bytes()).hexdigest() if path else ""


def pins_digest(pins: Sequence[Pin]) -> str:
    """What tells two sets of pins apart; "" for none."""
    return digest_of("\n".join(sorted(repr(astuple(pin)) for pin in pins)))


def key_of(take: Take, session: Session, text: str, *, pronunciations: str, pins: Sequence[Pin] = ()) -> ReadingKey:
    """What a reading of this take by this engine depends on; `text` is its line's words."""
    return ReadingKey(
        digest=session.sound.digest,
        start=take.stretch.start,
        stop=take.stretch.stop,
        channel=session.channel,
        line_digest=digest_of(text),
        pronunciations_digest=pronunciations,
        pins_digest=pins_digest(pins),
        engine=ENGINE,
    )


def first_reading(book: Book, take: Take, session: Session, text: str) -> Reading | None:
    """The newest reading of the take of these words, without the corrections; None if it has not been read."""
    span = (take.stretch.start, take.stretch.stop)
    plain = newest_reading(book, session.sound.digest, span, session.channel, line_digest=digest_of(text))
    return reading_from_plain(cast(PlainReading, plain)) if plain is not None else None


def current_reading(book: Book, take: Take, session: Session, text: str) -> Corrected | None:
    """The take's reading with every correction that could be applied to it; None if it has not been read."""
    reading = first_reading(book, take, session, text)
    if reading is None:
        return None
    return corrected(reading, [correction_from_plain(note.body) for note in corrections(book, take.name)])


def pins_for(book: Book, take: Take, session: Session) -> tuple[Pin, ...]:
    """What people pinned in the take, in its reading of the newest words of its line that it was read with."""
    if not take.line or not corrections(book, take.name):
        return ()
    texts = [line.text for _, line in reversed(line_texts(book, take.line))]
    found = (current_reading(book, take, session, text) for text in dict.fromkeys(texts))
    return next((pins_of(one) for one in found if one is not None), ())
