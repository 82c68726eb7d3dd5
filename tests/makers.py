"""Readings made by hand, for tests of what is done with a reading."""

from dataclasses import replace

from hypothesis import strategies as st

from trackread.core.phones import PAUSE, VOWELS
from trackread.core.reading import Match, Phone, Reading, Source, Syllable, Track, Word
from trackread.core.sound import Sound
from trackread.core.timebase import Sample

STRESS_HEARD = {0: 0, 1: 2, 2: 1}

# A line of our own: each word with its sounds, vowels with the dictionary's stress digit; a bare - is a pause.
LINE = (("Mind", "M AY1 N D"), ("the", "DH AH0"), ("step,", "S T EH1 P"), "-", ("ticket!", "T IH1 K AH0 T"))


def a_reading(*said, lengths=None, sample_rate=24000, **changes):
    """A reading of the words `said` (LINE unless given) between two pauses; each phone lasts 0.07 s unless told."""
    phones, words, syllables = [Phone(PAUSE, 1.0)], [], []
    for one in said or LINE:
        text, sounds = one if one != "-" else ("", PAUSE)
        first = len(phones)
        symbols = sounds.split()
        phones += [Phone(symbol.rstrip("012"), 0.9) for symbol in symbols]
        if text:
            words.append(Word(text, first, len(phones)))
            syllables += syllables_of(symbols, first)
    phones.append(Phone(PAUSE, 0.8))
    lengths = lengths or [sample_rate * 7 // 100] * len(phones)
    cuts = tuple(Sample(sum(lengths[:k])) for k in range(len(phones) + 1))
    hop = sample_rate // 100
    hops = cuts[-1] // hop + 1
    reading = Reading(
        sound=Sound("ab" * 32, sample_rate, cuts[-1]),
        phones=tuple(phones),
        cuts=cuts,
        words=tuple(words),
        syllables=tuple(syllables),
        pitch=Track(hop, tuple(None if k % 5 == 0 else 100.0 + k for k in range(hops))),
        level=Track(hop, tuple(-20.0 - k % 7 for k in range(hops))),
        match=Match(0.93, says_line=True),
        engine="by hand",
    )
    return replace(reading, **changes)


def syllables_of(symbols, first):
    """A syllable for each vowel, with the consonants before it; the last has those after it too."""
    vowels = [k for k, symbol in enumerate(symbols) if symbol.rstrip("012") in VOWELS]
    edges = [0, *(vowel + 1 for vowel in vowels[:-1]), len(symbols)]
    return [
        Syllable(first + start, first + stop, first + vowel, digit, STRESS_HEARD[digit], 0.25 * digit)
        for start, stop, vowel in zip(edges, edges[1:], vowels, strict=False)
        for digit in [int(symbols[vowel][-1])]
    ]


def ticks(values):
    """Numbers as they are written in JSON, to a tenth."""
    return st.one_of(st.none(), values.map(lambda tenths: tenths / 10))


@st.composite
def readings(draw):
    """Any reading whose numbers are of the precision that is written."""
    words = st.sampled_from(
        [
            *LINE,
            ("“Hush”", "HH AH1 SH"),
            ('a "b"', "B IY0"),
            ("Shh…", "SH"),
            ("42,", "F AO1 R T IY2 T UW1"),
            ("né", "N EY2"),
        ]
    )
    said = draw(st.lists(words, min_size=1, max_size=6))
    sample_rate = draw(st.sampled_from([8000, 11025, 16000, 44100, 48000]))
    count = 2 + sum(len(one[1].split()) for one in said if one != "-") + said.count("-")
    lengths = draw(st.lists(st.integers(1, 9000), min_size=count, max_size=count))
    reading = a_reading(*said, lengths=lengths, sample_rate=sample_rate)
    shares = st.integers(0, 1000).map(lambda share: share / 1000)
    return replace(
        reading,
        phones=tuple(Phone(phone.symbol, draw(shares)) for phone in reading.phones),
        words=tuple(replace(word, source=draw(st.sampled_from(Source))) for word in reading.words),
        pitch=Track(draw(st.integers(1, 900)), tuple(draw(st.lists(ticks(st.integers(500, 6000)), max_size=30)))),
        level=Track(draw(st.integers(1, 900)), tuple(draw(st.lists(ticks(st.integers(-900, 0)), max_size=30)))),
        match=Match(draw(shares), draw(st.booleans())),
    )


class ReaderByHand:
    """Answers every take with one reading, of the recording's own length, and counts how often it was asked."""

    def __init__(self, **changes):
        self.changes = changes
        self.lines = []

    def read(self, recording, line, progress=None):
        self.lines.append(line)
        if progress:
            progress(1.0)
        reading = a_reading(sample_rate=recording.sound.sample_rate)
        cuts = (*reading.cuts[:-1], recording.sound.length)
        return replace(reading, sound=recording.sound, cuts=cuts, **self.changes)
