"""Timelines of OpenTimelineIO (`.otio`) as events, with what is nested in them laid flat.

Items follow one another as opentimelineio lays them out: a clip at another speed takes the time of its source range.
A transition begins `in_offset` before the cut it is on, which is where the clip that comes in is first seen. Of a piece
nested in a picture track only the pictures are taken, of one in a sound track only the sounds.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from fractions import Fraction

import opentimelineio as otio

from trackread.core.cut import Place, Remark
from trackread.core.timebase import frame_at
from trackread.cutting.events import Listed, Terms
from trackread.cutting.otio_clips import Track, event_of
from trackread.cutting.otio_spans import NOTHING, Span, View, duration_of, first_second, laid_out, warp_of
from trackread.cutting.otio_times import exact_rate, exact_seconds
from trackread.cutting.spelling import counted
from trackread.errors import CutError

DEEPEST = 40  # pieces within pieces
PICTURE, SOUND = otio.schema.TrackKind.Video, otio.schema.TrackKind.Audio
# What opentimelineio raises for text that is no timeline of a version it knows.
UNREADABLE = (ValueError, TypeError, LookupError, RuntimeError, otio.exceptions.OTIOError)


def read_timeline(text: str, file: str, terms: Terms) -> Listed:
    """The events of a timeline, with every problem of it. Raises CutError if the text is none."""
    try:
        root = otio.core.deserialize_json_from_string(text)
    except UNREADABLE as error:
        raise CutError(f"{file}: cannot be read as OpenTimelineIO: {error}") from error
    timelines = [root, *(root if isinstance(root, otio.schema.SerializableCollection) else [])]
    timelines = [one for one in timelines if isinstance(one, otio.schema.Timeline)]
    if len(timelines) != 1:
        raise CutError(f"{file}: holds {len(timelines)} timelines: export one")
    listed = Listed(file, terms.rate, title=timelines[0].name, clocked=timelines[0].global_start_time is not None)
    flat = Flattening(listed)
    stack = timelines[0].tracks
    if stack is None:
        raise CutError(f"{file}: its timeline has no tracks: export it again")
    with flat.problems_at("the timeline"):
        flat.stack(stack, Nest(View(start=first_second(stack))))
        flat.start_at(timelines[0])
    return listed


@dataclass(frozen=True, slots=True)
class Nest:
    """Where something is nested: how its time is seen, in a track of which kind, how deep, and that in words."""

    view: View
    kind: str = ""
    depth: int = 0
    path: str = ""


@dataclass
class Flattening:
    """A timeline while it is laid flat; `layer` counts its picture tracks, the lowest first, `sounds` the others."""

    listed: Listed
    layer: int = 0
    sounds: int = 0
    track_names: set[str] = field(default_factory=set)

    @contextmanager
    def problems_at(self, item: str) -> Iterator[None]:
        """What is wrong within is wrong with an item."""
        try:
            yield
        except CutError as error:
            self.listed.problems.append(Remark(self.place(item), str(error)))

    def place(self, item: str) -> Place:
        return Place(self.listed.file, item=item)

    def stack(self, stack: otio.schema.Stack, nest: Nest) -> None:
        """Lays a stack flat: all that is in it begins where it does."""
        if nest.depth > DEEPEST:
            raise CutError(f"pieces lie in pieces more than {DEEPEST} deep: flatten the timeline before exporting it")
        for number, child in enumerate(stack, 1):
            kind = child.kind if isinstance(child, otio.schema.Track) else nest.kind
            where = f"{nest.path}{kind.lower() or 'item'} track {number}"
            if kind not in (PICTURE, SOUND) or nest.kind not in ("", kind):
                told = f"this is {kind or 'no track'} in a {nest.kind or 'timeline'}: left aside"
                self.listed.remarks.append(Remark(self.place(where), told))
            elif not child.enabled:
                self.listed.remarks.append(Remark(self.place(where), "is switched off: left aside"))
            else:
                with self.problems_at(where):
                    self.child_of_stack(child, Nest(nest.view, kind, nest.depth + 1, f"{where}, "))

    def child_of_stack(self, child: otio.core.Item, nest: Nest) -> None:
        span = Span(child, 1, NOTHING, duration_of(child), NOTHING)
        if isinstance(child, otio.schema.Track):
            self.track(child, replace(nest, view=nest.view.into(span, first_second(child), speed_of(child))))
        else:
            self.item(span, nest, self.next_track("", nest))

    def track(self, track: otio.schema.Track, nest: Nest) -> None:
        """Lays a track flat."""
        on = self.next_track(track.name, nest)
        for span in laid_out(track):
            self.item(span, nest, on)

    def next_track(self, name: str, nest: Nest) -> Track:
        if nest.kind == PICTURE:
            self.layer += 1
            return Track(name, picture=True, layer=self.layer)
        self.sounds += 1
        # Two tracks of one name are two: what is on them may overlap.
        name = name if name and name not in self.track_names else f"{name or 'A'}{self.sounds}"
        self.track_names.add(name)
        return Track(name, picture=False, layer=0)

    def item(self, span: Span, nest: Nest, track: Track) -> None:
        """Takes one item of a track, or what lies nested in it."""
        item = span.item
        where = f"{nest.path}item {span.number}{f' ({item.name!r})' if item and item.name else ''}"
        with self.problems_at(where):
            if item is not None and not item.enabled:
                self.listed.remarks.append(Remark(self.place(where), "is switched off: left aside"))
            elif isinstance(item, otio.core.Composition):
                self.nested(item, span, replace(nest, depth=nest.depth + 1, path=f"{where}, "))
            elif span.fade or isinstance(item, otio.schema.Clip):
                event = event_of(span, nest.view, track, self.place(where), self.listed)
                self.listed.events += [event] if event else []

    def nested(self, item: otio.core.Composition, span: Span, nest: Nest) -> None:
        if span.fade:
            earlier = counted((span.cut - span.start) / nest.view.speed * self.listed.rate.per_second)
            told = f"a transition into a nested piece: taken as a cut {earlier} before it"
            self.listed.remarks.append(Remark(self.place(nest.path.rstrip(", ")), told))
        speed = speed_of(item)
        inner = first_second(item) + speed * (span.start - span.cut)
        nest = replace(nest, view=nest.view.into(span, inner, speed))
        if isinstance(item, otio.schema.Track):
            self.track(item, nest)
        else:
            self.stack(item, nest)

    def start_at(self, timeline: otio.schema.Timeline) -> None:
        """Counts the events from the zero of timecode, if the timeline says where it starts."""
        if timeline.global_start_time is None:
            return
        rate = exact_rate(timeline.global_start_time.rate)
        if rate != self.listed.rate.per_second:
            raise CutError(f"the timeline runs at {rate} a second: read it at its own rate, not at {self.listed.rate}")
        start = exact_seconds(timeline.global_start_time)
        first = frame_at(start.numerator, start.denominator, self.listed.rate)
        self.listed.events = [
            replace(event, start=event.start + first, stop=event.stop + first) for event in self.listed.events
        ]


def speed_of(item: otio.core.Composition) -> Fraction:
    """The speed of what is nested. Raises CutError where it is held or plays backwards."""
    speed = warp_of(item)
    if speed <= 0:
        raise CutError("this nested piece is held, or plays backwards: flatten it before exporting the timeline")
    return speed
