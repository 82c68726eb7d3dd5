"""Shots of *The Late Tram*: parts of takes, several characters, a board, what happens, and the camera's positions."""

import re
from dataclasses import replace
from itertools import count, cycle, takewhile

from tests.sheets.boards import boards
from tests.sheets.voices import CROWD, HEADING, a_voice, acted_brack, acted_pell, two_voices
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Phrase, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate

WIDE_BOARD, TALL_BOARD = boards()
ABOUT = "The tram stands at the terminus in the rain. BRACK will not open the doors before MISS PELL has sat down."
LONG_ABOUT = f"{ABOUT} TUM, who has no ticket, hides under the bench, and everyone talks at once. " * 3

# What each says again and again, how it is said, how many frames a letter takes, and the frames before and between.
SAID: dict[str, tuple[str, str, float, int, int]] = {
    "BRACK": ("Mind the step, please! Extraordinarily wet tonight. Nobody leaves this tram.", "shouted", 1.5, 3, 14),
    "MISS PELL": ("I never miss a step. Unquestionably the incomprehensible timetable again!", "", 1.3, 11, 22),
    "TUM": ("I had a ticket, I had it at Rookery Bridge.", "whispered", 1.8, 0, 9),
    "CONDUCTOR": ("All tickets, all tickets, everybody's tickets!", "", 1.2, 20, 6),
    "STATIONMASTER": ("This is an uncharacteristically disorganised terminus.", "", 1.6, 31, 40),
    "A MOLE": ("Are we there? Oh, are we there?", "whispered", 2.2, 7, 12),
}
VOWELS = {"a": "aa", "e": "eh", "i": "ih", "o": "oh", "u": "uh", "y": "ee"}
TONES = (Tone.RISE, None, Tone.FALL, Tone.PEAK, Tone.LEVEL)


def crowd_shot(length: int = 600) -> Sheet:
    """Six talk over one another for 25 seconds, with notes, a long move of the camera and the board of the shot."""
    moves = tuple(Cell(Frame(at), Frame(at + 1), f"pan {12.5 + at / 8:.2f}") for at in range(96, 240))
    actions = ("pulls the bell", "leans out of the cab and looks back along the tram", "stamps", "the lamp goes out")
    return Sheet(
        heading=replace(HEADING, about=ABOUT, board=WIDE_BOARD, code="TR-7K3Q-9XWD", listeners=("A LAMPLIGHTER",)),
        rate=parse_rate("24"),
        length=Frame(length),
        first_number=1,
        voices=tuple(replace(crowd_voice(name, length), extension=extension_of(name)) for name in CROWD),
        action=tuple(
            Cell(Frame(at), Frame(at + 10), text) for at, text in zip(range(4, length - 10, 55), cycle(actions))
        ),
        camera=(
            Cell(Frame(0), Frame(96), "A wide, from the kerb", before=True),
            Cell(Frame(240), Frame(length), "holds on MISS PELL", beyond=True),
        ),
        positions=moves,
        changed=((Frame(100), Frame(112)), (Frame(500), Frame(503))),
    )


def extension_of(name: str) -> str:
    """Where a voice of the crowd comes from: one is heard and not seen."""
    return "O.S." if name == "A MOLE" else ""


def crowd_voice(name: str, length: int) -> Voice:
    """One of the crowd, who says the same again and again and is cut off by the end of the shot."""
    text, manner, frames_a_letter, start, gap = SAID[name]
    lines: list[tuple[str, int, int, int, str]] = []
    spans, at = [], start
    while at < length - 2:
        begun = at
        for word in text.split():
            stop = min(at + max(2, int(len(word) * frames_a_letter)), length)
            if stop - at > 1:
                degree = 2 if len(word) > 6 else len(word) % 2
                lines.append((word, at, stop, degree, sounds_in(word, at, stop)))
            at = stop
        spans.append((begun, at))
        at += gap
    voice = a_voice(name, tuple(lines), length)
    return replace(
        voice,
        beats=beats_on(lines),
        phrases=tuple(Phrase(Frame(first), Frame(stop), Tone.FALL) for first, stop in spans),
        manners=tuple(Cell(Frame(first), Frame(stop), manner) for first, stop in spans if manner),
        words=(*voice.words[:-1], replace(voice.words[-1], beyond=voice.words[-1].stop == length)),
    )


