"""A sheet as its rows: for every frame, what each voice says there. Every frame has exactly one row.

This is what two issues of a sheet are compared by, and what other programs are given. What is drawn beside the words
to help the eye (level, pitch, pauses, phrases) is no part of it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby, pairwise

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
    mouth: Held | None = None


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
    """A row for every frame of one voice; rows that say the same are one value."""
    columns = zip(
        held(voice.words, length),
        held(voice.sounds, length),
        *stress_on(voice.beats, length),
        held(voice.events, length),
        held(voice.manners, length),
        held((*voice.departures, *voice.missing), length),
        held([Cell(one.first, one.stop, one.mouth) for one in voice.mouths], length),
        strict=True,
    )
    known: dict[tuple[int, ...], VoiceRow] = {}
    found = []
    for parts in columns:
        key = tuple(map(id, parts))
        if key not in known:
            known[key] = VoiceRow(voice.character, *parts)
        found.append(known[key])
    return found


def held(cells: Iterable[Cell], length: int) -> list[Held | None]:
    """What is held on each frame: what began last, texts that began at once joined; what it covers goes on after it."""
    found: list[Held | None] = [None] * length
    for (first, starts), group in groupby(sorted(cells, key=begun), key=begun):
        some = list(group)
        edges = sorted({first, *(min(cell.stop, length) for cell in some)})
        for start, stop in pairwise(edges):
            text = JOINT.join(cell.text for cell in some if cell.stop > start)
            found[start:stop] = [Held(text, starts=False)] * (stop - start)
        if starts:
            found[first] = Held(JOINT.join(cell.text for cell in some), starts=True)
    return found


def begun(cell: Cell) -> tuple[int, bool]:
    """When a text began; one that began before the first frame that is seen of it, before those that start there."""
    return cell.first, not cell.before


def stress_on(beats: Iterable[Beat], length: int) -> tuple[list[Held | None], list[Tone | None], list[bool]]:
    """Stress, tone and main of the syllable on each frame."""
    stress: list[Held | None] = [None] * length
    tones: list[Tone | None] = [None] * length
    mains = [False] * length
    for beat in sorted(beats, key=lambda beat: beat.first):
        count = beat.stop - beat.first
        stress[beat.first : beat.stop] = [Held(DEGREES[beat.degree], starts=False)] * count
        tones[beat.first : beat.stop], mains[beat.first : beat.stop] = [None] * count, [False] * count
        if not beat.before:
            stress[beat.first] = Held(DEGREES[beat.degree], starts=True)
            tones[beat.first], mains[beat.first] = beat.tone, beat.main
    return stress, tones, mains
