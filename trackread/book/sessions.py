"""Voice sessions and how far they have been listened through.

A session is listened through piece by piece, in any order; once all pieces are in, its stretches get their places and
its takes their numbers, which they keep for good.
"""

from collections.abc import Sequence
from dataclasses import asdict
from itertools import pairwise
from typing import Any

from sqlalchemy import func, insert, select, update
from sqlalchemy.orm import Session as Transaction

from trackread.book.book import Book
from trackread.book.clock import now
from trackread.book.numbering import give_numbers
from trackread.book.sounds import sound_of
from trackread.book.tables import PieceRow, SessionRow, SoundRow, StretchRow
from trackread.core.script import speaker_of
from trackread.core.session import Guess, RecorderNotes, Session, Stretch, StretchKind
from trackread.core.sound import Sound
from trackread.errors import BookError

Piece = tuple[int, int]


def add_session(
    book: Book,
    sound: Sound,
    name: str,
    *,
    channel: int | None,
    characters: Sequence[str],
    stand_in: bool,
    notes: RecorderNotes,
    author: str,
) -> Session:
    """Adds a session of a recording that has been kept; the same channel of the same recording again gives the first.

    Raises BookError if that was added with other characters, or the other way as for its being a stand-in's.
    """
    with book.writing() as transaction:
        recording = transaction.get(SoundRow, sound.digest)
        if recording is None:
            raise BookError(f"the recording of {name} is not in {book.folder}: keep it first")
        known = transaction.scalars(
            select(SessionRow).where(SessionRow.digest == sound.digest, SessionRow.channel == (channel or 0))
        ).first()
        if known:
            check_same(known, characters, stand_in=stand_in)
            return session_of(known, recording)
        row = SessionRow(
            id=1 + (transaction.scalar(select(func.max(SessionRow.id))) or 0),
            digest=sound.digest,
            name=name,
            channel=channel or 0,
            characters=list(characters),
            stand_in=stand_in,
            notes=asdict(notes),
            author=author,
            added=now(),
        )
        transaction.add(row)
        return session_of(row, recording)


def check_same(row: SessionRow, characters: Sequence[str], *, stand_in: bool) -> None:
    if {*map(speaker_of, row.characters)} != {*map(speaker_of, characters)} or row.stand_in != stand_in:
        told = f"{', '.join(row.characters) or 'anybody'}, {'a stand-in' if row.stand_in else 'no stand-in'}"
        raise BookError(
            f"this recording was added as S{row.id} by {row.author} at {row.added}, for {told}: keep to that"
        )


def session_of(row: SessionRow, recording: SoundRow) -> Session:
    return Session(
        row.id,
        sound_of(recording),
        row.name,
        row.channel or None,
        tuple(row.characters),
        row.stand_in,
        notes_of(row.notes),
        row.author,
        row.added,
    )


def notes_of(plain: dict[str, Any]) -> RecorderNotes:
    """The notes as JSON has them, with lists for tuples."""
    return RecorderNotes(**{**plain, "tracks": tuple(plain["tracks"])})


def session(book: Book, id: int) -> Session:
    """A session. Raises BookError if there is none."""
    with book.reading() as transaction:
        row = session_row(transaction, id)
        return session_of(row, transaction.get_one(SoundRow, row.digest))


def session_row(transaction: Transaction, id: int) -> SessionRow:
    row = transaction.get(SessionRow, id)
    if row is None:
        count = transaction.scalar(select(func.max(SessionRow.id))) or 0
        right = f"they run from S1 to S{count}" if count else "none has been added yet"
        raise BookError(f"there is no session S{id}: {right}")
    return row


def sessions(book: Book) -> tuple[Session, ...]:
    """All sessions, in the order of their being added."""
    every = select(SessionRow, SoundRow).join(SoundRow, SoundRow.digest == SessionRow.digest).order_by(SessionRow.id)
    with book.reading() as transaction:
        return tuple(session_of(row, recording) for row, recording in transaction.execute(every))


def pieces_done(book: Book, id: int) -> frozenset[Piece]:
    """The pieces, from sample to sample, that have been listened through. Raises BookError for no session."""
    with book.reading() as transaction:
        session_row(transaction, id)
        return frozenset(pieces_of(transaction, id))


def pieces_of(transaction: Transaction, id: int) -> list[Piece]:
    rows = transaction.execute(
        select(PieceRow.start, PieceRow.stop).where(PieceRow.session == id).order_by(PieceRow.start)
    )
    return [(start, stop) for start, stop in rows]


def save_piece(book: Book, id: int, piece: Piece, stretches: Sequence[Stretch]) -> None:
    """Saves what was found in a piece; what was found in the same piece before is kept instead.

    Raises BookError if there is no such session, or its takes have been numbered.
    """
    with book.writing() as transaction:
        row = session_row(transaction, id)
        done = pieces_of(transaction, id)
        if piece in done:
            return
        if row.numbered:
            raise BookError(f"S{id} has been listened through at {row.numbered}: nothing can be added to it")
        if any(before[1] > after[0] for before, after in pairwise(sorted([*done, piece]))):
            raise ValueError(f"the piece {piece} of S{id} has a part that has been listened through")
        transaction.add(PieceRow(session=id, start=piece[0], stop=piece[1], saved=now()))
        if stretches:
            transaction.execute(insert(StretchRow), [stretch_row(id, stretch) for stretch in stretches])


def stretch_row(id: int, stretch: Stretch) -> dict[str, object]:
    return {
        "session": id,
        "start": stretch.start,
        "stop": stretch.stop,
        "kind": stretch.kind.value,
        "guesses": [plain_guess(guess) for guess in stretch.guesses],
        "heard": stretch.heard,
    }


def plain_guess(guess: Guess) -> dict[str, object]:
    return {"line": guess.line, "likely": guess.likely, "wholeness": guess.wholeness.value}


def number_takes(book: Book, id: int) -> None:
    """Gives the stretches their places and the takes their numbers, in the order of time; only the first time.

    To be called once all pieces are in. Raises BookError if there is no such session, or a part of it is not in.
    """
    with book.writing() as transaction:
        row = session_row(transaction, id)
        if row.numbered:
            return
        check_whole(transaction, row)
        columns = select(StretchRow.id, StretchRow.kind, StretchRow.guesses)
        found = transaction.execute(columns.where(StretchRow.session == id).order_by(StretchRow.start)).all()
        if found:
            places = [{"id": key, "place": place} for place, (key, _, _) in enumerate(found, 1)]
            transaction.execute(update(StretchRow), places)
        takes = [(key, str(guesses[0]["line"])) for key, kind, guesses in found if kind == StretchKind.TAKE]
        give_numbers(transaction, takes)
        row.numbered = now()


def check_whole(transaction: Transaction, row: SessionRow) -> None:
    """Raises BookError at the first gap between the pieces."""
    stop = 0
    for piece in [*pieces_of(transaction, row.id), (transaction.get_one(SoundRow, row.digest).length,) * 2]:
        if piece[0] > stop:
            raise BookError(f"S{row.id} has not been listened through: samples {stop} to {piece[0]} are missing")
        stop = piece[1]


def is_numbered(book: Book, id: int) -> bool:
    """Whether the session has been listened through and its takes have numbers. Raises BookError if none such."""
    with book.reading() as transaction:
        return session_row(transaction, id).numbered is not None
