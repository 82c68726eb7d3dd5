"""What is shot of every shot of the cut, for the office."""

from trackread.book.book import Book
from trackread.book.shot_notes import shot_notes
from trackread.workflow.shot_list import shot_list
from trackread.workflow.shot_told import NoteKind


def what_is_shot(book: Book) -> list[dict[str, object]]:
    """The shots of the current cut as plain values, in its order; `time` is when frames were last told, None if never.

    `issue` is None and `unit` "" for a shot without a sheet. Raises CutError if there is no shot.
    """
    notes = shot_notes(book)
    found: list[dict[str, object]] = []
    for one in shot_list(book, None):
        note = notes.get(one.name, {}).get(NoteKind.DONE)
        found.append(
            {
                "shot": one.name,
                "scene": one.scene,
                "unit": one.unit,
                "issue": one.issue,
                "done": one.done or 0,
                "of": one.frames,
                "time": note.time if note else None,
                "by": note.author if note else "",
            }
        )
    return found
