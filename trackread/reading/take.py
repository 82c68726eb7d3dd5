"""One take, heard: a recording and the line it should say to a Reading."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from trackread.core.correction import Pin
from trackread.core.reading import ENGINE, Reading, Syllable, Track, Word
from trackread.reading.aligner import Aligner
from trackread.reading.assembly import Timeline, events_of, syllables_of, timeline, words_of
from trackread.reading.between import fixed, place_between
from trackread.reading.doubt import Signs
from trackread.reading.events import Found, events_in, quietened
from trackread.reading.evidence import Piece
from trackread.reading.fillers import with_fillers, without_asked
from trackread.reading.forest import Forest, shipped
from trackread.reading.holds import held
from trackread.reading.level import level_at
from trackread.reading.lexicon import Lexicon
from trackread.reading.line import Line, prepare
from trackread.reading.listening import Listening, listen
from trackread.reading.manners import manners_in
from trackread.reading.match import judge
from trackread.reading.phrases import phrase_starts, phrases_of
from trackread.reading.pins import Pinned, find_pins, fixes_in
from trackread.reading.pitch import pitch_at
from trackread.reading.placement import Placed, place
from trackread.reading.recogniser import ROW, Posteriors, posteriors
from trackread.reading.said import SaidWord, departures_in, hints_of, said_words
from trackread.reading.scene import Scene, scene_of
from trackread.reading.signs import doubted, signs_of
from trackread.reading.sounds import PEAK, RATE, Recording, peak_of
from trackread.reading.spectra import analyse
from trackread.reading.stress import spans_of, stresses
from trackread.reading.stretches import Span
from trackread.reading.told import Told, tell_as_written, tell_freely
from trackread.reading.tones import tone_of

Progress = Callable[[float], None]
Tracks = tuple[Track, Track]  # pitch, level


@dataclass(frozen=True, slots=True)
class Heard:
    """A take as it is taken apart: its signal, how that sounds, what the recogniser hears, its pitch and level."""

    recording: Recording
    signal: np.ndarray
    view: Listening
    rows: Posteriors
    pitch: Track
    level: Track


@dataclass(frozen=True, slots=True)
class Spoken:
    """What a take says and how it sounds; `between` is its sound with the events in it, which are no words."""

    told: Told
    words: Sequence[SaidWord]
    rows: Posteriors
    between: tuple[Scene, Sequence[Found]]

    @property
    def spans(self) -> list[Span]:
        """The stretch of each spoken word."""
        return [span for span, words in self.stretches() for _ in words]

    def stretches(self) -> Iterator[tuple[Span, range]]:
        """Each stretch with the numbers of its spoken words."""
        first = 0
        for span, each in zip(self.told.spans, self.told.said, strict=True):
            yield span, range(first, first + len(each.steps))
            first += len(each.steps)

    def piece(self, span: Span) -> np.ndarray:
        """The sound of a stretch, events as soft as the room."""
        return quietened(*self.between, span.start, span.stop)

    def rows_of(self, span: Span) -> Posteriors:
        """What the recogniser hears in a stretch."""
        return self.rows.part(span.start // ROW, -(-span.stop // ROW))


class Reader:
    """The engines, loaded once and kept for many takes. Not for use by two threads at once.

    A `faithful` reader takes every take for what its line says, word for word.
    """

    def __init__(self, lexicon: Lexicon | None = None, trees: Forest | None = None, *, faithful: bool = False) -> None:
        self.lexicon = lexicon or Lexicon()
        self.trees = trees or shipped()
        self.aligner = Aligner()
        self.faithful = faithful

    def read(
        self, recording: Recording, line: str, progress: Progress | None = None, *, pins: Sequence[Pin] = ()
    ) -> Reading:
        """The reading of a take of `line`; `progress` is told the share that is done, 0 to 1.

        The cuts in `pins` lie where they say; `pins.left_out` tells which of them found no place.
        Raises LineError if the line cannot be spoken, ReadingError if the take cannot hold it.
        """
        return doubted(*self.read_with_signs(recording, line, progress, pins=pins))

    def read_with_signs(
        self, recording: Recording, line: str, progress: Progress | None = None, *, pins: Sequence[Pin] = ()
    ) -> tuple[Reading, tuple[Signs, ...]]:
        """The reading as `read` gives it, but without its doubts, and the signs that tell them, one for each word."""
        wanted = self.prepare(line)
        heard = hear(recording)
        tell = tell_as_written if self.faithful else tell_freely
        told = tell(piece_of(heard, wanted), wanted, self.aligner)
        words = said_words(told, wanted)
        hints = hints_of(wanted, words, recording.seconds)
        told = without_asked(told, hints)
        words = said_words(told, wanted)
        phones = [time for word in words for time in word.times]
        scene = scene_of((heard.signal, heard.view), phones, heard.rows, (heard.pitch, recording.sound.sample_rate))
        events = events_in(scene, hints)
        if not self.faithful and (told.match is None or told.match.says_line):
            told = with_fillers(told, scene, events)
            words = said_words(told, wanted)
        take = Spoken(told, words, heard.rows, (scene, events))
        placed = self.place_all(take, progress)
        pinned = find_pins(pins, words, placed, spans=take.spans, sample_rate=recording.sound.sample_rate)
        if pinned.fixes:
            placed = self.place_again(take, placed, pinned)
        placed = fixed(list(held(placed, scene, events)), pinned.fixes)
        reading = assemble(heard, told, (wanted, words), placed, (scene, events))
        return reading, tuple(signs_of(reading, words, placed, scene))

    def prepare(self, line: str) -> Line:
        """The line ready to be found. Raises LineError if it cannot be spoken."""
        return prepare(line, self.lexicon)

    def place_all(self, take: Spoken, progress: Progress | None) -> list[Placed]:
        """The phones of a whole take, in its own seconds, stretch by stretch."""
        placed: list[Placed] = []
        for span, words in take.stretches():
            if words:
                piece = take.piece(span)
                marks = self.aligner.align(piece, [take.words[k].ways for k in words])
                placed += in_take(place(marks, analyse(piece), take.rows_of(span), self.trees), span, words)
            if progress:
                progress(span.stop / take.told.spans[-1].stop)
        return placed

    def place_again(self, take: Spoken, before: Sequence[Placed], pinned: Pinned) -> list[Placed]:
        """The phones of a whole take around its pins; a stretch without pins is as it was placed before."""
        placed: list[Placed] = []
        for span, words in take.stretches():
            fixes = fixes_in(span, words, pinned.fixes)
            if not fixes:
                placed += [one for one in before if one.mark.word in words]
                continue
            ways = [(pinned.ways[k],) if k in pinned.ways else take.words[k].ways for k in words]
            engines = (self.aligner, self.trees)
            found = place_between(take.piece(span), take.rows_of(span), ways, fixes, engines=engines)
            placed += in_take(found, span, words)
        return placed


def in_take(placed: Sequence[Placed], span: Span, words: range) -> list[Placed]:
    """The phones of one stretch in seconds of the whole take, and by the numbers of its words there."""
    offset = span.start / RATE
    return [
        replace(
            one,
            mark=replace(one.mark, word=words[one.mark.word]),
            start=one.start + offset,
            stop=one.stop + offset,
        )
        for one in placed
    ]


def piece_of(heard: Heard, line: Line) -> Piece:
    """The whole take as it is compared with its line."""
    return Piece(heard.signal, heard.rows, line.ways, heard.view.narrow, line.strange)


def hear(recording: Recording) -> Heard:
    """A take at one level, with what can be heard without knowing its line."""
    sound = recording.sound
    hop = sound.sample_rate // 100
    times = np.arange(0, sound.length, hop) / sound.sample_rate
    pitch, level = (Track(hop, track(recording.signal, times)) for track in (pitch_at, level_at))
    signal = recording.signal - recording.signal.mean()  # not before: pitch needs a copy of its own for a while
    signal *= PEAK / peak_of(signal, 0.0)
    return Heard(recording, signal, listen(signal), posteriors(signal), pitch, level)


def assemble(
    heard: Heard,
    told: Told,
    line: tuple[Line, Sequence[SaidWord]],
    placed: Sequence[Placed],
    between: tuple[Scene, Sequence[Found]],
) -> Reading:
    """The Reading of placed phones, with all that the voice does and whether it says the line."""
    wanted, said = line
    sound = heard.recording.sound
    time = timeline(placed, sound)
    words = words_of(
        placed, time.places, [word.number for word in said], {word.number: (word.text, word.source) for word in said}
    )
    spoken_at = {place: said[one.mark.word].spoken for place, one in zip(time.places, placed, strict=True)}
    unheard = syllables_of(placed, time.places)
    syllables = stressed(unheard, spoken_at, time, words=words, tracks=(heard.pitch, heard.level))
    phrases = phrases_of(time.phones, time.cuts, words, syllables, pitch=heard.pitch)
    scene, events = between
    marks = [one.mark_there() for one in placed if said[one.mark.word].written is not None]
    match = told.match or judge(marks, heard.rows, heard.recording.seconds)
    reading = Reading(
        sound=sound,
        phones=time.phones,
        cuts=time.cuts,
        words=words,
        syllables=syllables,
        pitch=heard.pitch,
        level=heard.level,
        match=match,
        engine=ENGINE,
        phrases=phrases,
        departures=departures_in(told, wanted, said),
    )
    return replace(reading, events=events_of([*events, *manners_in(reading, scene)], reading))


def stressed(
    syllables: Sequence[Syllable], spoken_at: dict[int, str], time: Timeline, *, words: Sequence[Word], tracks: Tracks
) -> tuple[Syllable, ...]:
    """The syllables with the stress and tone heard on them; `spoken_at` gives the spoken word of a phone."""
    pitch, level = tracks
    spoken = [spoken_at[syllable.first] for syllable in syllables]
    starts = phrase_starts(time.phones, time.cuts, words, pitch.hop)
    spans = spans_of(syllables, spoken, (time.phones, time.cuts), starts)
    return tuple(
        replace(syllable, strength=strength, stress=degree, tone=tone_of(pitch, span.symbols, span.cuts))
        for syllable, span, (strength, degree) in zip(
            syllables, spans, stresses(spans, pitch=pitch, level=level), strict=True
        )
    )
