"""One part of a session listened through: its sound to the stretches in it.

The engines of the reading hear, and give the second opinion; the room of sessions decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trackread.core.session import Stretch
from trackread.errors import LineError
from trackread.reading.aligner import Aligner
from trackread.reading.lexicon import Lexicon, bare
from trackread.reading.line import prepare
from trackread.reading.recogniser import LATE, ROW, posteriors
from trackread.reading.sounds import SILENT, Signal, at_one_level, peak_of
from trackread.sessions.deciding import longer_lines, verdicts
from trackread.sessions.finding import Finder, Spot
from trackread.sessions.hearing import HOP, hearing_of
from trackread.sessions.lines import Spoken, Words, known_apart
from trackread.sessions.opinions import SecondOpinion
from trackread.sessions.slates import PLACES
from trackread.sessions.stretches import Part, stretches_of

AROUND = 10  # rows of sound before and after a stretch that the second opinion is given


@dataclass(frozen=True, slots=True)
class Wanted:
    """A line that may be said in a session: its id and its words as written."""

    id: str
    text: str


class Searcher:
    """Finds takes of some lines in parts of sessions; made once for many parts."""

    def __init__(self, wanted: Sequence[Wanted], lexicon: Lexicon) -> None:
        lines, self.same = known_apart([line for one in wanted if (line := spoken(one, lexicon))])
        self.longer = longer_lines(lines)
        self.finder = Finder(lines, slate_words(lexicon))

    def spots(self, signal: Signal) -> tuple[Spot, ...]:
        """What is said in a 16 kHz signal, and what it may be; nothing in silence."""
        if not len(signal) or peak_of(signal, float(signal.mean())) < SILENT:
            return ()
        level = at_one_level(signal - signal.mean())
        heard = posteriors(level)
        hearing = hearing_of(level, heard.blank, heard.phones, row=ROW, late=round(LATE / HOP))
        # Its decoder keeps a name for every word it was ever asked for, so it lives for one part.
        aligner = Aligner()
        return tuple(self.finder.spots(hearing, lambda start, stop: sound_of(level, start, stop, aligner)))

    def stretches(self, signal: Signal, part: Part) -> tuple[Stretch, ...]:
        """The stretches of a part of a recording, whose sound at 16 kHz is `signal`."""
        spots = self.spots(signal)
        return tuple(stretches_of(spots, tuple(verdicts(spots, self.longer)), self.same, part))


def spoken(wanted: Wanted, lexicon: Lexicon) -> Spoken | None:
    """The line with the ways its words may be said; None if it has none that can be: `(laughs)`, `...`."""
    try:
        ways = prepare(wanted.text, lexicon).ways
    except LineError:
        return None
    return Spoken(wanted.id, tuple(tuple(dict.fromkeys(bare(way) for way in each)) for each in ways))


def slate_words(lexicon: Lexicon) -> Words:
    """The words that may stand at each place of a slate, with how they are said."""
    return tuple(
        tuple(dict.fromkeys(bare(way) for word in words for way in lexicon.look_up(word).ways)) for words in PLACES
    )


def sound_of(signal: Signal, start: int, stop: int, aligner: Aligner) -> SecondOpinion:
    """What the aligner makes of the sound of some rows."""
    piece = at_one_level(signal[max(0, start - AROUND) * ROW : (stop + AROUND) * ROW])
    return lambda words: aligner.fit(piece, words)
