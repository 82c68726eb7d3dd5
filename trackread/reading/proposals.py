"""Where the course of a voice seems to depart from its line: words left out, added, said again, swapped, broken off."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from trackread.core.performance import DepartureKind
from trackread.reading.course import Step, StepKind


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
    return tuple(found)


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