def sounds_in(word: str, first: int, stop: int) -> str:
    """A rough respelling of a word, its sounds spread over its frames."""
    sounds = re.findall("th|sh|ch|ck|[a-z]", word.lower())
    places = takewhile(lambda at: at < stop, (first + (stop - first) * number // len(sounds) for number in count()))
    return " ".join(f"{at}:{VOWELS.get(sound, sound)}" for at, sound in zip(places, sounds, strict=False))


def beats_on(lines: list[tuple[str, int, int, int, str]]) -> tuple[Beat, ...]:
    """A beat on each word, with turns in turn; long words are main beats."""
    return tuple(
        Beat(Frame(first), Frame(stop), degree, tone, main=len(word) > 9)
        for (word, first, stop, degree, _), tone in zip(lines, cycle(TONES))
    )


def part_of_a_take() -> Sheet:
    """From the middle of a word of BRACK to the middle of one of MISS PELL, who is heard from elsewhere."""
    brack = a_voice(
        "BRACK", (("Mind", 0, 4, 2, "0:eye 2:nd"), ("the", 4, 6, 0, "4:th"), ("step!", 6, 14, 2, "6:st")), 40
    )
    pell = a_voice("MISS PELL", (("Never", 20, 30, 2, "20:n 25:er"), ("ever", 30, 40, 1, "30:eh 36:v")), 40)
    return Sheet(
        heading=replace(HEADING, about=ABOUT, board=TALL_BOARD),
        rate=parse_rate("24"),
        length=Frame(40),
        first_number=1,
        voices=(begun_before(brack), replace(going_on(pell), extension="O.S.")),
        action=(Cell(Frame(0), Frame(8), "still pulls the bell", before=True),),
        camera=(Cell(Frame(0), Frame(40), "A wide", before=True, beyond=True),),
    )


def begun_before(voice: Voice) -> Voice:
    """The voice with what starts on the first frame begun before it."""
    beat = replace(voice.beats[0], main=True, tone=Tone.RISE, before=True)
    return replace(
        voice,
        words=(replace(voice.words[0], before=True), *voice.words[1:]),
        sounds=(replace(voice.sounds[0], before=True), *voice.sounds[1:]),
        beats=(beat, *voice.beats[1:]),
    )


def going_on(voice: Voice) -> Voice:
    """The voice with its last word and sound going on after the last frame."""
    return replace(
        voice,
        words=(*voice.words[:-1], replace(voice.words[-1], beyond=True)),
        sounds=(*voice.sounds[:-1], replace(voice.sounds[-1], beyond=True)),
    )


def moving_camera(**changes: object) -> Sheet:
    """Two voices beside a move on two axes, with a position on every frame, and a long text of what happens."""
    moves = tuple(
        Cell(Frame(at), Frame(at + 1), f"pan {-8.25 + at * 0.75:.2f}, tilt {3.1 - at / 7:.2f}") for at in range(96)
    )
    sheet = two_voices(
        heading=replace(HEADING, about=LONG_ABOUT, board=WIDE_BOARD, warning=""),
        voices=(acted_brack(), acted_pell()),
        length=Frame(96),
        camera=(),
        positions=moves,
    )
    return replace(sheet, **changes)


SHOTS: dict[str, tuple[Sheet, str, int, str]] = {
    "shot-six": (crowd_shot(), "A4", 48, "footage35"),
    "shot-part": (part_of_a_take(), "A4", 48, "footage35"),
    "shot-part-24-rows": (part_of_a_take(), "A4", 24, "none"),
    "shot-moving": (moving_camera(), "A4", 48, "footage35"),
    "shot-moving-letter": (moving_camera(), "Letter", 48, "timecode"),
}
