"""Setting a text in the room it has: condensed, squeezed or broken over lines, and cut only at the last.

Type keeps its height: at arm's length a narrow letter is read, a small one is not.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from trackread.sheets.marks import Face

# The width of a text in a face, as a multiple of its size.
Measure = Callable[[str, Face], float]

# How far letters are squeezed before a text is broken or cut, as a share of the condensed face.
NARROWEST = 0.72
SQUEEZES = (0.92, 0.84, 0.78, NARROWEST)
# Where a broken word goes on best: with a consonant, a vowel and another letter, if that is near to what has room;
# or else with enough letters that they are not read as a word.
SYLLABLE = re.compile("(?=[bcdfghjklmnpqrstvwxz][aeiouy][^\\W\\d_])", re.IGNORECASE)
NEAR = 0.65
LEAST_REST = 3
PUNCTUATION = ".,;:!?…"


@dataclass(frozen=True, slots=True)
class Setting:
    """A text as it will stand: its lines in a face, letters at `stretch` of their width; `cut` if some is missing."""

    lines: tuple[str, ...]
    face: Face
    stretch: float = 1.0
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Room:
    """Where a text may stand: `width` as a multiple of the type size, and so many `lines`."""

    width: float
    lines: int = 1


def fit(text: str, room: Room, measure: Measure, *, bold: bool = False) -> Setting:
    """`text` in the widest setting that its room allows, and never wider than the room."""
    plain = " ".join(text.split())
    for setting in _settings(plain, room, measure, bold=bold):
        if _fits(setting, room, measure):
            return setting
    return _cut(plain, room, measure, bold=bold)


def fit_whole(text: str, room: Room, measure: Measure) -> Setting | None:
    """`text` in the widest setting that breaks no word and fits; None if it has no room so."""
    plain = " ".join(text.split())
    return next((one for one in _whole_settings(plain, room, measure, bold=False) if _fits(one, room, measure)), None)


def wrap(text: str, width: float, width_of: Callable[[str], float]) -> tuple[str, ...]:
    """`text` broken at its spaces, and after its hyphens, into lines no wider than `width` where words allow it."""
    lines: list[str] = []
    for piece in text.replace("-", "-\0").replace(" ", " \0").split("\0"):
        if lines and width_of((lines[-1] + piece).rstrip()) <= width:
            lines[-1] += piece
        else:
            lines.append(piece)
    return tuple(line.rstrip() for line in lines)


def _fits(setting: Setting, room: Room, measure: Measure) -> bool:
    widest = max((measure(line, setting.face) for line in setting.lines), default=0.0)
    return len(setting.lines) <= room.lines and widest * setting.stretch <= room.width


def _settings(text: str, room: Room, measure: Measure, *, bold: bool) -> Iterator[Setting]:
    yield from _whole_settings(text, room, measure, bold=bold)
    narrow = Face.CONDENSED_BOLD if bold else Face.CONDENSED
    wide = room.width / NARROWEST
    yield Setting(_broken(text, wide, lambda line: measure(line, narrow), well=True), narrow, NARROWEST)
    yield Setting(_broken(text, wide, lambda line: measure(line, narrow)), narrow, NARROWEST)


def _whole_settings(text: str, room: Room, measure: Measure, *, bold: bool) -> Iterator[Setting]:
    """Those that break a text at its spaces only, after its hyphens if need be."""
    full = Face.BOLD if bold else Face.REGULAR
    narrow = Face.CONDENSED_BOLD if bold else Face.CONDENSED
    yield Setting((text,), full)
    yield Setting((text,), narrow)
    yield Setting(wrap(text, room.width, lambda line: measure(line, narrow)), narrow)
    for stretch in SQUEEZES:
        yield Setting((text,), narrow, stretch)
    wide = room.width / NARROWEST
    yield Setting(wrap(text, wide, lambda line: measure(line, narrow)), narrow, NARROWEST)


def _broken(text: str, width: float, width_of: Callable[[str], float], *, well: bool = False) -> tuple[str, ...]:
    """`text` broken within words as well, with a hyphen that shows it; `well` where words are best broken."""
    lines: list[str] = []
    for line in wrap(text, width, width_of):
        rest = line
        while len(rest) > 2 and width_of(rest) > width:
            kept = _longest(rest, "-", width, width_of)
            kept = _well_broken(rest, len(kept)) if well else kept
            lines.append(kept + "-")
            rest = rest[len(kept) :]
        lines.append(rest)
    return tuple(lines)


def _well_broken(word: str, most: int) -> str:
    """The beginning of a word, of `most` letters or not many less, from which it goes on best."""
    places = [found.start() for found in SYLLABLE.finditer(word, 2) if NEAR * most <= found.start() <= most]
    letters = len(word.rstrip(PUNCTUATION))
    return word[: max(places, default=min(most, max(2, letters - LEAST_REST)))]


def _cut(text: str, room: Room, measure: Measure, *, bold: bool) -> Setting:
    face = Face.CONDENSED_BOLD if bold else Face.CONDENSED
    wide = room.width / NARROWEST
    lines = _broken(text, wide, lambda part: measure(part, face))
    last = _longest(lines[min(room.lines, len(lines)) - 1], "…", wide, lambda part: measure(part, face)) + "…"
    # A letter may be too much: one row of a word that runs down the page.
    last = last if measure(last, face) <= wide else "…"
    return Setting((*lines[: room.lines - 1], last), face, NARROWEST, cut=True)


def _longest(text: str, tail: str, width: float, width_of: Callable[[str], float]) -> str:
    """The longest beginning of `text`, a letter at the least, that has room for `tail` behind it."""
    count = len(text) - 1
    while count > 1 and width_of(text[:count] + tail) > width:
        count -= 1
    return text[:count]
