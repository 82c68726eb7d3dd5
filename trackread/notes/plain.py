"""Notes and keys as lists of plain dicts, as JSON holds them, and back.

Frames count from 0 at the first frame of the shot, below it where the shot was trimmed; a key's value is the decimal
number as text, since JSON's numbers are read as floats.
"""

from collections.abc import Iterable, Mapping
from typing import TypedDict

from trackread.core.timebase import Frame
from trackread.errors import NotesError
from trackread.notes.action import Note
from trackread.notes.camera import Key, decimal_of, number_of


class PlainNote(TypedDict):
    frame: int
    text: str


class PlainKey(TypedDict):
    frame: int
    axis: str
    value: str


def notes_to_plain(notes: Iterable[Note]) -> list[PlainNote]:
    """The notes with the fields that `notes_from_plain` reads."""
    return [{"frame": note.frame, "text": note.text} for note in notes]


def notes_from_plain(plain: Iterable[Mapping[str, object]]) -> tuple[Note, ...]:
    """The notes that `notes_to_plain` wrote. Raises NotesError if one is none."""
    return tuple(map(_note, plain))


def keys_to_plain(keys: Iterable[Key]) -> list[PlainKey]:
    """The keys with the fields that `keys_from_plain` reads."""
    return [{"frame": key.frame, "axis": key.axis, "value": decimal_of(key.value)} for key in keys]


def keys_from_plain(plain: Iterable[Mapping[str, object]]) -> tuple[Key, ...]:
    """The keys that `keys_to_plain` wrote. Raises NotesError if one is none."""
    return tuple(map(_key, plain))


def _note(plain: Mapping[str, object]) -> Note:
    match plain:
        case {"frame": int(frame), "text": str(text)} if text.strip():
            return Note(Frame(frame), text)
        case _:
            raise NotesError(f"not a note: {plain!r}: it has a whole number as frame and a text")


def _key(plain: Mapping[str, object]) -> Key:
    match plain:
        case {"frame": int(frame), "axis": str(axis), "value": str(text)} if axis.strip():
            value = number_of(text)
            if value is not None:
                return Key(Frame(frame), axis, value)
    raise NotesError(f"not a key: {plain!r}: it has a whole number as frame, an axis and a decimal number as text")
