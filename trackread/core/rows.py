"""A sheet as its rows: for every frame, what each voice says there. Every frame has exactly one row.

This is what two issues of a sheet are compared by, and what other programs are given. What is drawn beside the words
to help the eye (level, pitch, pauses, phrases) is no part of it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from trackread.core.correction import DEGREES
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Sheet, Voice
from trackread.core.timebase import Frame

JOINT = "; "


@dataclass(frozen=True, slots=True)
class Held:
    """A text that is held on a frame; `starts` on the frame where it starts."""

    text: str
    starts: bool


@dataclass(frozen=True, slots=True)
class VoiceRow:
    """What one voice has on a frame, None for nothing.

    `stress` is a syllable's degree in words; its `tone` and `main` stand on the frame where it starts.
    """

    character: str
    word: Held | None = None
    sound: Held | None = None
    stress: Held | None = None
    tone: Tone | None = None
    main: bool = False
    event: Held | None = None
    manner: Held | None = None
    departure: Held | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One frame of a sheet, counted from 0; voices stand as they do on the sheet."""

    frame: Frame
    voices: tuple[VoiceRow, ...]
    action: Held | None = None
    camera: Held | None = None


def rows_of(sheet: Sheet) -> tuple[Row, ...]:
    """A row for every frame of a sheet, in order."""
    voices = [voice_rows(voice, sheet.length) for voice in sheet.voices]
    action, camera = held(sheet.action, sheet.length), held(sheet.camera, sheet.length)
    return tuple(
        Row(Frame(frame), tuple(rows[frame] for rows in voices), action[frame], camera[frame])
        for frame in range(sheet.length)
    )


def voice_rows(voice: Voice, length: int) -> list[VoiceRow]:
    """A row for every frame of one voice."""
    beats = beats_on(voice.beats, length)
    columns = zip(
        held(voice.words, length),
        held(voice.sounds, length),
        held(voice.events, length),
        held(voice.manners, length),
        held((*voice.departures, *voice.missing), length),
        beats,
        strict=True,
    )
    return [
        VoiceRow(voice.character, word, sound, *stress_of(beat, frame), event, manner, departure)
        for frame, (word, sound, event, manner, departure, beat) in enumerate(columns)
    ]


def held(cells: Iterable[Cell], length: int) -> list[Held | None]:
    """What is held on each frame: what began last, texts that began at once joined; what it covers goes on after it."""
    standing: list[list[Cell]] = [[] for _ in range(length)]
    for cell in sorted(cells, key=begun):
        for there in standing[cell.first : cell.stop]:
            if there and begun(there[0]) != begun(cell):
                there.clear()
            there.append(cell)
    return [held_on(frame, there) if there else None for frame, there in enumerate(standing)]


def begun(cell: Cell) -> tuple[int, bool]:
    """When a text began; one that began before the first frame that is seen of it, before those that start there."""
    return cell.first, not cell.before


def held_on(frame: int, cells: list[Cell]) -> Held:
    starts = any(cell.first == frame and not cell.before for cell in cells)
    return Held(JOINT.join(cell.text for cell in cells), starts)


def beats_on(beats: Iterable[Beat], length: int) -> list[Beat | None]:
    """The syllable on each frame, as its stress."""
    found: list[Beat | None] = [None] * length
    for beat in sorted(beats, key=lambda beat: beat.first):
        found[beat.first : beat.stop] = [beat] * (beat.stop - beat.first)
    return found


def stress_of(beat: Beat | None, frame: int) -> tuple[Held | None, Tone | None, bool]:
    """Stress, tone and main of a row."""
    if beat is None:
        return None, None, False
    starts = frame == beat.first and not beat.before
    return Held(DEGREES[beat.degree], starts), beat.tone if starts else None, beat.main and starts
