"""A film's sheets as one JSON document (RFC 8259): a line for each shot, spans and texts as they are on the sheets.

`rate` is as `parse_rate` reads it, `start` what timecode counts for frame 0 of the cut, and the `first` of a shot a
frame of the cut. Every other `first` and `stop` is a frame of its shot; all count from 0 and `stop` is not included.
Only `first_number` says what the sheet prints for frame 0. What began `before` the shot or goes on `beyond` it is cut
off at its ends. Spans of one kind may overlap, as two lines of one character do. A beat's `degree` is 0 weak, 1 half
stressed, 2 strong, and `pitch` how it turns there; `missing` are words that the script has and nobody says. `mouths`
are what the puppet wears, `pinned` what a person set.
"""

import json
from collections.abc import Iterable
from typing import TypedDict

from trackread.core.mouth import Worn
from trackread.core.sheet import Beat, Cell, PlacedLine, Sheet, Voice
from trackread.exports.shot import ExportedShot, Film


class PlainText(TypedDict):
    first: int
    stop: int
    text: str
    before: bool
    beyond: bool


class PlainBeat(TypedDict):
    first: int
    stop: int
    degree: int
    pitch: str | None
    main: bool
    before: bool


class PlainMouth(TypedDict):
    mouth: str
    first: int
    stop: int
    pinned: bool


class PlainLine(TypedDict):
    line: str
    take: str
    character: str
    extension: str
    text: str
    first: int
    stop: int


class PlainVoice(TypedDict):
    character: str
    extension: str
    words: list[PlainText]
    sounds: list[PlainText]
    beats: list[PlainBeat]
    events: list[PlainText]
    manners: list[PlainText]
    departures: list[PlainText]
    missing: list[PlainText]
    mouths: list[PlainMouth]


class PlainShot(TypedDict):
    name: str
    scene: str
    first: int
    length: int
    first_number: int
    lines: list[PlainLine]
    voices: list[PlainVoice]
    action: list[PlainText]
    camera: list[PlainText]


def json_of(film: Film) -> bytes:
    """The document's bytes, in UTF-8."""
    head = written({"title": film.title, "rate": str(film.rate), "start": film.start})
    shots = ",\n".join(written(plain_shot(shot)) for shot in film.shots)
    return f'{head.removesuffix("}")}, "shots": [\n{shots}\n]}}\n'.encode()


def written(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def plain_shot(shot: ExportedShot) -> PlainShot:
    sheet: Sheet = shot.sheet
    return {
        "name": shot.name,
        "scene": shot.scene,
        "first": shot.first,
        "length": sheet.length,
        "first_number": sheet.first_number,
        "lines": [plain_line(line) for line in sheet.lines],
        "voices": [plain_voice(voice) for voice in sheet.voices],
        "action": plain_texts(sheet.action),
        "camera": plain_texts(sheet.camera),
    }


def plain_line(line: PlacedLine) -> PlainLine:
    return {
        "line": line.line,
        "take": line.take,
        "character": line.character,
        "extension": line.extension,
        "text": line.text,
        "first": line.first,
        "stop": line.stop,
    }


def plain_voice(voice: Voice) -> PlainVoice:
    return {
        "character": voice.character,
        "extension": voice.extension,
        "words": plain_texts(voice.words),
        "sounds": plain_texts(voice.sounds),
        "beats": [plain_beat(beat) for beat in voice.beats],
        "events": plain_texts(voice.events),
        "manners": plain_texts(voice.manners),
        "departures": plain_texts(voice.departures),
        "missing": plain_texts(voice.missing),
        "mouths": [plain_mouth(worn) for worn in voice.mouths],
    }


def plain_texts(cells: Iterable[Cell]) -> list[PlainText]:
    return [
        {"first": cell.first, "stop": cell.stop, "text": cell.text, "before": cell.before, "beyond": cell.beyond}
        for cell in cells
    ]


def plain_mouth(worn: Worn) -> PlainMouth:
    return {"mouth": worn.mouth, "first": worn.first, "stop": worn.stop, "pinned": worn.pinned}


def plain_beat(beat: Beat) -> PlainBeat:
    return {
        "first": beat.first,
        "stop": beat.stop,
        "degree": beat.degree,
        "pitch": beat.tone.value if beat.tone else None,
        "main": beat.main,
        "before": beat.before,
    }
