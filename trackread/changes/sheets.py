"""What has changed from one sheet of a shot to the next: from which frame it is stale, on which rows, in which words.

Frames count from 0. Rows are compared by what is animated from them; level, pitch and pauses are no part of that.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from trackread.changes.aligned import Aligned
from trackread.changes.head import head_sentences
from trackread.changes.lines import line_changes
from trackread.changes.voices import voice_sentences
from trackread.changes.words import cell_sentences
from trackread.core.rows import Row, VoiceRow, rows_of
from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame

Spans = tuple[tuple[Frame, Frame], ...]


@dataclass(frozen=True, slots=True)
class SheetChange:
    """How a sheet differs from the one that is out.

    `first` is the frame of the one that is out from which it is stale, None if it is not. `redo` is the first of its
    frames on which something else is to be animated than it says, though the frame is still in the film; None if there
    is none. `lost` frames are cut off its head (below 0, so many more), `tail` frames its end has gained (below 0,
    lost). `spans` are the frames of the new sheet that are not as they were. `told` says it in sentences.
    """

    first: Frame | None
    redo: Frame | None
    lost: int
    tail: int
    spans: Spans
    told: tuple[str, ...]

    @property
    def stale(self) -> bool:
        return self.first is not None


def compare_sheets(before: Sheet, after: Sheet, lost: int | None) -> SheetChange:
    """How `after` differs from `before`, a sheet of the same shot that is out.

    `lost` frames were cut off the shot's head in between, None where nobody can tell: then frames are taken to be those
    of the same number.
    """
    both = Aligned(before, after, lost or 0)
    ours, theirs = contents_of(before), contents_of(after)
    differing = [frame for frame in both.kept if ours[frame] != theirs[both.now(frame)]]
    changed_lines = tuple(line_changes(both))
    head = tuple(head_sentences(both, picture_known=lost is not None))
    redo = min([*differing, *(one.first for one in changed_lines)], default=None)
    tail = both.was(after.length) - before.length
    starts = [*([redo] if redo is not None else []), *([0] if head or both.lost else [])]
    starts += [both.kept.stop] if tail else []
    return SheetChange(
        first=Frame(min(starts)) if starts else None,
        redo=None if redo is None else Frame(redo),
        lost=both.lost,
        tail=tail,
        spans=spans_of(both, differing),
        told=(*head, *sentences(both), *(one.told for one in changed_lines)),
    )


def sentences(both: Aligned) -> Iterator[str]:
    """What has changed on the rows, in words: voice by voice, then what is beside them."""
    yield from voice_sentences(both)
    yield from cell_sentences(both, "action", both.before.action, both.after.action)
    yield from cell_sentences(both, "camera", both.before.camera, both.after.camera)


def spans_of(both: Aligned, differing: list[int]) -> Spans:
    """The frames of the sheet after that are new, or not as they were."""
    kept = {both.now(frame) for frame in both.kept}
    changed = {both.now(frame) for frame in differing}
    marked = [frame for frame in range(both.after.length) if frame in changed or frame not in kept]
    runs = (list(run) for _, run in groupby(enumerate(marked), key=lambda pair: pair[1] - pair[0]))
    return tuple((Frame(run[0][1]), Frame(run[-1][1] + 1)) for run in runs)


def contents_of(sheet: Sheet) -> list[object]:
    """What is animated from each row; who has nothing on it is no part of it."""
    return [content_of(row) for row in rows_of(sheet)]


def content_of(row: Row) -> object:
    speaking = {voice.character: voice for voice in row.voices if voice != VoiceRow(voice.character)}
    return speaking, row.action, row.camera
