"""One take, heard: a recording and the line it should say to a Reading."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from trackread import __version__
from trackread.core.reading import Reading, Source, Syllable, Track
from trackread.core.timebase import Sample
from trackread.reading.aligner import Aligner
from trackread.reading.assembly import syllables_of, timeline, words_of
from trackread.reading.forest import Forest, shipped
from trackread.reading.level import level_at
from trackread.reading.lexicon import Entry, Lexicon, Pronunciation
from trackread.reading.match import judge
from trackread.reading.pitch import pitch_at
from trackread.reading.placement import Placed, place
from trackread.reading.recogniser import ROW, Posteriors, posteriors
from trackread.reading.sounds import RATE, Recording, peak_of
from trackread.reading.spectra import analyse
from trackread.reading.spoken import WrittenWord, written_words
from trackread.reading.stress import Span as Stressed
from trackread.reading.stress import stresses
from trackread.reading.stretches import Span, stretches
from trackread.reading.variants import ways_with_variants

PEAK = 0.7  # every take is read at one level, however it was recorded
Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Line:
    """A line ready to be found: its written words, and for each spoken word how it may be said."""

    written: tuple[WrittenWord, ...]
    spoken: tuple[str, ...]
    entries: tuple[Entry, ...]
    ways: tuple[tuple[Pronunciation, ...], ...]
    owner: tuple[int, ...]  # the written word of each spoken one


class Reader:
    """The engines, loaded once and kept for many takes. Not for use by two threads at once."""

    def __init__(self, lexicon: Lexicon | None = None, trees: Forest | None = None) -> None:
        self.lexicon = lexicon or Lexicon()
        self.trees = trees or shipped()
        self.aligner = Aligner()

    def read(self, recording: Recording, line: str, progress: Progress | None = None) -> Reading:
        """The reading of a take of `line`; `progress` is told the share that is done, 0 to 1.

        Raises LineError if the line cannot be spoken, ReadingError if the take cannot hold it.
        """
        wanted = self.prepare(line)
        signal = recording.signal - recording.signal.mean()
        signal *= PEAK / peak_of(signal, 0.0)
        heard = posteriors(signal)
        placed: list[Placed] = []
        for span in stretches(signal, heard, wanted.ways):
            placed += self.place(signal, heard, wanted, span)
            if progress:
                progress(span.stop / len(signal))
        return assemble(recording, wanted, placed, heard)

    def prepare(self, line: str) -> Line:
        written = written_words(line)
        spoken = tuple(word for each in written for word in each.spoken)
        owner = tuple(k for k, each in enumerate(written) for _ in each.spoken)
        entries = tuple(self.lexicon.look_up(word) for word in spoken)
        ways = tuple(
            entry.ways if entry.source is Source.PRODUCTION else ways_with_variants(word, entry.ways)
            for entry, word in zip(entries, spoken, strict=True)
        )
        return Line(written, spoken, entries, ways, owner)

    def place(self, signal: np.ndarray, heard: Posteriors, line: Line, span: Span) -> list[Placed]:
        """The phones of one stretch, in seconds of the whole signal."""
        if span.first == span.last:
            return []
        piece = signal[span.start : span.stop]
        part = heard.part(span.start // ROW, -(-span.stop // ROW))
        marks = self.aligner.align(piece, line.ways[span.first : span.last])
        offset = span.start / RATE
        return [
            replace(
                one,
                mark=replace(one.mark, word=one.mark.word + span.first),
                start=one.start + offset,
                stop=one.stop + offset,
            )
            for one in place(marks, analyse(piece), part, self.trees)
        ]


def assemble(recording: Recording, line: Line, placed: Sequence[Placed], heard: Posteriors) -> Reading:
    """The Reading of placed phones, with the voice's pitch, level and stress and whether it says the line."""
    sound = recording.sound
    time = timeline(placed, sound)
    hop = sound.sample_rate // 100
    times = np.arange(0, sound.length, hop) / sound.sample_rate
    pitch = Track(hop, pitch_at(recording.signal, times))
    level = Track(hop, level_at(recording.signal, times))
    written = [(word.text, source_of(line, number)) for number, word in enumerate(line.written)]
    spoken_at = {place: line.spoken[one.mark.word] for place, one in zip(time.places, placed, strict=True)}
    return Reading(
        sound=sound,
        phones=time.phones,
        cuts=time.cuts,
        words=words_of(placed, time.places, line.owner, written),
        syllables=stressed(syllables_of(placed, time.places), time.cuts, spoken_at, (pitch, level)),
        pitch=pitch,
        level=level,
        match=judge([one.mark_there() for one in placed], heard, recording.seconds),
        engine=f"trackread {__version__}",
    )


def stressed(
    syllables: Sequence[Syllable], cuts: Sequence[Sample], spoken_at: dict[int, str], tracks: tuple[Track, Track]
) -> tuple[Syllable, ...]:
    """The syllables with the stress heard on them; `spoken_at` gives the spoken word of a phone."""
    spans = [
        Stressed(cuts[s.first], cuts[s.stop], cuts[s.nucleus], cuts[s.nucleus + 1], spoken_at[s.first], s.lexical)
        for s in syllables
    ]
    pitch, level = tracks
    heard = stresses(spans, pitch=pitch, level=level)
    return tuple(
        replace(syllable, strength=strength, stress=degree)
        for syllable, (strength, degree) in zip(syllables, heard, strict=True)
    )


def source_of(line: Line, number: int) -> Source:
    """Where a written word's pronunciation came from; a guess if any part of it was guessed."""
    sources = [entry.source for entry, owner in zip(line.entries, line.owner, strict=True) if owner == number]
    return max(sources, key=list(Source).index)
