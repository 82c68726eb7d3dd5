"""Where the course of a voice seems to depart from its line: words left out, added, said again, swapped, broken off."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from trackread.core.performance import DepartureKind
from trackread.reading.course import Step, StepKind

REST = 0.3  # seconds between two phones that are heard, with a silence between them


@dataclass(frozen=True, slots=True)
class Proposal:
    """The steps `first` to `stop` of a course stand where the line has its words `low` to `high` (not included)."""

    kind: DepartureKind
    first: int
    stop: int
    low: int
    high: int


def proposals_of(steps: Sequence[Step], words: int) -> tuple[Proposal, ...]:
    """The departures of a course: what stands between the steps that say the line in its order, or is missed there.

    Of a word that is said again the last time counts, so what was said before is the departure.
    """
    kept: list[int] = []
    following = words
    for k in range(len(steps) - 1, -1, -1):
        word = steps[k].word
        if steps[k].kind is StepKind.WORD and word is not None and word < following:
            kept.append(k)
            following = word
    found = []
    said_later = {steps[k].word for k in kept}
    before, reached = -1, 0
    for k in [*reversed(kept), len(steps)]:
        word = steps[k].word if k < len(steps) else words
        word = words if word is None else word
        if k > before + 1 or word > reached:
            kind = kind_of(steps[before + 1 : k], said_later, missing=word - reached)
            found.append(Proposal(kind, before + 1, k, reached, word))
        before, reached = k, word + 1
    return tuple(joined(found, steps))


def joined(proposals: Sequence[Proposal], steps: Sequence[Step]) -> list[Proposal]:
    """The proposals, two that only a word of one phone parts as one: such a word is easily found in its neighbours."""
    found: list[Proposal] = []
    for one in proposals:
        last = found[-1] if found else None
        if last and one.first == last.stop + 1 and len(steps[last.stop].phones) == 1 and last.low < one.high:
            found[-1] = Proposal(DepartureKind.SWAPPED, last.first, one.stop, last.low, one.high)
        else:
            found.append(one)
    return found


def kind_of(steps: Sequence[Step], said_later: Collection[int | None], *, missing: int) -> DepartureKind:
    """What it is that these steps stand where so many words of the line are missing; others of it are `said_later`."""
    if not steps:
        return DepartureKind.DROPPED
    if missing:
        return DepartureKind.SWAPPED
    if any(step.kind is StepKind.PART for step in steps):
        return DepartureKind.RESTART
    again = any(step.word in said_later for step in steps if step.kind is StepKind.WORD)
    return DepartureKind.REPEATED if again else DepartureKind.ADDED


def breaks_off(one: Proposal, steps: Sequence[Step]) -> bool:
    """Whether the words that are missing are begun, and nothing else is said."""
    begun = [step.word for step in steps if step.kind is StepKind.PART]
    return len(begun) == len(steps) > 0 and begun == list(range(one.low, one.high))


def can_be(one: Proposal, steps: Sequence[Step]) -> bool:
    """Whether a proposal is not out of the question: a voice that breaks a word off rests before it goes on."""
    instead = steps[one.first : one.stop]
    if one.stop == len(steps) or not breaks_off(one, instead):
        return True
    return steps[one.stop].times[0] - instead[-1].times[-1] >= REST
