"""Makers of voices and sheets of our own production *The Late Tram*."""

import math
from dataclasses import replace

from trackread.core.performance import Tone
from trackread.core.sheet import POINTS, Beat, Cell, Heading, Phrase, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate

HEADING = Heading(
    production="THE LATE TRAM",
    scene="12",
    shot="045",
    take="12-31/4",
    unit="7",
    issue="3",
    date="25 Nov 2026",
    code="K7QM-3",
    listeners=("TUM",),
)

# Each word with its first frame and stop, its degree of stress, and its sounds as "first:sound".
BRACK = (
    ("Mind", 4, 9, 2, "4:m 6:eye 8:n 8:d"),
    ("the", 9, 11, 0, "9:th 10:uh"),
    ("step,", 11, 18, 1, "11:s 13:t 14:eh 17:p"),
    ("please!", 21, 31, 2, "21:p 22:l 23:ee 29:z"),
    ("Extraordinarily", 50, 62, 2, "50:eh 51:k 51:s 52:t 53:r 54:aw 56:d 57:n 58:eh 59:r 60:uh 61:l 61:ee"),
    ("wet", 62, 68, 1, "62:w 63:eh 66:t"),
    ("tonight.", 68, 80, 2, "68:t 69:uh 71:n 72:eye 78:t"),
)
PELL = (
    ("I", 29, 33, 1, "29:eye"),
    ("never", 33, 38, 2, "33:n 34:eh 36:v 37:er"),
    ("miss", 38, 42, 0, "38:m 39:ih 40:s"),
    ("a", 42, 43, 0, "42:uh"),
    ("step", 43, 52, 1, "43:s 43:t 45:eh 47:p"),
)

# A performance. The script has "Mind the very wet step, please! No tickets? Sit down slowly."
ACTED_BRACK = (
    ("Mind", 10, 15, 2, "10:m 11:eye 14:nd"),
    ("the", 15, 17, 0, "15:th 16:uh"),
    ("wet", 17, 22, 1, "17:w 18:eh 21:t"),
    ("step,", 22, 29, 2, "22:s 23:t 24:eh 28:p"),
    ("please!", 29, 37, 1, "29:p 30:l 31:ee 36:z"),
    ("No", 52, 56, 1, "52:n 53:oh"),
    ("no", 56, 60, 1, "56:n 57:oh"),
    ("tickets?", 60, 72, 2, "60:t 61:ih 63:k 65:ih 67:t 69:s"),
    ("Well,", 78, 82, 1, "78:w 79:eh 81:l"),
    ("sit", 82, 85, 1, "82:s 83:ih 84:t"),
    ("sit", 85, 89, 2, "85:s 86:ih 88:t"),
    ("down", 89, 91, 0, "89:d 90:ow"),
    ("quietly.", 91, 96, 1, "91:kw 92:eye 94:tl 95:ee"),
)
ACTED_PELL = (
    ("I", 38, 40, 1, "38:eye"),
    ("never", 40, 46, 2, "40:n 41:eh 43:v 44:er"),
    ("miss", 46, 49, 0, "46:m 47:ih 48:s"),
    ("a", 49, 50, 0, "49:uh"),
    ("step", 50, 57, 1, "50:st 52:eh 55:p"),
)


def a_voice(character: str, lines: tuple[tuple[str, int, int, int, str], ...], length: int, **changes: object) -> Voice:
    """A voice from lines as above, loud where it speaks and gliding down through each word."""
    words, sounds, beats = [], [], []
    level, pitch = [0.02] * (length * POINTS), [None] * (length * POINTS)
    for text, first, stop, degree, said in lines:
        words.append(Cell(Frame(first), Frame(stop), text))
        beats.append(Beat(Frame(first), Frame(stop), degree))
        starts = [(int(part.split(":")[0]), part.split(":")[1]) for part in said.split()]
        for number, (start, sound) in enumerate(starts):
            later = [next_start for next_start, _ in starts[number:] if next_start > start]
            sounds.append(Cell(Frame(start), Frame(min([*later, stop])), sound))
        for point in range(first * POINTS, stop * POINTS):
            along = (point / POINTS - first) / (stop - first)
            level[point] = (
                (0.35 + 0.3 * degree) * math.sin(math.pi * along) ** 0.5 * (0.85 + 0.15 * math.cos(point * 2.3))
            )
            pitch[point] = 0.9 - 0.6 * along + 0.05 * degree if 0.1 < along < 0.85 else None
    voice = Voice(character, tuple(words), tuple(sounds), tuple(beats), tuple(level), tuple(pitch))
    return replace(voice, **changes)


def a_cell(first: int, stop: int, text: str) -> Cell:
    """A text on frames."""
    return Cell(Frame(first), Frame(stop), text)


def a_speaker(*words: Cell, character: str = "BRACK", **changes: object) -> Voice:
    """A voice with words and nothing else."""
    return replace(Voice(character, words, (), (), (), ()), **changes)


def two_voices(rate: str = "24", **changes: object) -> Sheet:
    """BRACK and MISS PELL over 84 frames, with notes, a breath and a change."""
    breath = (Cell(Frame(18), Frame(21), "breath in"),)
    sheet = Sheet(
        heading=HEADING,
        rate=parse_rate(rate),
        length=Frame(84),
        first_number=1,
        voices=(a_voice("BRACK", BRACK, 84, events=breath), a_voice("MISS PELL", PELL, 84)),
        action=(
            Cell(Frame(2), Frame(4), "pulls the bell"),
            Cell(Frame(20), Frame(28), "leans out of the cab and looks back along the tram"),
            Cell(Frame(28), Frame(29), "PELL looks up"),
        ),
        camera=(Cell(Frame(0), Frame(24), "A wide"), Cell(Frame(24), Frame(48), "track in")),
        changed=((Frame(31), Frame(36)),),
    )
    return replace(sheet, **changes)


