"""What is done in worker processes: a part of a session listened through, a take read. Engines are kept between tasks.

A task says all it needs in plain values, so that it runs in this machine's processes or on a cluster that sees the same
folders. What a person can mend comes back as a Failure, since one bad take must not end the rest.
"""

import functools
import threading
from dataclasses import dataclass
from pathlib import Path

from trackread.core.correction import Pin
from trackread.core.passage import Passage
from trackread.core.passage import Place as Stretch
from trackread.core.plain import PlainReading, reading_to_plain
from trackread.core.session import Stretch as Heard
from trackread.core.sound import Sound
from trackread.core.timebase import FrameRate
from trackread.errors import TrackreadError
from trackread.reading.again import Wish, heard_again
from trackread.reading.aligner import Aligner
from trackread.reading.lexicon import Lexicon, read_pronunciations
from trackread.reading.long_recordings import open_recording
from trackread.reading.take import Reader
from trackread.sessions.stretches import Part
from trackread.workflow.failure import Failure
from trackread.workflow.finding_takes import Searcher, Wanted

# Engines are not for two threads at once, and a cluster's worker may have several.
ALONE = threading.Lock()


@dataclass(frozen=True, slots=True)
class Place:
    """Samples `start` to before `stop` of one channel of a recording, and where that lies."""

    path: Path
    sound: Sound
    channel: int | None
    start: int
    stop: int


@dataclass(frozen=True, slots=True)
class Words:
    """The production's own pronunciations: the file, if there is one, and the digest of what it holds."""

    path: Path | None
    digest: str


@dataclass(frozen=True, slots=True)
class ToHear:
    """A part of a session that is to be searched for takes of some lines."""

    place: Place
    wanted: tuple[Wanted, ...]
    words: Words


@dataclass(frozen=True, slots=True)
class ToRead:
    """A take that is to be read: what it says, and what people pinned in it."""

    place: Place
    text: str
    words: Words
    rate: FrameRate
    pins: tuple[Pin, ...] = ()


@dataclass(frozen=True, slots=True)
class ToHearAgain:
    """A stretch of a take's reading, whose sound lies at `place`, that is to be heard again with other words."""

    place: Place
    stretch: Stretch
    said: str
    line: str
    words: Words
    pins: tuple[Pin, ...] = ()


def listen(task: ToHear) -> tuple[Heard, ...] | Failure:
    """The stretches of a part of a session."""
    place = task.place
    try:
        with ALONE:
            signal = open_recording(place.path).piece_at_16k(place.start, place.stop, place.channel, whole=place.sound)
            part = Part(place.start, place.stop, place.sound.sample_rate)
            return searcher(task.wanted, task.words).stretches(signal.signal, part)
    except TrackreadError as error:
        return Failure(str(error))


def read(task: ToRead) -> PlainReading | Failure:
    """The reading of a take."""
    place = task.place
    try:
        with ALONE:
            recording = open_recording(place.path).piece_at_16k(
                place.start, place.stop, place.channel, whole=place.sound
            )
            ears = reader(task.words)
            ears.aligner = Aligner()  # its decoder keeps a name for every word it was ever asked for
            return reading_to_plain(ears.read(recording, task.text, pins=task.pins), task.rate)
    except TrackreadError as error:
        return Failure(str(error))


def hear_again(task: ToHearAgain) -> Passage | Failure:
    """What is said in a stretch of a take."""
    place = task.place
    try:
        with ALONE:
            recording = open_recording(place.path).piece_at_16k(
                place.start, place.stop, place.channel, whole=place.sound
            )
            ears = Reader(reader(task.words).lexicon, faithful=True)
            return heard_again(Wish(recording, task.stretch, task.said, task.line, task.pins), ears)
    except TrackreadError as error:
        return Failure(str(error))


def lexicon(words: Words) -> Lexicon:
    return read_pronunciations(words.path) if words.path else Lexicon()


@functools.lru_cache(maxsize=1)
def searcher(wanted: tuple[Wanted, ...], words: Words) -> Searcher:
    return Searcher(wanted, lexicon(words))


@functools.lru_cache(maxsize=1)
def reader(words: Words) -> Reader:
    return Reader(lexicon(words))
