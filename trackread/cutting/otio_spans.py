"""Where the items of a timeline lie in what holds them: exact seconds, transitions taken into account."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import opentimelineio as otio

from trackread.core.cut import NORMAL
from trackread.cutting.otio_times import exact_seconds, exact_speed
from trackread.errors import CutError

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Span:
    """An item from `start` to before `stop`; it comes in over `fade`. Without the transitions it would begin at `cut`.

    `item` is None behind the last of a track, if that goes out by a transition.
    """

    item: otio.core.Item | None
    number: int
    start: Fraction
    stop: Fraction
    cut: Fraction
    fade: Fraction = NOTHING


@dataclass(frozen=True, slots=True)
class View:
    """How the seconds of a piece lie on the timeline: `start` of them at `at`, `speed` of them in a second.

    Nothing is seen of it before `opens` and from `closes` on; None where there is no bound.
    """

    at: Fraction = NOTHING
    start: Fraction = NOTHING
    speed: Fraction = NORMAL
    opens: Fraction | None = None
    closes: Fraction | None = None

    def outer(self, inner: Fraction) -> Fraction:
        return self.at + (inner - self.start) / self.speed

    def within(self, start: Fraction, stop: Fraction) -> tuple[Fraction, Fraction]:
        """The part of a stretch of the timeline that is seen, perhaps none."""
        return max(start, self.opens if self.opens is not None else start), min(
            stop, self.closes if self.closes is not None else stop
        )

    def into(self, span: Span, start: Fraction, speed: Fraction) -> "View":
        """The view of what is nested in a span, whose own second `start` lies where the span does."""
        at = self.outer(span.start)
        opens, closes = self.within(at, self.outer(span.stop))
        return View(at, start, self.speed * speed, opens, closes)


def laid_out(track: otio.schema.Track) -> Iterator[Span]:
    """The items of a track, one after another."""
    children = list(track)
    position = NOTHING
    for number, child in enumerate(children, 1):
        if isinstance(child, otio.schema.Transition):
            continue
        before, after = fade_at(children, number - 2), fade_at(children, number)
        length = duration_of(child)
        yield Span(
            item=child,
            number=number,
            start=position - before[0],
            stop=position + length - after[0],
            cut=position,
            fade=sum(before, NOTHING),
        )
        position += length
    last = fade_at(children, len(children) - 1)
    if any(last):
        yield Span(None, len(children), position - last[0], position + last[1], position, sum(last, NOTHING))


def fade_at(children: list[otio.core.Composable], place: int) -> tuple[Fraction, Fraction]:
    """How long before and after its cut a transition lasts; nothing where there is none."""
    child = children[place] if 0 <= place < len(children) else None
    if not isinstance(child, otio.schema.Transition):
        return NOTHING, NOTHING
    offsets = exact_seconds(child.in_offset), exact_seconds(child.out_offset)
    if min(offsets) < 0:
        raise CutError("a transition lasts no less than nothing")
    return offsets


def duration_of(item: otio.core.Item) -> Fraction:
    """The seconds that an item takes in what holds it. Raises CutError where nothing says how many."""
    if item.source_range is not None:
        length = exact_seconds(item.source_range.duration)
    elif isinstance(item, otio.schema.Track):
        items = (child for child in item if not isinstance(child, otio.schema.Transition))
        length = sum(map(duration_of, items), NOTHING)
    elif isinstance(item, otio.core.Composition):
        length = max((duration_of(child) for child in item), default=NOTHING)
    elif (available := available_range_of(item)) is not None:
        length = exact_seconds(available.duration)
    else:
        raise CutError(f"{item.name!r} has neither a source range nor media with an available range")
    if length < 0:
        raise CutError(f"{item.name!r} lasts less than nothing")
    return length


def first_second(item: otio.core.Item) -> Fraction:
    """The second of an item's own time with which it begins."""
    if item.source_range is not None:
        return exact_seconds(item.source_range.start_time)
    available = available_range_of(item)
    return NOTHING if available is None else exact_seconds(available.start_time)


def available_range_of(item: otio.core.Item) -> otio.opentime.TimeRange | None:
    """All that the media of a clip have; None where that is not said, and for what is no clip."""
    reference = item.media_reference if isinstance(item, otio.schema.Clip) else None
    return None if reference is None else reference.available_range


def warp_of(item: otio.core.Item) -> Fraction:
    """The speed at which an item plays, 0 if it is held. Raises CutError for an effect of time that is no one speed."""
    speed = NORMAL
    for effect in item.effects:
        if isinstance(effect, otio.schema.LinearTimeWarp):
            speed *= exact_speed(effect.time_scalar)
        elif isinstance(effect, otio.schema.TimeEffect):
            raise CutError(f"{effect.name or effect.effect_name!r} is no speed that holds throughout: render it first")
    return speed
