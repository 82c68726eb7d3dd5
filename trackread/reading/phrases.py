"""The phrases of a take: words said without a pause, their main beat, where the pitch goes at the end, and the pace.

Spans of words and syllables are indices, `stop` not included; cuts are samples of the recording.
"""

from collections.abc import Sequence
from itertools import pairwise

from trackread.core.performance import Phrase, Tone
from trackread.core.phones import PAUSE
from trackread.core.reading import Phone, Syllable, Track, Word
from trackread.core.timebase import Sample
from trackread.reading.stress import STRONGEST
from trackread.reading.tones import FRAMES, LEAST, contour, last_move

# Seconds of silence between words that part two phrases: longer than the closure of a stop, which the ear takes for
# no pause and which lasts 50 to 130 ms, and four film frames, the shortest hold that is seen as one. Published cut-offs
# lie from 130 ms (Hieke, Kowal and O'Connell 1983) to 250 ms (Goldman-Eisler 1968; both from memory).
SHORTEST_REST = 0.15

# The last seconds of voice that tell question from statement: about a stressed syllable before a pause, whose vowel
# alone lasts 130 ms and more (Klatt 1976) and half as much again for being last, and one after it.
TAIL = 0.4


def phrases_of(
    phones: Sequence[Phone],
    cuts: Sequence[Sample],
    words: Sequence[Word],
    syllables: Sequence[Syllable],
    *,
    pitch: Track,
) -> tuple[Phrase, ...]:
    """The phrases of a take, together all of its words, in order."""
    found = []
    for first, stop in spans_between_rests(phones, cuts, words, pitch.hop):
        reach = range(words[first].first, words[stop - 1].stop)
        inside = [k for k, syllable in enumerate(syllables) if syllable.first in reach]
        spoken = sum(cuts[k + 1] - cuts[k] for k in reach if phones[k].symbol != PAUSE)
        found.append(
            Phrase(
                first,
                stop,
                main=max(inside, key=lambda k: syllables[k].strength, default=None),
                ending=ending_of([syllables[k] for k in inside], phones, cuts, pitch=pitch),
                rate=len(inside) * pitch.hop * FRAMES / spoken,
            )
        )
    return tuple(found)


def spans_between_rests(
    phones: Sequence[Phone], cuts: Sequence[Sample], words: Sequence[Word], hop: int
) -> list[tuple[int, int]]:
    """The words (first, stop) of each phrase: a new one starts where a rest of SHORTEST_REST or more lies before it."""
    rest = SHORTEST_REST * FRAMES * hop
    starts = [
        k
        for k, (before, word) in enumerate(pairwise(words), 1)
        if any(phones[p].symbol == PAUSE and cuts[p + 1] - cuts[p] >= rest for p in range(before.stop, word.first))
    ]
    edges = [0, *starts, len(words)] if words else []
    return list(pairwise(edges))


def phrase_starts(phones: Sequence[Phone], cuts: Sequence[Sample], words: Sequence[Word], hop: int) -> list[int]:
    """The first phone of each phrase."""
    return [words[first].first for first, _ in spans_between_rests(phones, cuts, words, hop)]


def ending_of(
    syllables: Sequence[Syllable], phones: Sequence[Phone], cuts: Sequence[Sample], *, pitch: Track
) -> Tone | None:
    """Where the pitch goes from the last strong syllable on, in the last TAIL of voice; None without pitch."""
    if not syllables:
        return None
    last = next((one for one in reversed(syllables) if one.stress == STRONGEST), syllables[0])
    stop = syllables[-1].stop
    symbols = [phone.symbol for phone in phones[last.first : stop]]
    values = contour(pitch, symbols, cuts[last.first : stop + 1])[-round(TAIL * FRAMES) :]
    return last_move(values) if len(values) >= LEAST else None
