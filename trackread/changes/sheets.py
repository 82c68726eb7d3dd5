"""What has changed from one sheet of a shot to the next: from which frame it is stale, on which rows, in which words.

Frames count from 0. Rows are compared by what is animated from them; level, pitch and pauses are no part of that.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trackread.changes.aligned import Aligned, runs_of
from trackread.changes.camera import camera_differing, camera_sentences
from trackread.changes.head import end_sentences, head_sentences, heard_sentences
from trackread.changes.lines import line_changes
from trackread.changes.mouths import going_on
from trackread.changes.voices import voice_sentences
from trackread.changes.words import column_sentences
from trackread.core.rows import Row, VoiceRow, rows_of
from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame

Rows = Sequence[Row]
Spans = tuple[tuple[Frame, Frame], ...]


@dataclass(frozen=True, slots=True)
class SheetChange:
    """How a sheet differs from the one that is out.

    `first` is the frame of the one that is out from which it is stale, None if it is not; its length, if it is only to
    go on. `redo` is the first of its frames on which something else is to be animated than it says, though the frame is
    still in the film; None if there is none. `lost` frames are cut off its head (below 0, so many more), `tail` frames
    its end has gained (below 0, lost). `spans` are the frames of the new sheet that are not as they were. `told` says
    it in sentences.
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
    ours, theirs = going_on(rows_of(before), both.kept.start), going_on(rows_of(after), both.kept_now.start)
    differing = frames_differing(both, ours, theirs)
    lines = tuple(line_changes(both))
    ends, heard = tuple(end_sentences(both)), tuple(heard_sentences(both))
    head = tuple(head_sentences(both, picture_known=lost is not None))
    redo = min([*differing, *(one.first for one in lines if one.first is not None)], default=None)
    told = (*ends, *head, *heard, *row_sentences(both, ours, theirs), *(one.told for one in lines))
    return SheetChange(
        first=first_stale(both, redo, whole=bool(head), told=bool(told)),
        redo=None if redo is None else Frame(redo),
        lost=both.lost,
        tail=both.tail,
        spans=spans_of(both, differing),
        told=told,
    )


def first_stale(both: Aligned, redo: int | None, *, whole: bool, told: bool) -> Frame | None:
    """The first frame from which a sheet is not what it says: the first of all if its `whole` shot is another."""
    starts = [0] if whole or both.lost else []
    starts += [redo] if redo is not None else []
    starts += [both.kept.stop] if both.tail else []
    # Another take may sound the same on every row: the sheet still names the one that is heard no more.
    return Frame(min(starts, default=0)) if told else None


def row_sentences(both: Aligned, ours: Rows, theirs: Rows) -> Iterator[str]:
    """What has changed on the rows, in words: voice by voice, then what is beside them."""
    names = dict.fromkeys(voice.character for voice in (*both.before.voices, *both.after.voices))
    for name in names:
        yield from voice_sentences(both, name, voice_on(ours, name), voice_on(theirs, name))
    yield from column_sentences(both, "action", [row.action for row in ours], [row.action for row in theirs])
    yield from camera_sentences(both)


def voice_on(rows: Rows, name: str) -> list[VoiceRow]:
    """A voice's rows, empty ones if it has none."""
    empty = VoiceRow(name)
    return [next((voice for voice in row.voices if voice.character == name), empty) for row in rows]


def frames_differing(both: Aligned, ours: Rows, theirs: Rows) -> list[int]:
    """The frames of the sheet before that are on the sheet after as well, and not as they were."""
    others = (frame for frame in both.kept if differ(ours[frame], theirs[both.now(frame)]))
    return sorted({*others, *camera_differing(both)})


def differ(ours: Row, theirs: Row) -> bool:
    """Whether anything else is animated from a row, but for the camera; who has nothing on it is no part of it."""
    if ours.action != theirs.action:
        return True
    return ours.voices != theirs.voices and speaking_on(ours) != speaking_on(theirs)


def speaking_on(row: Row) -> dict[str, VoiceRow]:
    """Those who have anything on a row."""
    return {voice.character: voice for voice in row.voices if voice != VoiceRow(voice.character)}


def spans_of(both: Aligned, differing: list[int]) -> Spans:
    """The frames of the sheet after that are new, or not as they were."""
    changed = {both.now(frame) for frame in differing}
    marked = [frame for frame in range(both.after.length) if frame in changed or frame not in both.kept_now]
    return tuple((Frame(run.start), Frame(run.stop)) for run in runs_of(marked))
