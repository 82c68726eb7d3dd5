"""An exposure sheet before it is laid out: what stands on which frame, and nothing of paper.

Frames count from 0; `stop` is not included. Only printing adds `first_number`.
"""

from dataclasses import dataclass

from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.timebase import Frame, FrameRate

# Points of sound level and of pitch that a sheet carries for each frame.
POINTS = 8


@dataclass(frozen=True, slots=True)
class Cell:
    """A text that starts on frame `first` and holds to `stop`.

    Where a shot has only a part of it, what began `before` the first frame or goes on `beyond` the last is not seen.
    """

    first: Frame
    stop: Frame
    text: str
    before: bool = False
    beyond: bool = False

    def __post_init__(self) -> None:
        if self.first >= self.stop:
            raise ValueError(f"a cell lasts at least a frame, not {self.first} to {self.stop}")


@dataclass(frozen=True, slots=True)
class Beat:
    """How strongly the voice leans on the frames of a syllable: 0 weak, 1 half, 2 strong.

    `tone` is the turn of the pitch there, `main` marks the one main beat of a phrase. One that began `before` the
    sheet's first frame lands outside of it: it is no beat to time a gesture off.
    """

    first: Frame
    stop: Frame
    degree: int
    tone: Tone | None = None
    main: bool = False
    before: bool = False


@dataclass(frozen=True, slots=True)
class Phrase:
    """Frames spoken without a pause: where the pitch ends, and the pace if it is not the voice's usual one."""

    first: Frame
    stop: Frame
    ending: Tone | None = None
    pace: str = ""


@dataclass(frozen=True, slots=True)
class Voice:
    """One speaking character's rows.

    `extension` says where the voice comes from if not from a seen mouth, as the script has it (`O.S.`).
    `level` (0 to 1) and `pitch` (0 low to 1 high in the character's range, None where unvoiced) have
    POINTS values a frame, or none at all. `events` are breaths and such, heard between the words; `manners` how the
    words are said (whispered, shouted). `pauses` hold their length in frames. A cell of `departures` says what the
    script has where other words are said, on the frames of those; one of `missing` what words were left out, on the
    frame where they are missed. `mouths` are what the puppet wears, frame after frame, none if its mouths are not
    planned or it is not seen; `mouth_names` are the mouths of its kit in the kit's order, by which they are numbered.
    """

    character: str
    words: tuple[Cell, ...]
    sounds: tuple[Cell, ...]
    beats: tuple[Beat, ...]
    level: tuple[float, ...]
    pitch: tuple[float | None, ...]
    events: tuple[Cell, ...] = ()
    manners: tuple[Cell, ...] = ()
    pauses: tuple[Cell, ...] = ()
    phrases: tuple[Phrase, ...] = ()
    departures: tuple[Cell, ...] = ()
    missing: tuple[Cell, ...] = ()
    extension: str = ""
    mouths: tuple[Worn, ...] = ()
    mouth_names: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.extension and self.mouths:
            raise ValueError(f"{self.character} is heard {self.extension}, and nobody sees its mouth")

    @property
    def spans(self) -> tuple["Cell | Beat | Phrase | Worn", ...]:
        """Everything of the voice that stands on frames."""
        texts = (*self.words, *self.sounds, *self.events, *self.manners, *self.pauses)
        return (*texts, *self.departures, *self.missing, *self.beats, *self.phrases, *self.mouths)


@dataclass(frozen=True, slots=True)
class PlacedLine:
    """A line of the script, or a part of one, that is heard on the frames of a sheet, and the take that says it.

    `text` is what the script has, `extension` where the voice comes from.
    """

    line: str
    take: str
    character: str
    text: str
    first: Frame
    stop: Frame
    extension: str = ""


@dataclass(frozen=True, slots=True)
class Heading:
    """What the head of every page says; empty texts are left out.

    `about` tells what happens in the shot; `board` is the SHA-256 of the picture that shows it, "" for none.
    """

    production: str = ""
    scene: str = ""
    shot: str = ""
    take: str = ""
    unit: str = ""
    issue: str = ""
    date: str = ""
    code: str = ""
    listeners: tuple[str, ...] = ()
    warning: str = ""
    about: str = ""
    board: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One shot's (or take's) exposure sheet, `length` frames at `rate`.

    `camera` says what it does, `positions` where its axes stand, frame by frame, if that is wanted. `changed` are
    frames, from and to, that are not what they were on the issue before. `lines` are what is said.
    """

    heading: Heading
    rate: FrameRate
    length: Frame
    first_number: int
    voices: tuple[Voice, ...]
    action: tuple[Cell, ...] = ()
    camera: tuple[Cell, ...] = ()
    changed: tuple[tuple[Frame, Frame], ...] = ()
    lines: tuple[PlacedLine, ...] = ()
    positions: tuple[Cell, ...] = ()

    def __post_init__(self) -> None:
        if self.length < 1:
            raise ValueError(f"a sheet has a frame at least, not {self.length}")
        for voice in self.voices:
            _check_within(self.length, voice.spans)
            for points in (voice.level, voice.pitch):
                if points and len(points) != POINTS * self.length:
                    raise ValueError(f"{voice.character} has {len(points)} points for {self.length} frames")
        _check_within(self.length, (*self.action, *self.camera, *self.lines, *self.positions))


def _check_within(length: int, spans: tuple[Cell | Beat | Phrase | PlacedLine | Worn, ...]) -> None:
    for span in spans:
        if not 0 <= span.first < span.stop <= length:
            raise ValueError(f"{span} lies outside frames 0 to {length}")
