"""Placed phones to the parts of a Reading: phones that cover the whole sound, words, syllables.

Here times turn from seconds into samples of the recording.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from trackread.core.phones import PAUSE
from trackread.core.reading import Phone, Source, Syllable, Word
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, sample_at_seconds
from trackread.reading.placement import Placed
from trackread.reading.syllables import syllables_in

SHORTEST_PAUSE = 0.020  # seconds; a shorter gap is no pause but a boundary
UNSTRESSED = 0


@dataclass(frozen=True, slots=True)
class Timeline:
    """`phones` and `cuts` as a Reading has them; `places` gives the phone of each placed one."""

    phones: tuple[Phone, ...]
    cuts: tuple[Sample, ...]
    places: tuple[int, ...]


def timeline(placed: Sequence[Placed], sound: Sound) -> Timeline:
    """Phones and pauses over the whole sound, each at least a sample long, in order."""
    pause = sample_at_seconds(SHORTEST_PAUSE, sound.sample_rate)
    phones: list[Phone] = []
    cuts: list[int] = []
    places: list[int] = []
    reached, sure = 0, 1.0
    for k, one in enumerate(placed):
        last = sound.length - (len(placed) - k)
        start = min(max(reached, sample_at_seconds(one.start, sound.sample_rate)), last)
        if start - reached >= pause:
            phones.append(Phone(PAUSE, sure))
            cuts.append(reached)
            reached = start
        places.append(len(phones))
        phones.append(Phone(one.mark.phone.rstrip("012"), one.confidence))
        cuts.append(reached)
        reached = min(max(reached + 1, sample_at_seconds(one.stop, sound.sample_rate)), last + 1)
        sure = one.stop_confidence
    if sound.length - reached >= pause:
        phones.append(Phone(PAUSE, sure))
        cuts.append(reached)
    return Timeline(tuple(phones), tuple(map(Sample, [*cuts, sound.length])), tuple(places))


def words_of(
    placed: Sequence[Placed], places: Sequence[int], owner: Sequence[int], written: Sequence[tuple[str, Source]]
) -> tuple[Word, ...]:
    """The written words, each over the phones of the spoken words that `owner` gives it."""
    found = []
    for word, group in groupby(zip(placed, places, strict=True), key=lambda pair: owner[pair[0].mark.word]):
        at = [place for _, place in group]
        text, source = written[word]
        found.append(Word(text, at[0], at[-1] + 1, source))
    return tuple(found)


def syllables_of(placed: Sequence[Placed], places: Sequence[int]) -> tuple[Syllable, ...]:
    """The syllables of every spoken word, with the dictionary's stress and none heard yet."""
    found = []
    for _, group in groupby(zip(placed, places, strict=True), key=lambda pair: pair[0].mark.word):
        said = [(one.mark.phone, place) for one, place in group]
        for first, stop, nucleus in syllables_in([phone for phone, _ in said]):
            digit = said[nucleus][0][-1]
            lexical = int(digit) if digit.isdigit() else UNSTRESSED
            at = [said[k][1] for k in (first, stop - 1, nucleus)]
            found.append(Syllable(at[0], at[1] + 1, at[2], lexical, stress=0, strength=0.0))
    return tuple(found)
