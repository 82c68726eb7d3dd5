"""The signs of doubt at the start of each word of a take, gathered from what its reading was made of."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from trackread.core.phones import PAUSE, PHONES
from trackread.core.reading import Reading, Source
from trackread.reading.doubt import Signs, doubt_of
from trackread.reading.placement import Placed
from trackread.reading.said import SaidWord
from trackread.reading.scene import Scene


def signs_of(reading: Reading, said: Sequence[SaidWord], placed: Sequence[Placed], scene: Scene) -> Iterator[Signs]:
    """The signs of each word of a reading, made of these spoken words and placed phones."""
    phones = reading.phones
    sounding = (k for k, phone in enumerate(phones) if phone.symbol != PAUSE)
    by_phone = dict(zip(sounding, placed, strict=True))
    for word in reading.words:
        first, last = by_phone[word.first], by_phone[word.stop - 1]
        of_word = said[first.mark.word]
        yield Signs(
            kind=PHONES[phones[word.first].symbol][0],
            after_pause=not word.first or phones[word.first - 1].symbol == PAUSE,
            between=off_middle(said, first, of_word),
            heard=of_word.times[0] - first.start,
            apart=first.apart,
            above_room=scene.loudness(first.start, last.stop) - scene.view.room,
            narrow=scene.view.narrow,
            guessed=word.source is Source.GUESS,
            departs=of_word.departs,
        )


def off_middle(said: Sequence[SaidWord], first: Placed, word: SaidWord) -> float:
    """Seconds from the middle between when the phone before a word and its own first were heard to its start."""
    place = first.mark.word
    if not place:
        return 0.0
    return first.start - (said[place - 1].times[-1] + word.times[0]) / 2


def doubted(reading: Reading, signs: Sequence[Signs]) -> Reading:
    """The reading with the doubt of each of its words, whose signs are given."""
    doubts = [doubt_of(each) for each in signs]
    words = [replace(word, doubt=doubt, reasons=why) for word, (doubt, why) in zip(reading.words, doubts, strict=True)]
    return replace(reading, words=tuple(words))
