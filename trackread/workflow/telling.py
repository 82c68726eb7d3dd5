"""What a person tells of a shot: what happens in it, who is there, its board, its notes by frame, what is shot."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from trackread.book.book import Book
from trackread.book.shot_notes import keep_board, tell_of_shot
from trackread.core.cut import Shot
from trackread.cutting.by_hand import find_shot
from trackread.errors import BookError, CutError, SheetError
from trackread.notes.action import read_action
from trackread.notes.camera import read_camera
from trackread.notes.plain import keys_to_plain, notes_to_plain
from trackread.sheets.pictures import kept
from trackread.workflow.cast import cast_of
from trackread.workflow.current_cut import cut_with_shots
from trackread.workflow.shot_told import NoteKind, timed_body
from trackread.workflow.typed import in_letters, typed

MOST = 32 * 2**20  # bytes of a board: more is no picture for a sheet


@dataclass(frozen=True, slots=True)
class Telling:
    """What is told of a shot, as a person typed it; None for what is not told, "" and () for what is so no more."""

    scene: str | None = None
    about: str | None = None
    board: Path | None = None
    present: tuple[str, ...] | None = None
    action: Path | None = None
    camera: Path | None = None
    every_position: bool = False


def tell(book: Book, name: str, telling: Telling, author: str) -> str:
    """Notes what is told of a shot, all of it or nothing, and gives the shot's name.

    Raises CutError for a shot that there is none of, NotesError with all that is wrong in a table, SheetError for a
    board that is no picture, BookError for somebody who is not in the production.
    """
    shot = find_shot(cut_with_shots(book).cut, name)
    told: dict[str, Mapping[str, object]] = {}
    if telling.scene is not None:
        told[NoteKind.SCENE] = {"scene": row_of(telling.scene, "the scene")}
    if telling.about is not None:
        told[NoteKind.ABOUT] = {"text": row_of(telling.about, "what happens")}
    if telling.present is not None:
        told[NoteKind.PRESENT] = {"names": [cast_of(book.production).known(one) for one in telling.present]}
    if telling.action is not None:
        notes = read_action(text_of(telling.action), str(telling.action), book.production.first_frame)
        told[NoteKind.ACTION] = timed_body(shot, notes=notes_to_plain(notes))
    if telling.camera is not None:
        keys = read_camera(text_of(telling.camera), str(telling.camera), book.production.first_frame)
        told[NoteKind.CAMERA] = timed_body(shot, keys=keys_to_plain(keys), every_position=telling.every_position)
    if telling.board is not None:
        told[NoteKind.BOARD] = {"digest": kept_board(book, telling.board), "name": telling.board.name}
    if not told:
        raise BookError("say what is to be told of the shot: `trackread shot tell --help` lists what there is")
    tell_of_shot(book, shot.name, told, author)
    return shot.name


def tell_done(book: Book, name: str, done: int, author: str) -> tuple[Shot, int]:
    """Notes that the first `done` frames of a shot are shot, and gives the shot and how many are left.

    Raises CutError for a count that the shot does not have.
    """
    shot = find_shot(cut_with_shots(book).cut, name)
    if not 0 <= done <= shot.seen:
        raise CutError(f"{shot.name} has {shot.seen} frames: so many can be done, or fewer, not {done}")
    tell_of_shot(book, shot.name, {NoteKind.DONE: timed_body(shot, frames=done)}, author)
    return shot, shot.seen - done


def row_of(text: str, what: str) -> str:
    """A text as one row of words, "" for nothing."""
    return typed(text, what) if text.strip() else ""


def text_of(path: Path) -> str:
    """The text of a table. Raises BookError if it is not UTF-8, or cannot be read."""
    content = bytes_of(path)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = 1 + content.count(b"\n", 0, error.start)
        raise BookError(f"{path}:{line}: is not UTF-8 text: save it as UTF-8") from error


def bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise BookError(f"{path} cannot be read: {error.strerror or error}") from error


def kept_board(book: Book, path: Path) -> str:
    """The digest under which the book keeps the picture of a board."""
    content = bytes_of(path)
    if len(content) > MOST:
        raise BookError(f"{path} has {len(content) // 2**20} MB: a board has {MOST // 2**20} MB at most")
    try:
        picture = kept(content)
    except SheetError as error:
        raise SheetError(f"{path}: {error}") from error
    return keep_board(book, in_letters(path.name, "the name of the board"), picture)