def beats_of(*beats: tuple[int, int, int, Tone | None], main: tuple[int, ...]) -> tuple[Beat, ...]:
    """Beats from first frame, stop, degree and turn; those that start on a frame of `main` are main beats."""
    return tuple(Beat(Frame(first), Frame(stop), degree, tone, first in main) for first, stop, degree, tone in beats)


def acted_brack(length: int = 96) -> Voice:
    """BRACK with all that a voice can do: events, pauses, a whisper, three phrases, and a departure of each kind."""
    beats = beats_of(
        (10, 15, 2, Tone.RISE),
        (15, 17, 0, None),
        (17, 22, 1, Tone.PEAK),
        (22, 29, 2, Tone.FALL),
        (29, 37, 1, Tone.FALL),
        (52, 56, 1, Tone.LEVEL),
        (56, 60, 1, Tone.RISE),
        (60, 65, 2, Tone.RISE),
        (65, 72, 0, Tone.RISE),
        (78, 82, 1, None),
        (82, 85, 1, None),
        (85, 89, 2, None),
        (89, 91, 0, None),
        (91, 94, 1, None),
        (94, 96, 0, None),
        main=(22, 60, 85),
    )
    phrases = (
        Phrase(Frame(10), Frame(37), Tone.FALL),
        Phrase(Frame(52), Frame(72), Tone.RISE, "quick"),
        Phrase(Frame(78), Frame(96)),
    )
    pauses = ((0, 4, "10"), (37, 40, ""), (45, 52, "15"), (72, 78, "6"))
    missing = ((17, 18, 'script has "very"'),)
    departures = (
        (56, 60, "said again"),
        (78, 82, "not in script"),
        (82, 85, "broken off"),
        (91, 96, 'script: "slowly."'),
    )
    voice = a_voice("BRACK", ACTED_BRACK, length)
    return replace(
        voice,
        # A whisper has no pitch.
        pitch=(*voice.pitch[: 78 * POINTS], *[None] * ((length - 78) * POINTS)),
        beats=beats,
        phrases=phrases,
        events=(a_cell(4, 10, "breath in"), a_cell(40, 45, "laugh")),
        manners=(a_cell(78, 96, "whispered"),),
        pauses=tuple(a_cell(*pause) for pause in pauses),
        departures=tuple(a_cell(*departure) for departure in departures),
        missing=tuple(a_cell(*cell) for cell in missing),
    )


def acted_pell(length: int = 96) -> Voice:
    """MISS PELL, who answers him in one phrase between two long pauses."""
    beats = beats_of(
        (38, 40, 1, Tone.LEVEL),
        (40, 43, 2, Tone.PEAK),
        (43, 46, 0, None),
        (46, 49, 0, None),
        (49, 50, 0, None),
        (50, 57, 1, Tone.FALL),
        main=(40,),
    )
    return a_voice(
        "MISS PELL",
        ACTED_PELL,
        length,
        beats=beats,
        phrases=(Phrase(Frame(38), Frame(57), Tone.FALL, "slow"),),
        pauses=(a_cell(0, 38, "38"), a_cell(57, length, str(length - 57))),
    )


def acted(*voices: Voice, **changes: object) -> Sheet:
    """The performance of these voices, or of BRACK and MISS PELL."""
    speaking = voices or (acted_brack(), acted_pell())
    return two_voices(voices=speaking, length=Frame(96), camera=(), **changes)


def acted_crowd(count: int) -> Sheet:
    """So many who all do at once what BRACK and MISS PELL do."""
    makers = (acted_brack, acted_pell)
    return acted(*(replace(makers[n % 2](), character=CROWD[n]) for n in range(count)))


def shifted(lines: tuple[tuple[str, int, int, int, str], ...], by: int) -> tuple[tuple[str, int, int, int, str], ...]:
    """Lines some frames later."""
    return tuple(
        (text, first + by, stop + by, degree, " ".join(_later(part, by) for part in said.split()))
        for text, first, stop, degree, said in lines
    )


def _later(part: str, by: int) -> str:
    start, sound = part.split(":")
    return f"{int(start) + by}:{sound}"


def many_voices(names: tuple[str, ...], **changes: object) -> Sheet:
    """A crowd that speaks all at once, each a little after the one before."""
    lines = (BRACK[:4], PELL)
    voices = tuple(a_voice(name, shifted(lines[n % 2], n), 84) for n, name in enumerate(names))
    return two_voices(voices=voices, **changes)


CROWD = ("BRACK", "MISS PELL", "TUM", "CONDUCTOR", "STATIONMASTER", "A MOLE")


def crowded_in_turn() -> Sheet:
    """Six voices of which two speak."""
    two = two_voices()
    return replace(two, voices=(*two.voices, *(a_voice(name, (), 84) for name in CROWD[2:])))


def warned() -> Sheet:
    """A sheet that must not be shot from."""
    warning = "STAND-IN VOICE: not to be shot from. Ask the cutting room."
    return two_voices(heading=replace(HEADING, warning=warning))
