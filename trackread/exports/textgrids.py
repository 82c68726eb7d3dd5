"""A shot's sheet as a TextGrid, the label file that Praat reads: for each character tiers of words, sounds and beats.

Times are those of the frames' first edges, in seconds from the shot's first frame, as near as a double holds them.
Beats are points, where a syllable starts, labelled with how strongly the voice leans on it. Where two texts would
overlap, one ends where the later one starts; frames without a text are intervals without a label.
"""

from collections.abc import Iterable, Iterator

from praatio.utilities.constants import INTERVAL_TIER, POINT_TIER, TextgridFormats
from praatio.utilities.textgrid_io import getTextgridAsStr

from trackread.core.rows import Held, voice_rows
from trackread.core.sheet import Sheet, Voice
from trackread.core.timebase import FrameRate
from trackread.exports.runs import runs_of
from trackread.exports.shot import ExportedShot

Interval = tuple[float, float, str]
Point = tuple[float, str]
Tier = tuple[str, str, list[Interval] | list[Point]]


def textgrid_of_shot(shot: ExportedShot) -> bytes:
    """The file's bytes, in Praat's long text format and UTF-8."""
    sheet = shot.sheet
    ends = {"xmin": 0.0, "xmax": seconds(sheet.length, sheet.rate)}
    tiers = [
        {"class": kind, "name": name, "entries": labels, **ends}
        for voice in sheet.voices
        for kind, name, labels in tiers_of(voice, sheet)
    ]
    grid = {**ends, "tiers": tiers}
    return str(getTextgridAsStr(grid, TextgridFormats.LONG_TEXTGRID, includeBlankSpaces=True)).encode()


def tiers_of(voice: Voice, sheet: Sheet) -> Iterator[Tier]:
    """The tiers of a voice: the kind of each, its name and its labels."""
    rows = voice_rows(voice, sheet.length)
    yield INTERVAL_TIER, f"{voice.character} words", intervals((row.word for row in rows), sheet)
    yield INTERVAL_TIER, f"{voice.character} sounds", intervals((row.sound for row in rows), sheet)
    beats: list[Point] = [
        (seconds(frame, sheet.rate), row.stress.text)
        for frame, row in enumerate(rows)
        if row.stress and row.stress.starts
    ]
    yield POINT_TIER, f"{voice.character} beats", beats


def intervals(column: Iterable[Held | None], sheet: Sheet) -> list[Interval]:
    """The texts of a column; one without label over all of the shot if there are none, since a tier has intervals."""
    rate = sheet.rate
    found = [(seconds(run.first, rate), seconds(run.stop, rate), run.text) for run in runs_of(column)]
    return found or [(0.0, seconds(sheet.length, rate), "")]


def seconds(frame: int, rate: FrameRate) -> float:
    """The first edge of a frame: the one place where a file asks for seconds."""
    return frame * rate.per_second.denominator / rate.per_second.numerator
