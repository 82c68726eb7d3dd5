"""One reading mapped onto another of the same line: a stand-in's and the actor's, or one at two speeds.

Samples are of each reading's own recording, at rates that may differ; frames count from 0, `stop` not included.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import StrEnum
from fractions import Fraction

from trackread.core.phones import PAUSE
from trackread.core.reading import Reading, Word
from trackread.core.timebase import Frame, FrameRate, Sample, frame_at, resampled

# Seconds of silence between words that are seen as a hold: four film frames, and longer than the closure of a stop.
REST = Fraction(15, 100)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word lies: its number among the words, its samples, and the frames on which it is heard."""

    number: int
    start: Sample
    stop: Sample
    frame: Frame
    frame_stop: Frame

    @property
    def frames(self) -> int:
        """On how many frames the word is heard."""
        return self.frame_stop - self.frame


class Rest(StrEnum):
    """What became of the pause before a word."""

    SAME = "same"  # a pause in both, or in neither
    GONE = "gone"
    NEW = "new"


@dataclass(frozen=True, slots=True)
class Pair:
    """A word that both say. `rest` is of the pause before it, SAME where the word before it is not in both."""

    text: str
    before: Place
    after: Place
    rest: Rest

    @property
    def shift(self) -> int:
        """Frames by which the word starts later, below zero if earlier."""
        return self.after.frame - self.before.frame

    @property
    def longer(self) -> int:
        """Frames by which the word is longer, below zero if shorter."""
        return self.after.frames - self.before.frames


@dataclass(frozen=True, slots=True)
class Knot:
    """An instant that is known in both, in samples of each."""

    before: Sample
    after: Sample


@dataclass(frozen=True, slots=True)
class Conformed:
    """Two readings laid beside one another; `gone` and `new` are the places and texts of words that only one says.

    Between two `knots` time runs evenly. Where a pause has come between two words, or gone, two knots share a sample.
    """

    rate: FrameRate
    sample_rates: tuple[int, int]
    pairs: tuple[Pair, ...]
    gone: tuple[tuple[Place, str], ...]
    new: tuple[tuple[Place, str], ...]
    knots: tuple[Knot, ...]

    def map_sample(self, sample: Sample) -> Sample:
        """The sample of the second recording that has what the first has at `sample`; exact at the starts of words.

        Before the first word that both say and after the last it is as far from it as it was, if need be outside the
        recording. Nearest sample, half up.
        """
        position = self.position(Fraction(sample))
        return resampled(position.numerator, position.denominator, 1)

    def map_frame(self, frame: Frame) -> Frame:
        """The frame of the second that has what the first has on `frame`: the word that starts there, else its edge."""
        ours, theirs = self.sample_rates
        pair = next((pair for pair in self.pairs if pair.before.frame == frame), None)
        position = Fraction(pair.after.start) if pair else self.position(frame * ours / self.rate.per_second)
        return frame_at(position.numerator, theirs * position.denominator, self.rate)

    def position(self, sample: Fraction) -> Fraction:
        """`map_sample` before it is rounded; never goes back."""
        ours, theirs = self.sample_rates
        place = bisect_right([Fraction(knot.before) for knot in self.knots], sample)
        if place == 0 or place == len(self.knots):
            known = self.knots[place - 1 if place else 0] if self.knots else Knot(Sample(0), Sample(0))
            return known.after + (sample - known.before) * theirs / ours
        low, high = self.knots[place - 1 : place + 1]
        return low.after + (sample - low.before) * (high.after - low.after) / (high.before - low.before)


def conform(before: Reading, after: Reading, rate: FrameRate) -> Conformed:
    """How the words of one reading lie in another. Words that only one says are mapped with what is around them."""
    matched = matched_words(before.words, after.words)
    kept, found = {ours for ours, _ in matched}, {theirs for _, theirs in matched}
    return Conformed(
        rate=rate,
        sample_rates=(before.sound.sample_rate, after.sound.sample_rate),
        pairs=tuple(pair_of(before, after, pair, matched, rate=rate) for pair in matched),
        gone=tuple((place_of(before, k, rate), one.text) for k, one in enumerate(before.words) if k not in kept),
        new=tuple((place_of(after, k, rate), one.text) for k, one in enumerate(after.words) if k not in found),
        knots=tuple(knot for pair in matched for knot in knots_of(before, after, pair)),
    )


def matched_words(before: Sequence[Word], after: Sequence[Word]) -> list[tuple[int, int]]:
    """The numbers of the words that both say, in order in both."""
    ours, theirs = ([bare(word.text) for word in words] for words in (before, after))
    return matches(ours, theirs)


def matches(ours: Sequence[str], theirs: Sequence[str]) -> list[tuple[int, int]]:
    """The places of what is alike in two rows of texts, in order in both."""
    blocks = SequenceMatcher(None, ours, theirs, autojunk=False).get_matching_blocks()
    return [(block.a + k, block.b + k) for block in blocks for k in range(block.size)]


def bare(text: str) -> str:
    """A word without what is not said: case and marks."""
    return "".join(letter for letter in text.casefold() if letter.isalnum()) or text


def pair_of(
    before: Reading, after: Reading, numbers: tuple[int, int], matched: Sequence[tuple[int, int]], *, rate: FrameRate
) -> Pair:
    """A word that both say, where it lies in each, and what became of the pause before it."""
    ours, theirs = numbers
    rest = Rest.SAME
    if (ours - 1, theirs - 1) in matched:
        rested, rests = rests_before(before, ours), rests_before(after, theirs)
        rest = Rest.SAME if rested == rests else Rest.GONE if rested else Rest.NEW
    return Pair(after.words[theirs].text, place_of(before, ours, rate), place_of(after, theirs, rate), rest)


def place_of(reading: Reading, number: int, rate: FrameRate) -> Place:
    """Where a word lies, by its number."""
    word, sample_rate = reading.words[number], reading.sound.sample_rate
    start, stop = reading.start(word), reading.stop(word)
    first = frame_at(start, sample_rate, rate)
    return Place(number, start, stop, first, Frame(frame_at(stop - 1, sample_rate, rate) + 1))


def rests_before(reading: Reading, number: int) -> bool:
    """Whether the voice rests between a word and the one before it, for REST or longer."""
    between = range(reading.words[number - 1].stop, reading.words[number].first)
    rests = [reading.cuts[k + 1] - reading.cuts[k] for k in between if reading.phones[k].symbol == PAUSE]
    return any(rest >= REST * reading.sound.sample_rate for rest in rests)


def knots_of(before: Reading, after: Reading, numbers: tuple[int, int]) -> Iterator[Knot]:
    """What is known of a word in both: its start, the cuts between two phones that both have there, and its stop."""
    ours, theirs = before.words[numbers[0]], after.words[numbers[1]]
    yield Knot(before.start(ours), after.start(theirs))
    alike = matches(symbols_of(before, ours), symbols_of(after, theirs))
    for a, b in alike:
        if (a - 1, b - 1) in alike:
            yield Knot(before.cuts[ours.first + a], after.cuts[theirs.first + b])
    yield Knot(before.stop(ours), after.stop(theirs))


def symbols_of(reading: Reading, word: Word) -> list[str]:
    """The phones of a word."""
    return [phone.symbol for phone in reading.phones[word.first : word.stop]]
