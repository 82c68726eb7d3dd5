"""How a voice says its words, on the frames of its sheet: beats, phrases, and where it leaves the script."""

from bisect import bisect_right
from collections.abc import Iterable
from statistics import median
from typing import assert_never

from trackread.core import performance
from trackread.core.performance import Departure, DepartureKind
from trackread.core.sheet import Beat, Cell, Phrase
from trackread.core.timebase import Frame
from trackread.workflow.sheet_frames import on_frames
from trackread.workflow.sheet_said import Said

# How many times faster or slower than usual a phrase must be for its pace to be said.
PACE = 1.25
# Fewer phrases than this do not say what is usual.
LEAST_PHRASES = 3


def beats(said: Said) -> tuple[Beat, ...]:
    """The stress of the syllables; of those that start on one frame the strongest counts."""
    reading = said.reading
    mains = {phrase.main for phrase in reading.phrases}
    spans = (
        (reading.start(part), reading.stop(part), (part.stress, part.strength, number))
        for number, part in enumerate(reading.syllables)
    )
    found = []
    for first, stop, shared in on_frames(spans, said.clock):
        degree, _, number = max(shared)
        main = any(number in mains for _, _, number in shared)
        found.append(Beat(first, stop, degree, reading.syllables[number].tone, main))
    return tuple(found)


def phrases(said: Said, own_rate: float | None) -> tuple[Phrase, ...]:
    """The phrases with their endings, and their pace against `own_rate`, in syllables a second.

    Where that is None, it is the median of the take's phrases if they are LEAST_PHRASES or more.
    """
    reading, words = said.reading, said.reading.words
    usual = own_rate or usual_rate(reading.phrases)
    spans = (
        (reading.start(words[phrase.first]), reading.stop(words[phrase.stop - 1]), phrase) for phrase in reading.phrases
    )
    return tuple(
        Phrase(first, stop, shared[-1].ending, pace_of(shared[0].rate, usual))
        for first, stop, shared in on_frames(spans, said.clock)
    )


def usual_rate(said: tuple[performance.Phrase, ...]) -> float | None:
    """The median rate of the phrases that have syllables, None if these are too few."""
    rates = [phrase.rate for phrase in said if phrase.rate > 0]
    return median(rates) if len(rates) >= LEAST_PHRASES else None


def pace_of(rate: float, usual: float | None) -> str:
    """`quick`, `slow`, or nothing where the rate is about the usual one, or either is not known."""
    if not usual or not rate:
        return ""
    return "quick" if rate >= PACE * usual else "slow" if rate * PACE <= usual else ""


def departure_cells(departures: Iterable[Departure], said: Said, words: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """What the script has where something else is said, on the rows of the words that are said.

    Words that are left out are missed on the row after those before them, or where the next word begins.
    """
    reading, firsts = said.reading, [word.first for word in words]
    earliest, latest = said.clock.frames(0, reading.sound.length)

    def cell_of(number: int) -> Cell:
        word = reading.words[number]
        first, _ = said.clock.frames(reading.start(word), reading.stop(word))
        return words[bisect_right(firsts, first) - 1]

    def place(departure: Departure) -> tuple[Frame, Frame]:
        first, stop = departure.first, departure.stop
        if first < stop:
            ends = cell_of(first), cell_of(stop - 1)
            return min(one.first for one in ends), max(one.stop for one in ends)
        missed = cell_of(first - 1).stop if first else earliest
        if first < len(reading.words):
            missed = min(missed, cell_of(first).first)
        missed = min(missed, Frame(latest - 1))
        return missed, Frame(missed + 1)

    return tuple(Cell(*place(departure), remark(departure)) for departure in departures)


def is_missing(departure: Departure) -> bool:
    """Whether words of the line are missed, and none are said for them."""
    return departure.first == departure.stop


def remark(departure: Departure) -> str:
    """What the sheet says of a departure."""
    match departure.kind:
        case DepartureKind.DROPPED:
            return f'script has "{departure.written}"'
        case DepartureKind.SWAPPED:
            return f'script: "{departure.written}"'
        case DepartureKind.ADDED:
            return "not in script"
        case DepartureKind.REPEATED:
            return "said again"
        case DepartureKind.RESTART:
            return "broken off"
        case _:
            assert_never(departure.kind)
