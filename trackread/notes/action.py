"""What happens in a shot, frame by frame, as a table with the columns frame and text.

Frames count from 0 at the first frame of the shot. What has been trimmed off its head is kept below 0, and is seen
again when the shot grows.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from trackread.core.rows import JOINT
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame
from trackread.notes.tables import NoteTable

COLUMNS = ("frame", "text")
WORDLESS = "text is empty: write what happens on this frame, or leave the row out"


@dataclass(frozen=True, slots=True)
class Note:
    """What happens from a frame on, in the words of who told it."""

    frame: Frame
    text: str

    def __post_init__(self) -> None:
        if not self.text.strip():
            raise ValueError(f"a note says something, not {self.text!r}")


def read_action(text: str, name: str, first_number: int) -> tuple[Note, ...]:
    """The notes of a table called `name`, in order of frames; texts of one frame are joined in order of rows.

    Raises NotesError with every problem of the table at once.
    """
    table = NoteTable(name, first_number)
    texts: dict[Frame, list[str]] = {}
    for line, row in table.rows(text, COLUMNS):
        frame, words = table.frame_at(line, row["frame"]), " ".join(row["text"].split())
        if not words:
            table.problem(line, WORDLESS)
        if frame is not None:
            texts.setdefault(frame, []).append(words)
    table.check()
    # A row that stands there twice says its text once.
    return tuple(Note(frame, JOINT.join(dict.fromkeys(parts))) for frame, parts in sorted(texts.items()))


def action_cells(notes: Iterable[Note], length: int) -> tuple[Cell, ...]:
    """The cells of the notes that lie in a shot `length` frames long, each on its one frame."""
    inside = sorted((note for note in notes if 0 <= note.frame < length), key=lambda note: note.frame)
    return tuple(Cell(note.frame, Frame(note.frame + 1), note.text) for note in inside)
