"""What is heard of a voice beside its words, on the frames of its sheet: events, manners and pauses.

A word wins over an event, and an event over a pause.
"""

from collections.abc import Sequence

from trackread.core.performance import MANNERS, EventKind
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame
from trackread.workflow.sheet_frames import cells, frames_of, free, longest_free
from trackread.workflow.sheet_said import Said

# A shorter gap is how words are said, not a pause that a puppet holds: common practice, no source.
LEAST_PAUSE = 4
SAID = {EventKind.WHISPER: "whispered", EventKind.SHOUT: "shouted"}


def event_cells(said: Said, words: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """Breaths and such: clear of the words, or where words cover all of one, on rows in which none begins."""
    spans = ((event.start, event.stop, event.kind.value) for event in said.reading.events if event.kind not in MANNERS)
    heard = cells(sorted(spans), said.clock, joint=", ")
    held, begun = frames_of(words), {word.first for word in words}
    places = (
        (longest_free(one.first, one.stop, held) or longest_free(one.first, one.stop, set(begun)), one.text)
        for one in heard
    )
    return tuple(Cell(*place, text) for place, text in places if place)


def manner_cells(said: Said) -> tuple[Cell, ...]:
    """How words are said where that is not the usual way: whispered, shouted."""
    spans = ((event.start, event.stop, SAID[event.kind]) for event in said.reading.events if event.kind in MANNERS)
    return cells(sorted(spans), said.clock, joint=", ")


def pause_cells(words: Sequence[Cell], events: Sequence[Cell], length: Frame) -> tuple[Cell, ...]:
    """The frames between words, before the first and after the last, if they are LEAST_PAUSE or more.

    Each part of a pause that is free of events has its own length, as it is seen beside its rows; a short one has none.
    """
    edges = [0, *(edge for word in words for edge in (word.first, word.stop)), length]
    taken = frames_of(events)
    found = []
    for first, stop in zip(edges[::2], edges[1::2], strict=True):
        if stop - first >= LEAST_PAUSE:
            parts = free(first, stop, taken)
            found += [
                Cell(first, stop, str(stop - first) if stop - first >= LEAST_PAUSE else "") for first, stop in parts
            ]
    return tuple(found)
