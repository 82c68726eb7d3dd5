"""A clip of a timeline as an event."""

from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import PurePosixPath, PureWindowsPath
from urllib.parse import unquote, urlsplit

import opentimelineio as otio

from trackread.core.cut import Handles, Place, Remark, Source
from trackread.core.timebase import Frame, FrameRate, frame_at, frames_covering
from trackread.cutting.events import Event, Listed
from trackread.cutting.otio_spans import Span, View, available_range_of, duration_of, first_second, warp_of
from trackread.cutting.otio_times import exact_rate, exact_seconds
from trackread.errors import CutError

BLACK = "black"  # a kind of generator
SAMPLE_RATES = 1000  # what counts so many a second counts samples


@dataclass(frozen=True, slots=True)
class Track:
    """The track that an item is on, as far as its events are concerned."""

    name: str
    picture: bool
    layer: int


def event_of(span: Span, view: View, track: Track, place: Place, listed: Listed) -> Event | None:
    """The event of a clip, a gap or black; None with a remark if the timeline shows nothing of it.

    Frames count from the zero of the timeline. Raises CutError for times that no cut can have.
    """
    clip = span.item if isinstance(span.item, otio.schema.Clip) else None
    outer = view.outer(span.start), view.outer(span.stop)
    seen = view.within(*outer)
    if seen[0] >= seen[1]:
        if clip:
            listed.remarks.append(Remark(place, "lies outside of what is used, or lasts nothing: left aside"))
        return None
    start, stop = frames_of(seen, track, place, listed)
    fade = span.fade / view.speed if seen[0] == outer[0] else Fraction(0)
    if fade > seen[1] - seen[0]:
        raise CutError("the transition into it is longer than it is itself")
    event = Event(
        place=place,
        start=start,
        stop=stop,
        source=None,
        picture=track.picture,
        tracks=() if track.picture else (track.name,),
        fade=frames_covering(fade.numerator, fade.denominator, listed.rate),
        layer=track.layer,
        black=clip is None or is_black(clip),
    )
    return event if clip is None or event.black else with_media(event, clip, span, view, listed)


def with_media(event: Event, clip: otio.schema.Clip, span: Span, view: View, listed: Listed) -> Event:
    """The event with what its clip shows, and remarks for what is odd about it."""
    warp = warp_of(clip)
    speed = warp * view.speed
    # Counted back to the edge of the frame, in which the sound perhaps begins.
    since = Fraction(event.start) / listed.rate.per_second - view.outer(span.start)
    first = begin_of(clip) + warp * (span.start - span.cut) + speed * since
    length = (event.stop - event.start) / listed.rate.per_second
    tell_clip(clip, speed, event, listed)
    return replace(
        event, source=source_of(clip, first), speed=speed, handles=handles_of(clip, first, speed, length, listed.rate)
    )


def frames_of(seen: tuple[Fraction, Fraction], track: Track, place: Place, listed: Listed) -> tuple[Frame, Frame]:
    """The frames of a stretch of the timeline: whole ones, of which a sound may leave parts."""
    start = frame_at(seen[0].numerator, seen[0].denominator, listed.rate)
    stop = frames_covering(seen[1].numerator, seen[1].denominator, listed.rate)
    if (Fraction(start), Fraction(stop)) != (seen[0] * listed.rate.per_second, seen[1] * listed.rate.per_second):
        if track.picture:
            raise CutError(f"starts or stops between two frames: its times are not whole at {listed.rate}")
        listed.remarks.append(Remark(place, f"sounds on parts of frames: taken for all of {start} to {stop}"))
    return start, stop


def begin_of(clip: otio.schema.Clip) -> Fraction:
    """The second of a clip's media that is seen first: backwards, the last of its range."""
    warp = warp_of(clip)
    return first_second(clip) + (duration_of(clip) * -warp if warp < 0 else 0)


def is_black(clip: otio.schema.Clip) -> bool:
    reference = clip.media_reference
    return isinstance(reference, otio.schema.GeneratorReference) and reference.generator_kind.casefold() == BLACK


def source_of(clip: otio.schema.Clip, first: Fraction) -> Source:
    available = available_range_of(clip)
    return Source(
        start=first,
        clip=clip.name,
        file=file_of(clip.media_reference),
        file_start=exact_seconds(available.start_time) if available is not None else None,
    )


def file_of(reference: otio.core.MediaReference | None) -> str:
    """The name of the file that media lie in, without its folders; "" where none is said."""
    if isinstance(reference, otio.schema.ImageSequenceReference):
        url = f"{reference.name_prefix.rstrip('._')}{reference.name_suffix}"
    else:
        url = getattr(reference, "target_url", "") or ""
    # A path that is no address may have # and ? in its names.
    path = unquote(urlsplit(url).path) if "://" in url else unquote(url)
    return PureWindowsPath(path).name if "\\" in path else PurePosixPath(path).name


def handles_of(
    clip: otio.schema.Clip, first: Fraction, speed: Fraction, length: Fraction, rate: FrameRate
) -> Handles | None:
    """The whole frames that the media have before and after what is seen of them, None where that is not said."""
    available = available_range_of(clip)
    if available is None or speed <= 0:
        return None
    opens = exact_seconds(available.start_time)
    head = (first - opens) / speed
    tail = (opens + exact_seconds(available.duration) - first) / speed - length
    if head < 0 or tail < 0:
        return None
    return Handles(frame_at(head.numerator, head.denominator, rate), frame_at(tail.numerator, tail.denominator, rate))


def tell_clip(clip: otio.schema.Clip, speed: Fraction, event: Event, listed: Listed) -> None:
    """Remarks for what is odd about a clip: its rate, its being played backwards."""
    told = []
    if clip.source_range is not None:
        rate = exact_rate(clip.source_range.duration.rate)
        if rate != listed.rate.per_second and (event.picture or rate < SAMPLE_RATES):
            told.append(f"is counted at {rate} a second where the cut runs at {listed.rate.per_second}")
    if speed < 0:
        told.append("plays backwards: taken to begin at the end of its source range")
    listed.remarks += [Remark(event.place, one) for one in told]
