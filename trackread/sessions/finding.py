"""A part of a session to the stretches that are spoken in it, each with what it may be and what speaks for that."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from trackread.sessions.chains import Chains
from trackread.sessions.graphs import Graph, Route
from trackread.sessions.hearing import Hearing, utterances_in
from trackread.sessions.lines import Spoken, Words
from trackread.sessions.opinions import Candidate, Opinion, SecondOpinion, candidates_of, opinion_on
from trackread.sessions.parting import parted
from trackread.sessions.slates import OPTIONAL

# The second opinion on the sound of the rows from `start` to before `stop`.
Listen = Callable[[int, int], SecondOpinion]


@dataclass(frozen=True, slots=True)
class Spot:
    """A stretch of speech: rows of sound, its candidates, the best first, what speaks for that, phones heard.

    `slate` is how well it is explained as a slate, in nats for each phone heard.
    """

    start: int
    stop: int
    candidates: tuple[Candidate, ...]
    opinion: Opinion | None
    heard: tuple[str, ...]
    slate: float


class Finder:
    """Finds takes of some lines, each of which sounds unlike all others; `slate` has the words of slates.PLACES."""

    def __init__(self, lines: Sequence[Spoken], slate: Words) -> None:
        self.lines = tuple(lines)
        self.chains = Chains(self.lines)
        self.slate = Graph([Route(slate, OPTIONAL)])

    def spots(self, hearing: Hearing, listen: Listen) -> Iterator[Spot]:
        """The stretches of speech, in order."""
        utterances = utterances_in(hearing)
        against = hearing.against_any()
        endings = tuple(self.chains.endings(against, utterances))
        for piece in parted(utterances, self.chains, endings):
            first, last = utterances[piece.first], utterances[piece.stop - 1]
            rows = against[first.first : last.last]
            heard = hearing.phones_in(first.first, last.last)
            found = candidates_of([self.lines[k] for k in piece.candidates], rows) if heard else ()
            second = listen(first.start, last.stop)
            yield Spot(
                first.start,
                last.stop,
                found,
                opinion_on(found, ((heard,),), second) if found else None,
                heard,
                self.slate.fits(rows)[0].whole / max(1, len(heard)),
            )
