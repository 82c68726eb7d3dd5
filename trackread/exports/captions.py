"""Captions as WebVTT (W3C): a cue for each line that is heard, or for the part of it in a shot, with who says it.

A time is the millisecond nearest to the edge of a frame, so that the nearest edge to it is that frame again; at 24
frames a second one rounded down lies on the frame before for a third of all frames.
"""

from collections.abc import Iterable
from html import escape

from trackread.core.sheet import PlacedLine
from trackread.core.timebase import FrameRate, resampled
from trackread.exports.shot import ExportedShot, Film

HEAD = "WEBVTT\n"
MILLISECONDS = 1000


def captions_of_film(film: Film) -> bytes:
    """The lines of all shots, from frame 0 of the cut on."""
    placed = [(shot.first, line) for shot in film.shots for line in shot.sheet.lines]
    return captions(placed, film.rate)


def captions_of_shot(shot: ExportedShot) -> bytes:
    """The lines of a shot, from its first frame on."""
    return captions([(0, line) for line in shot.sheet.lines], shot.sheet.rate)


def captions(placed: Iterable[tuple[int, PlacedLine]], rate: FrameRate) -> bytes:
    """A cue for each line, whose frames count from the frame beside it, in the order in which they start."""
    # WebVTT, "WebVTT timestamp": no cue starts before one that stands above it.
    cues = sorted((zero + line.first, zero + line.stop, voiced(line)) for zero, line in placed)
    blocks = (f"\n{stamp(first, rate)} --> {stamp(stop, rate)}\n{text}\n" for first, stop, text in cues)
    return (HEAD + "".join(blocks)).encode()


def voiced(line: PlacedLine) -> str:
    """The text of a line in the voice of its character, on one row: an empty one would end the cue."""
    return f"<v {one_row(line.character)}>{one_row(line.text)}</v>"


def one_row(text: str) -> str:
    return escape(" ".join(text.split()), quote=False)


def stamp(frame: int, rate: FrameRate) -> str:
    """The time of the first edge of a frame, to the nearest millisecond."""
    exact = rate.per_second
    # A frame of 24000/1001 a second is 1001 parts of 1/24000 of a second.
    nearest = resampled(frame * exact.denominator, exact.numerator, MILLISECONDS)
    seconds, thousandths = divmod(nearest, MILLISECONDS)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}.{thousandths:03}"
