"""What is said in a stretch of a take: the words of its line, but for the departures that are believed.

The course of the voice (`course.py`) proposes departures (`proposals.py`), each is weighed (`evidence.py`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from trackread.core.performance import DepartureKind
from trackread.reading.aligner import Aligner
from trackread.reading.course import Step, StepKind, Ways, course_of
from trackread.reading.evidence import Piece, is_departure, unlikeness, ways_of
from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.proposals import Proposal, breaks_off, can_be, proposals_of
from trackread.reading.recogniser import HOP

ALIKE = 0.3  # how unlike what is heard may be to a word and still be the word
LEAST_ADDED = 2  # phones


@dataclass(frozen=True, slots=True)
class Said:
    """What is said in a stretch: its steps, and its departures, whose spans are of these steps."""

    steps: tuple[Step, ...]
    departures: tuple[Proposal, ...]


def said_in(piece: Piece, aligner: Aligner) -> Said:
    """What is said in a stretch; what is not believed to depart from the line is the line's words."""
    if not piece.ways:
        return Said((), ())
    steps = unmixed(course_of(piece.heard, piece.ways), piece.ways)
    proposals = proposals_of(steps, len(piece.ways))
    believed = [one for one in proposals if is_departure(one, steps, piece, aligner)]
    return rewritten(steps, proposals, believed, piece)


def unmixed(steps: tuple[Step, ...], ways: Ways) -> tuple[Step, ...]:
    """The course without two mixtures: a word and what is added to it, taken for another word; and the beginning of a
    word, without a rest behind it, that is the sound of its neighbours where the word is left out."""
    for one in reversed(proposals_of(steps, len(ways))):
        instead = steps[one.first : one.stop]
        whole = any(step.kind is StepKind.WORD for step in instead)
        if not can_be(one, steps):
            steps = (*steps[: one.first], *steps[one.stop :])
        elif one.kind is DepartureKind.SWAPPED and one.high - one.low == 1 and not whole:
            steps = (*steps[: one.first], *told_apart(instead, one.low, ways[one.low]), *steps[one.stop :])
    return steps


def told_apart(steps: Sequence[Step], word: int, ways: Sequence[Pronunciation]) -> Sequence[Step]:
    """These steps as the word and others, if they begin or end much as one of its ways; else as they are."""
    phones = [phone for step in steps for phone in step.phones]
    times = [time for step in steps for time in step.times]
    for way in ways:
        count = len(way)
        if len(phones) < count + LEAST_ADDED:
            continue
        if unlikeness(phones[:count], bare(way)) <= ALIKE:
            spans = (StepKind.WORD, slice(count)), (StepKind.OTHER, slice(count, None))
        elif unlikeness(phones[-count:], bare(way)) <= ALIKE:
            spans = (StepKind.OTHER, slice(-count)), (StepKind.WORD, slice(-count, None))
        else:
            continue
        return [
            Step(kind, word if kind is StepKind.WORD else None, tuple(phones[span]), tuple(times[span]))
            for kind, span in spans
        ]
    return steps


def as_written(said: Said, piece: Piece) -> Said:
    """The same stretch if it says its line: every word once, in order."""
    return rewritten(said.steps, said.departures, (), piece)


def rewritten(steps: Sequence[Step], proposals: Sequence[Proposal], believed: Sequence[Proposal], piece: Piece) -> Said:
    """The course with the words of the line in place of what was proposed and is not believed."""
    found: list[Step] = []
    departures: list[Proposal] = []
    done = 0
    for one in proposals:
        found += steps[done : one.first]
        start = len(found)
        if one in believed:
            instead = steps[one.first : one.stop]
            kind = DepartureKind.RESTART if breaks_off(one, instead) else one.kind
            found += together(instead) if kind is DepartureKind.SWAPPED else instead
            departures.append(replace(one, kind=kind, first=start, stop=len(found)))
        else:
            found += [Step(StepKind.WORD, word, (), ()) for word in range(one.low, one.high)]
        done = one.stop
    found += steps[done:]
    unheard = any(not step.phones for step in found)
    return Said(heard_again(found, piece) if unheard else tuple(found), tuple(departures))


def together(steps: Sequence[Step]) -> Iterator[Step]:
    """The steps with the beginnings of words joined to what goes on from them: another word, not a broken one."""
    for whole, group in groupby(steps, key=lambda step: step.kind is StepKind.WORD):
        pieces = list(group)
        if whole:
            yield from pieces
        else:
            phones = tuple(phone for step in pieces for phone in step.phones)
            yield Step(StepKind.OTHER, None, phones, tuple(time for step in pieces for time in step.times))


def heard_again(steps: Sequence[Step], piece: Piece) -> tuple[Step, ...]:
    """The steps with when their phones were heard, if all of them are said, in order."""
    ways = [ways_of(step, piece.ways) for step in steps]
    again = course_of(piece.heard, ways, strict=True)
    if len(again) != len(steps):  # too few rows for so many phones: anything will do, the aligner decides
        again = tuple(evenly(ways, len(piece.heard.blank) * HOP))
    return tuple(replace(step, phones=new.phones, times=new.times) for step, new in zip(steps, again, strict=True))


def evenly(ways: Ways, seconds: float) -> Iterator[Step]:
    """Words with their phones evenly over some seconds."""
    phones = [bare(each[0]) for each in ways]
    apart = seconds / sum(map(len, phones))
    times = iter([apart * k for k in range(sum(map(len, phones)))])
    for said in phones:
        yield Step(StepKind.WORD, None, said, tuple(next(times) for _ in said))
