"""A film as a timeline of OpenTimelineIO: a clip for each shot, with markers on it where words and lines start.

A clip's own time counts from 0 on the first frame of its shot, and its pictures are missing: they are still to be
shot. A word that began before the shot has `…` before it. Where a shot is seen on under the next one, a dissolve begins
with the cut. What a marker marks, and for whom, stands in its metadata under `trackread`. Rates are doubles in this
format, each the nearest to the exact rate; whether timecode is counted drop-frame is said in the timeline's metadata.
"""

from collections.abc import Iterator

import opentimelineio as otio

from trackread.core.correction import DEGREES
from trackread.core.sheet import Cell, PlacedLine, Sheet, Voice
from trackread.core.timebase import FrameRate
from trackread.exports.runs import GOES_ON
from trackread.exports.shot import ExportedShot, Film

OURS = "trackread"
WORD_COLOUR = otio.schema.MarkerColor.GREEN
LINE_COLOUR = otio.schema.MarkerColor.ORANGE


def timeline_of(film: Film) -> bytes:
    """The timeline's JSON."""
    timeline = otio.schema.Timeline(
        name=film.title,
        global_start_time=time(film.start, film.rate),
        metadata={OURS: {"rate": str(film.rate)}},
    )
    track = otio.schema.Track(name="shots", kind=otio.schema.TrackKind.Video)
    track.extend(list(items(film)))
    timeline.tracks.append(track)
    return f"{timeline.to_json_string()}\n".encode()


def items(film: Film) -> Iterator[otio.core.Composable]:
    """What stands on the track: the clips, gaps before them, and dissolves between them."""
    stop = 0
    for shot, following in zip(film.shots, (*film.shots[1:], None), strict=True):
        if shot.first > stop:
            yield otio.schema.Gap(source_range=span(0, shot.first - stop, film.rate))
        stop = min(shot.stop, following.first) if following else shot.stop
        yield clip(shot, stop - shot.first)
        if shot.stop > stop:
            yield dissolve(shot.stop - stop, film.rate)


def clip(shot: ExportedShot, length: int) -> otio.schema.Clip:
    """A shot, of which `length` frames are on the track."""
    sheet = shot.sheet
    return otio.schema.Clip(
        name=shot.name,
        media_reference=otio.schema.MissingReference(available_range=span(0, sheet.length, sheet.rate)),
        source_range=span(0, length, sheet.rate),
        markers=[*lines(sheet), *(marker for voice in sheet.voices for marker in words(voice, sheet.rate))],
        metadata={OURS: {"scene": shot.scene, "first_number": sheet.first_number}},
    )


def dissolve(length: int, rate: FrameRate) -> otio.schema.Transition:
    return otio.schema.Transition(
        transition_type=otio.schema.TransitionTypes.SMPTE_Dissolve,
        in_offset=time(0, rate),
        out_offset=time(length, rate),
    )


def lines(sheet: Sheet) -> Iterator[otio.schema.Marker]:
    for line in sheet.lines:
        told = {"kind": "line", "character": line.character, "extension": line.extension, "take": line.take}
        yield marker(line.line, line, sheet.rate, colour=LINE_COLOUR, comment=line.text, told=told)


def words(voice: Voice, rate: FrameRate) -> Iterator[otio.schema.Marker]:
    for word in voice.words:
        told = {"kind": "word", "character": voice.character, "stress": stress(word, voice)}
        name = word.text if not word.before else GOES_ON + word.text
        yield marker(name, word, rate, colour=WORD_COLOUR, comment=voice.character, told=told)


def stress(word: Cell, voice: Voice) -> str:
    """How strongly the voice leans on the strongest syllable that is on the frames of a word; nothing without one."""
    degrees = [beat.degree for beat in voice.beats if word.first <= beat.first < word.stop]
    return DEGREES[max(degrees)] if degrees else ""


def marker(
    name: str, marked: Cell | PlacedLine, rate: FrameRate, *, colour: str, comment: str, told: dict[str, str]
) -> otio.schema.Marker:
    return otio.schema.Marker(
        name=name,
        marked_range=span(marked.first, marked.stop - marked.first, rate),
        color=colour,
        metadata={OURS: told},
        comment=comment,
    )


def span(first: int, length: int, rate: FrameRate) -> otio.opentime.TimeRange:
    return otio.opentime.TimeRange(time(first, rate), time(length, rate))


def time(frame: int, rate: FrameRate) -> otio.opentime.RationalTime:
    return otio.opentime.RationalTime(frame, float(rate.per_second))
