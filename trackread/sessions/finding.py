"""A part of a session to the stretches that are spoken in it, each with what it may be and what speaks for that."""

import functools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from trackread.sessions.chains import Chains
from trackread.sessions.graphs import Graph, Route
from trackread.sessions.hearing import HOP, Hearing, Utterance, softest, utterances_in
from trackread.sessions.lines import Spoken, Words
from trackread.sessions.opinions import Candidate, Opinion, SecondOpinion, candidates_of, opinion_on, ranked
from trackread.sessions.parting import Piece, parted
from trackread.sessions.slates import OPTIONAL

LONG = 500  # rows

# The second opinion on the sound of the rows from `start` to before `stop`.
Listen = Callable[[int, int], SecondOpinion]


@dataclass(frozen=True, slots=True)
class Spot:
    """A stretch of speech: rows of sound, its candidates, the best first, what speaks for that, phones heard.

    `slate` is how well it is explained as a slate, in nats for each phone heard; `rest` the shorter of the rests before
    and after it, in seconds; `fall` how far it dies away, 0 to 1.
    """

    start: int
    stop: int
    candidates: tuple[Candidate, ...]
    opinion: Opinion | None
    heard: tuple[str, ...]
    slate: float
    rest: float
    fall: float


class Finder:
    """Finds takes of some lines, each of which sounds unlike all others; `slate` has the words of slates.PLACES."""

    def __init__(self, lines: Sequence[Spoken], slate: Words) -> None:
        self.lines = tuple(lines)
        self.chains = Chains(self.lines)
        self.slate = Graph([Route(slate, OPTIONAL)])

    def spots(self, hearing: Hearing, listen: Listen) -> Iterator[Spot]:
        """The stretches of speech, in order."""
        utterances = utterances_in(hearing)
        if not utterances:
            return
        against = hearing.against_any()
        room = softest(hearing.levels)
        endings = tuple(self.chains.endings(against, utterances))
        for piece in parted(utterances, self.chains, endings):
            start, stop = utterances[piece.first].start, utterances[piece.stop - 1].stop
            first, last = utterances[piece.first].first, utterances[piece.stop - 1].last
            heard = hearing.phones_in(first, last)
            second = functools.cache(listen(start, stop))
            likely = candidates_of([self.lines[k] for k in piece.candidates], against[first:last]) if heard else ()
            found = ranked(likely, second) if likely else ()
            yield Spot(
                start,
                stop,
                found,
                opinion_on(found, ((heard,),), second) if found else None,
                heard,
                self.slate.fits(against[first:last])[0].whole / max(1, len(heard)),
                rest_around(utterances, piece),
                fall_of(hearing.levels[start:stop], room),
            )


def rest_around(utterances: Sequence[Utterance], piece: Piece) -> float:
    """Seconds of the shorter of the rests before and after a piece; LONG where there is no neighbour."""
    before = utterances[piece.first].start - utterances[piece.first - 1].stop if piece.first else LONG
    after = utterances[piece.stop].start - utterances[piece.stop - 1].stop if piece.stop < len(utterances) else LONG
    return min(before, after) * HOP


def fall_of(levels: np.ndarray, room: float) -> float:
    """How far the last two rows of levels are down from the loudest towards the room, 0 to 1.

    A voice dies away; one that is cut off does not.
    """
    loudest = float(levels.max())
    return min(1.0, (loudest - float(levels[-2:].mean())) / max(1.0, loudest - room))
