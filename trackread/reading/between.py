"""The phones of a stretch placed between cuts that do not move. Times are seconds from where the stretch starts."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from trackread.errors import ReadingError
from trackread.reading.aligner import Aligner, Mark, Ways
from trackread.reading.assembly import SHORTEST_PAUSE
from trackread.reading.boundaries import Candidates, boundaries_of, candidates_of, pause_between
from trackread.reading.forest import Forest
from trackread.reading.placement import SHORTEST, Placed, decide
from trackread.reading.recogniser import Posteriors
from trackread.reading.sounds import RATE
from trackread.reading.spectra import analyse
from trackread.reading.views import Stretch, describe

ENOUGH = 0.030  # seconds a phone: three steps of the aligner, its least
LEAST_PAUSE = SHORTEST_PAUSE + 0.001  # a pause that is none the less one when both its ends have become samples


@dataclass(frozen=True, slots=True)
class Fix:
    """A cut that does not move: where phone `phone` of spoken word `word` starts, or stops before a pause.

    `joined` if no pause comes before a start.
    """

    word: int
    phone: int
    stops: bool
    joined: bool
    time: float


Limit = tuple[float, float]  # the earliest and the latest that an edge of a phone may be: alike where it is fixed
Limits = tuple[Limit, Limit]  # of a phone's start and of its stop


@dataclass(frozen=True, slots=True)
class Unit:
    """Phones of a spoken word from its phone `first` on: the whole word, or a part of it between two fixes."""

    word: int
    first: int
    ways: Ways


@dataclass(slots=True)
class Part:
    """What is said between two fixes; its first phone may have to start where it does, and its last to stop."""

    start: float
    starts: bool
    stop: float = 0.0
    stops: bool = False
    units: list[Unit] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many phones there are, each word said in its first way."""
        return sum(len(unit.ways[0]) for unit in self.units)


def parts_between(ways: Sequence[Ways], fixes: Sequence[Fix], seconds: float) -> list[Part]:
    """A stretch of so many seconds cut at its fixes, which come in order; parts in which nothing is said are left out.

    A word with fixes must have one way only.
    """
    parts = [Part(0.0, starts=False)]
    for word, each in enumerate(ways):
        here = [fix for fix in fixes if fix.word == word]
        reached = 0
        for fix in here:
            stop = fix.phone + 1 if fix.stops else fix.phone
            if stop > reached:
                parts[-1].units.append(Unit(word, reached, (each[0][reached:stop],)))
            parts[-1].stop, parts[-1].stops = fix.time, fix.stops or fix.joined
            parts.append(Part(fix.time + (LEAST_PAUSE if fix.stops else 0.0), starts=not fix.stops))
            reached = stop
        if reached < len(each[0]):
            parts[-1].units.append(Unit(word, reached, (each[0][reached:],) if reached else each))
    parts[-1].stop = seconds
    return [part for part in parts if part.units]


def place_between(
    piece: np.ndarray, heard: Posteriors, ways: Sequence[Ways], fixes: Sequence[Fix], *, engines: tuple[Aligner, Forest]
) -> list[Placed]:
    """The phones of a stretch, as `placement.place` has them, with the fixed cuts where they are."""
    aligner, trees = engines
    marks: list[Mark] = []
    limits: list[Limits] = []
    for part in parts_between(ways, fixes, len(piece) / RATE):
        found, within = aligned(part, piece, aligner)
        marks += found
        limits += within
    spectra = analyse(piece)
    stretch = Stretch(spectra, heard)
    first = one_pass(marks, limits, stretch, burst=spectra.burst, trees=trees)
    second = one_pass([one.mark_there() for one in first], limits, stretch, burst=spectra.burst, trees=trees)
    return [
        replace(b, mark=a.mark, start=(a.start + b.start) / 2, stop=(a.stop + b.stop) / 2, apart=abs(a.start - b.start))
        for a, b in zip(first, second, strict=True)
    ]


