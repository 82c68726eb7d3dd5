"""The sounds of one shot in two cuts compared.

Frames are those of the shot before, counted by its picture: below 0 lies what it has gained at its head. A sound is
itself as the same recording, over the part of it that both cuts play.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from trackread.core.cut import Cut, Placement, Shot, pieces_in
from trackread.core.cut_change import Difference, DifferenceKind
from trackread.core.timebase import Frame


@dataclass(frozen=True, slots=True)
class Window:
    """A shot of a cut; `head` is the frame, of the shot before, with which it begins."""

    cut: Cut
    shot: Shot
    head: Frame

    @property
    def frames(self) -> range:
        return range(self.head, self.head + self.shot.seen)

    def heard(self) -> list["Heard"]:
        """What is heard in the shot, with what of it lies outside."""
        offset = self.head - self.shot.first
        return [
            Heard(one.placement, range(one.placement.at + offset, one.placement.heard_stop + offset), self.cut)
            for one in pieces_in(self.cut, self.shot)
        ]


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """A sound and the frames on which it is heard."""

    placement: Placement
    frames: range
    cut: Cut

    @property
    def speed(self) -> Fraction:
        return self.placement.speed

    @property
    def rate(self) -> Fraction:
        return self.cut.rate.per_second

    def second(self, frame: int, *, of_sound: bool) -> Fraction:
        """The second of the recording, or of its timecode, that is heard as a frame begins."""
        if of_sound and self.placement.sound and self.placement.start is not None:
            first = self.placement.start / self.placement.sound.sample_rate
        else:
            first = self.placement.source.start - (self.placement.source.file_start or 0)
        return first + self.speed * (frame - self.frames.start) / self.rate


@dataclass(frozen=True, slots=True)
class Pair:
    """A sound in both cuts; `of_sound` where both know its recording."""

    before: Heard
    after: Heard
    of_sound: bool

    @property
    def shared(self) -> Fraction:
        """How many seconds of the recording both play, not above 0 if none."""
        ends = [
            sorted(one.second(frame, of_sound=self.of_sound) for frame in (one.frames.start, one.frames.stop))
            for one in (self.before, self.after)
        ]
        return min(stop for _, stop in ends) - max(start for start, _ in ends)

    @property
    def later(self) -> Fraction:
        """How many frames later each instant of the recording is heard, at the speed that it had before."""
        gap = self.before.second(0, of_sound=self.of_sound) - self.after.second(0, of_sound=self.of_sound)
        return gap * self.before.rate / self.before.speed

    @property
    def likeness(self) -> tuple[bool, bool, Fraction, int]:
        """The best of several pairs has most of this."""
        same_place = self.before.speed == self.after.speed and not self.later
        apart = abs(self.before.frames.start - self.after.frames.start)
        return same_place, self.before.frames == self.after.frames, self.shared, -apart


@dataclass(frozen=True, slots=True)
class Found:
    """A difference, on frames of which some may lie outside of the shot."""

    kind: DifferenceKind
    frames: Fraction
    region: range
    before: Heard | None = None
    after: Heard | None = None


def sound_differences(before: Window, after: Window) -> Iterator[Difference]:
    """How what is heard in a shot differs, in the order of the first frames within it."""
    was, now = before.heard(), after.heard()
    found: list[Found] = []
    for pair in pairs_of(was, now):
        found += pair_differences(pair)
        was.remove(pair.before)
        now.remove(pair.after)
    found += [Found(DifferenceKind.SOUND_GONE, Fraction(0), one.frames, before=one) for one in was]
    found += [Found(DifferenceKind.SOUND_NEW, Fraction(0), one.frames, after=one) for one in now]
    within = [one for one in found if touches(one.region, before) or touches(one.region, after)]
    for one in sorted(within, key=lambda each: each.region.start):
        sounds = (each.placement if each else None for each in (one.before, one.after))
        yield Difference(one.kind, one.frames, Frame(max(0, one.region.start)), *sounds)


def pairs_of(before: list[Heard], after: list[Heard]) -> list[Pair]:
    """The sounds of both cuts that are one: those that lie most alike first, each in one pair."""
    possible = [pair for was, now in product(before, after) if (pair := pair_of(was, now)) and pair.shared > 0]
    possible.sort(key=lambda pair: pair.likeness, reverse=True)
    pairs: list[Pair] = []
    for pair in possible:
        if all(pair.before is not other.before and pair.after is not other.after for other in pairs):
            pairs.append(pair)
    return pairs


def pair_of(before: Heard, after: Heard) -> Pair | None:
    """The two as one sound, if they are of one recording as far as is known."""
    was, now = before.placement, after.placement
    if was.sound and now.sound:
        return Pair(before, after, of_sound=True) if was.sound.digest == now.sound.digest else None
    names = [(one.file, one.clip, one.reel, one.file_start is None) for one in (was.source, now.source)]
    return Pair(before, after, of_sound=False) if names[0] == names[1] else None


def pair_differences(pair: Pair) -> Iterator[Found]:
    """How a sound that both cuts have differs."""
    was, now = pair.before.frames, pair.after.frames
    whole = range(min(was.start, now.start), max(was.stop, now.stop))
    both = (pair.before, pair.after)
    if pair.before.speed != pair.after.speed:
        yield Found(DifferenceKind.SOUND_RETIMED, Fraction(0), whole, *both)
    elif pair.later and was == now:
        later_in_recording = -pair.later * pair.before.speed
        yield Found(DifferenceKind.SOUND_SLIPPED, later_in_recording, whole, *both)
    else:
        if pair.later:
            yield Found(DifferenceKind.SOUND_MOVED, pair.later, whole, *both)
        gained = was.start - now.start + pair.later, now.stop - was.stop - pair.later
        kinds = (DifferenceKind.SOUND_HEAD, DifferenceKind.SOUND_TAIL)
        starts, stops = sorted((was.start, now.start)), sorted((was.stop, now.stop))
        for kind, frames, ends in zip(kinds, gained, (starts, stops), strict=True):
            if frames:
                yield Found(kind, frames, whole if pair.later else range(*ends), *both)


def touches(region: range, window: Window) -> bool:
    """Whether any frame of a region belongs to a shot."""
    return max(region.start, window.frames.start) < min(region.stop, window.frames.stop)
