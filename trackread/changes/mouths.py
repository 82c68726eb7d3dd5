"""What has changed in what a puppet wears, in sentences: briefly, and only where no sentence about its words tells it.

A sheet that is planned from the first frame of its shot puts a mouth on there, on which the sheet before only went on:
on the first frame that both have, nothing starts.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from trackread.changes.aligned import Aligned, Told, runs_of
from trackread.changes.words import changed_on
from trackread.core.mouth import USUAL
from trackread.core.rows import Held, Row, VoiceRow

Column = Sequence[Held | None]

# Around words that are others, mouths are others too: so far ahead of them, and behind, where a mouth comes to rest.
AROUND = max(USUAL.early, USUAL.most_ease)


def going_on(rows: Sequence[Row], frame: int) -> list[Row]:
    """The rows of a sheet, with nothing put on on a frame."""
    return [replace(row, voices=tuple(map(worn_on, row.voices))) if row.frame == frame else row for row in rows]


def worn_on(row: VoiceRow) -> VoiceRow:
    """A voice's row on which its mouth goes on."""
    return replace(row, mouth=replace(row.mouth, starts=False)) if row.mouth else row


def mouth_sentences(both: Aligned, name: str, before: Column, after: Column, told: Sequence[Told]) -> Iterator[Told]:
    """What has changed in a voice's mouths, but for what is `told` already."""
    differing = [frame for frame in both.kept_now if before[both.was(frame)] != after[frame]]
    if differing and any(before) != any(after):
        verb = "new on" if any(after) else "gone from"
        yield Told(f"{name}: mouths are {verb} this sheet", frozenset(differing))
        return
    explained = {near for one in told for frame in one.frames for near in range(frame - AROUND, frame + AROUND + 1)}
    left = [frame for frame in differing if frame not in explained]
    others = [frame for frame in left if text_on(before, both.was(frame)) != text_on(after, frame)]
    one = exchanged(both, name, before, after, others)
    yield from [one] if one else changed_on(both, f"{name}: mouths", others or left, frozenset())


def exchanged(both: Aligned, name: str, before: Column, after: Column, frames: Sequence[int]) -> Told | None:
    """One mouth in place of another on frames one after another; None if more has changed."""
    was = {text_on(before, both.was(frame)) for frame in frames}
    now = {text_on(after, frame) for frame in frames}
    runs = list(runs_of(frames))
    if not (len(runs) == len(was) == len(now) == 1) or "" in was | now:
        return None
    first, last = both.number_after(runs[0].start), both.number_after(runs[0].stop - 1)
    place = first if first == last else f"{first} to {last}"
    return Told(f"{name}: “{now.pop()}” on {place} in place of “{was.pop()}”", frozenset(frames))


def text_on(column: Column, frame: int) -> str:
    """What is worn on a frame, \"\" for nothing that is told."""
    held = column[frame]
    return held.text if held else ""
