"""What is heard of a voice beside its words, on the frames of its sheet: events, manners and pauses.

A word wins over an event, and an event over a pause.
"""

from trackread.core.performance import MANNERS, EventKind
from trackread.core.reading import Reading
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame, FrameRate
from trackread.workflow.sheet_frames import cells, frames_of, free, longest_free

# A shorter gap is how words are said, not a pause that a puppet holds: common practice, no source.
LEAST_PAUSE = 4
SAID = {EventKind.WHISPER: "whispered", EventKind.SHOUT: "shouted"}


def event_cells(reading: Reading, words: tuple[Cell, ...], rate: FrameRate) -> tuple[Cell, ...]:
    """Breaths and such: clear of the words, or where words cover all of one, on rows in which none begins."""
    spans = ((event.start, event.stop, event.kind.value) for event in reading.events if event.kind not in MANNERS)
    heard = cells(sorted(spans), reading.sound.sample_rate, rate, joint=", ")
    held, begun = frames_of(words), {word.first for word in words}
    places = (
        (longest_free(one.first, one.stop, held) or longest_free(one.first, one.stop, set(begun)), one.text)
        for one in heard
    )
    return tuple(Cell(*place, text) for place, text in places if place)


def manner_cells(reading: Reading, rate: FrameRate) -> tuple[Cell, ...]:
    """How words are said where that is not the usual way: whispered, shouted."""
    spans = ((event.start, event.stop, SAID[event.kind]) for event in reading.events if event.kind in MANNERS)
    return cells(sorted(spans), reading.sound.sample_rate, rate, joint=", ")


def pause_cells(words: tuple[Cell, ...], events: tuple[Cell, ...], length: Frame) -> tuple[Cell, ...]:
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
