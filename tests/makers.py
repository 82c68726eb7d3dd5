"""Readings made by hand, for tests of what is done with a reading."""

from dataclasses import replace

from hypothesis import strategies as st

from trackread.core.performance import Departure, DepartureKind, Event, EventKind, Phrase, Reason, Tone
from trackread.core.phones import PAUSE, VOWELS
from trackread.core.reading import Match, Phone, Reading, Source, Syllable, Track, Word
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.reading.course import Step, StepKind
from trackread.reading.lexicon import bare

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
            words.append(Word(text, first, len(phones), doubt=0.1))
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


def a_performance(**changes):
    """A reading with one of each thing that a voice does beside its words."""
    reading = a_reading(**changes)
    first, *rest = reading.words
    return replace(
        reading,
        words=(replace(first, doubt=0.1, reasons=(Reason.NOISE,)), *rest),
        syllables=tuple(replace(syllable, tone=Tone.FALL) for syllable in reading.syllables),
        events=(Event(EventKind.BREATH_IN, Sample(0), Sample(3000), 0.9),),
        phrases=(Phrase(0, 3, 0, Tone.FALL, 4.5),),
        departures=(Departure(DepartureKind.SWAPPED, 2, 3, "gap,"),),
    )


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
    lengths = draw(st.lists(st.integers(5, 9000), min_size=count, max_size=count))  # praatio reads no 2e-05
    reading = a_reading(*said, lengths=lengths, sample_rate=sample_rate)
    shares = st.integers(0, 1000).map(lambda share: share / 1000)
    tones = st.one_of(st.none(), st.sampled_from(Tone))
    return replace(
        reading,
        phones=tuple(Phone(phone.symbol, draw(shares)) for phone in reading.phones),
        words=tuple(
            replace(
                word,
                source=draw(st.sampled_from(Source)),
                doubt=draw(shares),
                reasons=tuple(draw(st.lists(st.sampled_from(Reason), max_size=2))),
            )
            for word in reading.words
        ),
        syllables=tuple(replace(syllable, tone=draw(tones)) for syllable in reading.syllables),
        events=tuple(draw(st.lists(events(reading.sound.length), max_size=1))),
        phrases=draw(phrases(len(reading.words), len(reading.syllables))),
        departures=tuple(sorted(draw(st.lists(departures(len(reading.words)), max_size=3)), key=order_of)),
        pitch=Track(draw(st.integers(1, 900)), tuple(draw(st.lists(ticks(st.integers(500, 6000)), max_size=30)))),
        level=Track(draw(st.integers(1, 900)), tuple(draw(st.lists(ticks(st.integers(-900, 0)), max_size=30)))),
        match=Match(draw(shares), draw(st.booleans())),
    )


def events(length):
    """An event within so many samples."""
    spans = st.lists(st.integers(0, length), min_size=2, max_size=2, unique=True).map(sorted)
    shares = st.integers(0, 1000).map(lambda share: share / 1000)
    made = lambda kind, span, share, hinted: Event(kind, Sample(span[0]), Sample(span[1]), share, hinted)  # noqa: E731
    return st.builds(made, st.sampled_from(EventKind), spans, shares, st.booleans())


def phrases(count, syllables):
    """No phrase, or one of all of `count` words, its main beat on one of so many syllables."""
    one = st.builds(
        Phrase,
        st.just(0),
        st.just(count),
        st.sampled_from([None, *range(syllables)]),
        st.one_of(st.none(), st.sampled_from(Tone)),
        st.integers(0, 90).map(lambda tenths: tenths / 10),
    )
    return st.lists(one, max_size=1).map(tuple) if count else st.just(())


def departures(count):
    """A departure of any kind among `count` words."""
    dropped = st.integers(0, count).map(lambda at: Departure(DepartureKind.DROPPED, at, at, "gap"))
    others = st.sampled_from([kind for kind in DepartureKind if kind is not DepartureKind.DROPPED])
    if not count:
        return dropped
    said = st.builds(lambda kind, at: Departure(kind, at, at + 1, "gap"), others, st.integers(0, count - 1))
    return st.one_of(dropped, said)


def order_of(departure):
    return departure.first, departure.stop


def steps_saying(said, ways):
    """Steps of a course, a phone each 0.1 s: `2` says a word whole, `2-` its first two phones, `?` what is no word."""
    found = []
    time = 0.5
    for one in said.split():
        word = None if one == "?" else int(one[0])
        phones = ("G", "UW", "V") if word is None else bare(ways[word][0])[: 2 if one.endswith("-") else None]
        kind = StepKind.OTHER if word is None else StepKind.PART if one.endswith("-") else StepKind.WORD
        found.append(Step(kind, word, phones, tuple(time + 0.1 * k for k in range(len(phones)))))
        time += 0.1 * len(phones)
    return tuple(found)


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
