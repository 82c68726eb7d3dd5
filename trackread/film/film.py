"""A check movie before it is drawn: what is seen and heard on which frame, and nothing of pixels.

Frames count from 0, `stop` is not included; only drawing adds `first_number`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from trackread.core.drawing import Look
from trackread.core.mouth import Worn
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import Frame, FrameRate
from trackread.errors import FilmError

MOST_VOICES = 8  # what a frame has room for
LARGEST_NUMBER = 999_999
GOES_ON = "…"

Span = TypeVar("Span", Worn, Cell, Beat)


@dataclass(frozen=True, slots=True)
class FilmVoice:
    """One character of a film: what its mouths look like, which is worn when, and what it says.

    `looks` has a picture for each name among `worn`, which covers every frame of the film, or none: then only words are
    seen. A mouth that is pinned is shown with a mark. Words and beats stand on frames as on a sheet.
    """

    character: str
    looks: Mapping[str, Look]
    worn: tuple[Worn, ...] = ()
    words: tuple[Cell, ...] = ()
    beats: tuple[Beat, ...] = ()

    def __post_init__(self) -> None:
        if strange := {one.mouth for one in self.worn} - set(self.looks):
            raise ValueError(f"{self.character} has no look of {', '.join(sorted(strange))}")
        if any(one.stop != two.first for one, two in pairwise(self.worn)):
            raise ValueError(f"the mouths of {self.character} follow one another without a gap")


@dataclass(frozen=True, slots=True)
class Film:
    """`length` frames at `rate`, the first of them numbered `first_number`.

    `titles` are lines of text that say what this is, the most important first: the shot, the production, the issue.
    """

    titles: tuple[str, ...]
    rate: FrameRate
    length: Frame
    first_number: int
    voices: tuple[FilmVoice, ...]

    def __post_init__(self) -> None:
        if self.length < 1:
            raise ValueError(f"a film has a frame at least, not {self.length}")
        if not 0 <= self.first_number <= LARGEST_NUMBER - self.length + 1:
            raise ValueError(f"frames have numbers from 0 to {LARGEST_NUMBER}, not {self.first_number}")
        for voice in self.voices:
            if voice.worn and (voice.worn[0].first, voice.worn[-1].stop) != (0, self.length):
                raise ValueError(f"the mouths of {voice.character} do not cover the {self.length} frames")
            spoken: tuple[Cell | Beat, ...] = (*voice.words, *voice.beats)
            for span in spoken:
                if not 0 <= span.first < span.stop <= self.length:
                    raise ValueError(f"{span} lies outside frames 0 to {self.length}")

    def number_of(self, frame: int) -> int:
        """The number that a frame is called by."""
        return self.first_number + frame

    def count_of(self, frame: int) -> str:
        """How far a frame is from the first: seconds and frames over, `1+08`.

        The first frame is `0+00`, as on a counter of footage; a second has the frames that timecode counts to it.
        """
        seconds, over = divmod(frame, self.rate.base)
        return f"{seconds}+{over:02}"


@dataclass(frozen=True, slots=True)
class Seen:
    """What is seen of a voice on one frame: a text that is empty, and a beat that is None, are not there.

    `beat` is 0 weak, 1 half, 2 strong; `main` marks the main one of a phrase; it `lands` on its syllable's first frame.
    """

    mouth: str = ""
    pinned: bool = False
    word: str = ""
    beat: int | None = None
    main: bool = False
    lands: bool = False


def seen_of(voice: FilmVoice, length: int) -> tuple[Seen, ...]:
    """What is seen of a voice on each of `length` frames."""
    worn, words, beats = by_frame(voice.worn), by_frame(voice.words), by_frame(voice.beats)
    return tuple(_seen(worn.get(k), words.get(k), beats.get(k), k) for k in range(length))


def by_frame(spans: Iterable[Span]) -> dict[int, Span]:
    """What stands on each frame; where two do, the later one."""
    return {k: span for span in spans for k in range(span.first, span.stop)}


def said(word: Cell) -> str:
    """A word as it is written where a film may have only a part of it."""
    return f"{GOES_ON if word.before else ''}{word.text}{GOES_ON if word.beyond else ''}"


def check_voices(film: Film) -> None:
    """Raises FilmError for a film without voices, or with more than can be seen at once."""
    if not film.voices:
        raise FilmError("there is nobody to see in this film: give it one character at least")
    if len(film.voices) > MOST_VOICES:
        raise FilmError(f"{len(film.voices)} characters are too many for one film: give it {MOST_VOICES} at most")


def _seen(worn: Worn | None, word: Cell | None, beat: Beat | None, frame: int) -> Seen:
    return Seen(
        mouth=worn.mouth if worn else "",
        pinned=worn is not None and worn.pinned,
        word=said(word) if word else "",
        beat=beat.degree if beat else None,
        main=beat is not None and beat.main,
        lands=beat is not None and beat.first == frame and not beat.before,
    )
