"""Voices of *The Late Tram* with the mouths that their puppets wear, from the kits of the production."""

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from trackread.core.drawing import Drawing
from trackread.core.mouth import Kit, Worn
from trackread.core.sheet import Sheet, Voice
from trackread.core.timebase import Frame
from trackread.mouths.drawing import drawing_of
from trackread.mouths.kit_file import read_kit

FOLDER = Path(__file__).parents[2] / "fixtures" / "late-tram" / "kits"
# Frames for which a mouth is worn while its puppet speaks: on twos, longer on what is drawn out.
HELD = (2, 2, 2, 2, 3, 3, 4, 5, 6)


@cache
def kits() -> tuple[Kit, ...]:
    """A badger's twelve mouths, a heron's six, a dormouse's nine."""
    return tuple(read_kit((FOLDER / f"{name}.toml").read_text(), name) for name in ("brack", "miss-pell", "tum"))


def kit_of(place: int) -> Kit:
    """The kit of the voice in that place."""
    return kits()[place % len(kits())]


def dressed(sheet: Sheet) -> Sheet:
    """A sheet on which whoever is seen wears mouths, some of them set by a person."""
    return replace(sheet, voices=tuple(dressed_voice(voice, n, sheet.length) for n, voice in enumerate(sheet.voices)))


def dressed_voice(voice: Voice, place: int, length: int) -> Voice:
    if voice.extension:
        return voice
    names = tuple(mouth.name for mouth in kit_of(place).mouths)
    return replace(voice, mouths=tuple(worn(voice, place, length)), mouth_names=names)


def worn(voice: Voice, place: int, length: int) -> Iterator[Worn]:
    """Mouths on every frame: the one at rest in pauses, and any other for a few frames at a time in speech."""
    kit, chance, at, last = kit_of(place), random.Random(place), 0, ""
    starts = sorted(word.first - 2 for word in voice.words)
    while at < length:
        if any(word.first - 2 <= at < word.stop for word in voice.words):
            last = chance.choice([mouth.name for mouth in kit.mouths if mouth.name != last])
            stop = at + chance.choice(HELD)
        elif last == kit.rest:
            last, stop = kit.mouths[1].name, at + 2
        else:
            last, stop = kit.rest, min([start for start in starts if start > at], default=length)
        yield Worn(last, Frame(at), Frame(min(stop, length)), pinned=chance.random() < 0.12)
        at = min(stop, length)


def looks_of(sheet: Sheet) -> dict[str, dict[str, Drawing]]:
    """What the mouths of a sheet's voices look like."""
    return {
        voice.character: {mouth.name: drawing_of(mouth.face) for mouth in kit_of(place).mouths}
        for place, voice in enumerate(sheet.voices)
    }
