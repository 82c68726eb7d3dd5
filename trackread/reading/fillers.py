"""What only the sound or the line can tell of what is said: hesitations, and laughs that were taken for words.

The recogniser was taught on read speech, which has no `uh` and `um`: they are found as voiced sound that stands by
itself. What it hears in a laugh are phones, which are none if the line asks for a laugh there.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

import numpy as np

from trackread.core.performance import DepartureKind
from trackread.reading.course import Step, StepKind
from trackread.reading.departures import Said
from trackread.reading.events import HUM_LOW, Found, Hint, bridged, taken
from trackread.reading.pitch import runs_of
from trackread.reading.proposals import Proposal
from trackread.reading.scene import ROW, Scene
from trackread.reading.told import Told

LEAST = 0.18  # seconds; the shortest of the hesitations that were tried had 0.2
APART = 0.06  # seconds without voice between it and any word: a long vowel hangs on to its word
BRIDGE = 0.08
CLOSING = 0.30  # the share of it at its end that tells `um` from `uh`
CLOSED = 0.90  # share of power below 1 kHz with lips closed


def with_fillers(told: Told, scene: Scene, events: Sequence[Found]) -> Told:
    """The same with the hesitations that are heard in it beside its events, as additions to the line."""
    steps = list(fillers_in(scene, taken(events, len(scene.voiced))))
    if not steps:
        return told
    said = [
        with_steps(each, [step for step in steps if start <= step.times[0] < stop], start)
        for each, start, stop in zip(told.said, told.starts, (*told.starts[1:], float("inf")), strict=True)
    ]
    return replace(told, said=tuple(said))


def without_asked(told: Told, hints: Sequence[Hint]) -> Told:
    """The same without what was taken for added phones where a hint of the line asks for a laugh or the like."""
    said = []
    for each, start in zip(told.said, told.starts, strict=True):
        asked = {k for one in each.departures if is_asked(one, each, start, hints) for k in range(one.first, one.stop)}
        said.append(without_steps(each, asked) if asked else each)
    return replace(told, said=tuple(said))


def is_asked(one: Proposal, said: Said, start: float, hints: Sequence[Hint]) -> bool:
    if one.kind is not DepartureKind.ADDED:
        return False
    steps = said.steps[one.first : one.stop]
    first, last = start + steps[0].times[0], start + steps[-1].times[-1]
    nothing_else = all(step.kind is StepKind.OTHER for step in steps)
    return nothing_else and any(hint.after <= first and last <= hint.before for hint in hints)


def without_steps(said: Said, gone: Collection[int]) -> Said:
    """What is said without some steps, each of them of a departure that goes as a whole."""
    places = [sum(step not in gone for step in range(k)) for k in range(len(said.steps) + 1)]
    kept = [one for one in said.departures if one.first not in gone or one.first == one.stop]
    return Said(
        tuple(step for k, step in enumerate(said.steps) if k not in gone),
        tuple(replace(one, first=places[one.first], stop=places[one.stop]) for one in kept),
    )


def fillers_in(scene: Scene, closed: np.ndarray) -> Iterator[Step]:
    """Each as a step of the phones `AH` or `AH M`, with seconds of the take; none on rows that are `closed`."""
    voiced = scene.voiced & scene.view.sounds & ~closed
    for first, stop in runs_of(bridged(voiced, closed, BRIDGE)):
        rows = slice(first, stop)
        if (stop - first) * ROW < LEAST or scene.spoken[rows].any() or scene.view.low[rows].mean() >= HUM_LOW:
            continue
        room = round(APART / ROW)
        if scene.spoken[max(0, first - room) : stop + room].any():
            continue
        end = max(first, stop - round((stop - first) * CLOSING))
        closes = scene.view.low[end:stop].mean() >= CLOSED
        times = (int(first) * ROW, int(end) * ROW) if closes else (int(first) * ROW,)
        yield Step(StepKind.OTHER, None, ("AH", "M") if closes else ("AH",), times)


def with_steps(said: Said, steps: Sequence[Step], start: float) -> Said:
    """What is said in a stretch that begins at `start` with more steps in it, each where its time is, as added."""
    for step in steps:
        own = replace(step, times=tuple(time - start for time in step.times))
        place = sum(one.times[0] < own.times[0] for one in said.steps)
        if any(one.first < place < one.stop for one in said.departures):
            continue
        before = [one.word for one in said.steps[:place] if one.kind is StepKind.WORD and one.word is not None]
        word = max(before, default=-1) + 1
        earlier = [one for one in said.departures if one.stop <= place]
        later = [replace(one, first=one.first + 1, stop=one.stop + 1) for one in said.departures if one.stop > place]
        added = Proposal(DepartureKind.ADDED, place, place + 1, word, word)
        said = Said((*said.steps[:place], own, *said.steps[place:]), (*earlier, added, *later))
    return said