def aligned(part: Part, piece: np.ndarray, aligner: Aligner) -> tuple[list[Mark], list[Limits]]:
    """The phones of a part where the aligner hears them, and how far each may be moved; evenly where room is short."""
    found: list[Mark] = []
    if part.stop - part.start >= ENOUGH * part.count:
        found = heard_in(part, piece, aligner)
    if not found:
        return evenly(part)
    limits = limits_of(part, len(found))
    touching = [k + 1 < len(found) and not pause_between(found[k], found[k + 1]) for k in range(len(found))]
    starts = [min(max(mark.start, low), high) for mark, ((low, high), _) in zip(found, limits, strict=True)]
    stops = [min(max(mark.stop, low), high) for mark, (_, (low, high)) in zip(found, limits, strict=True)]
    stops = [starts[k + 1] if touching[k] else stop for k, stop in enumerate(stops)]
    return [
        replace(mark, start=start, stop=stop) for mark, start, stop in zip(found, starts, stops, strict=True)
    ], limits


def heard_in(part: Part, piece: np.ndarray, aligner: Aligner) -> list[Mark]:
    """The aligner's marks of a part, heard in its own sound alone; none where they do not fit."""
    try:
        found = aligner.align(
            piece[round(part.start * RATE) : round(part.stop * RATE)], [unit.ways for unit in part.units]
        )
    except ReadingError:
        return []
    return [
        Mark(
            mark.phone,
            mark.start + part.start,
            mark.stop + part.start,
            part.units[mark.word].word,
            mark.opens_word and part.units[mark.word].first == 0,
        )
        for mark in found
    ]


def limits_of(part: Part, count: int) -> list[Limits]:
    """Where the edges of the phones of a part may be: SHORTEST for each, and those at its ends fixed if they are."""
    early = [part.start + k * SHORTEST for k in range(count + 1)]
    late = [part.stop - (count - k) * SHORTEST for k in range(count + 1)]
    edges = list(zip(early, late, strict=True))
    limits = [(edges[k], edges[k + 1]) for k in range(count)]
    if part.starts:
        limits[0] = ((part.start, part.start), limits[0][1])
    if part.stops:
        limits[-1] = (limits[-1][0], (part.stop, part.stop))
    return limits


def evenly(part: Part) -> tuple[list[Mark], list[Limits]]:
    """The phones of a part that share its room alike, none of which may be moved."""
    phones = [(unit, k, phone) for unit in part.units for k, phone in enumerate(unit.ways[0])]
    edges = np.linspace(part.start, part.stop, len(phones) + 1).tolist()
    marks = [
        Mark(phone, edges[place], edges[place + 1], unit.word, opens_word=unit.first + k == 0)
        for place, (unit, k, phone) in enumerate(phones)
    ]
    return marks, [((mark.start, mark.start), (mark.stop, mark.stop)) for mark in marks]


def one_pass(
    marks: Sequence[Mark], limits: Sequence[Limits], stretch: Stretch, *, burst: np.ndarray, trees: Forest
) -> tuple[Placed, ...]:
    """The marks moved as `placement.one_pass` moves them, within their limits."""
    boundaries = boundaries_of(marks)
    each = [
        within(times, limits[boundary.phone][boundary.stops], boundary.time)
        for boundary, times in zip(boundaries, candidates_of(boundaries), strict=True)
    ]
    owner = np.repeat(np.arange(len(each)), [len(times) for times in each])
    found = Candidates(boundaries, np.concatenate(each), owner)
    return decide(marks, found, np.clip(trees.predict(describe(stretch, found)), 0, 1), burst)


def within(times: np.ndarray, limit: Limit, time: float) -> np.ndarray:
    """The times that lie within a limit; if none does, the one nearest to `time`."""
    low, high = limit
    inside = times[(times >= low) & (times <= high)]
    return inside if len(inside) and low < high else np.array([min(max(time, low), high)])


def fixed(placed: Sequence[Placed], fixes: Sequence[Fix]) -> list[Placed]:
    """The phones of a take with its fixed cuts, in seconds of the take, exactly there, and sure."""
    found = list(placed)
    first: dict[int, int] = {}
    for k, one in enumerate(placed):
        first.setdefault(one.mark.word, k)
    for fix in fixes:
        k = first[fix.word] + fix.phone
        if fix.stops:
            found[k] = replace(found[k], stop=fix.time, stop_confidence=1.0)
            continue
        found[k] = replace(found[k], start=fix.time, confidence=1.0, apart=0.0)
        if k and (fix.joined or fix.time - found[k - 1].stop < LEAST_PAUSE):
            found[k - 1] = replace(found[k - 1], stop=fix.time)
    return found
