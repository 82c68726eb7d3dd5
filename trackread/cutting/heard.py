"""The sounds of one shot in two cuts compared.

Frames are those of the shot before, counted by its picture: below 0 lies what it has gained at its head. A sound is
itself as the same recording, over the part of it that both cuts play. Tracks are the editor's business and no sheet
depends on them: a sound that only changes its track is no difference.
"""

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from trackread.core.cut import Piece, Placement, Shot, Source
from trackread.core.cut_change import Difference, DifferenceKind
from trackread.core.timebase import Frame, FrameRate


@dataclass(frozen=True, slots=True)
class Window:
    """A shot and what is heard in it; `head` is the frame, of the shot before, with which it begins."""

    shot: Shot
    head: Frame
    pieces: tuple[Piece, ...]
    rate: FrameRate

    @property
    def frames(self) -> range:
        return range(self.head, self.head + self.shot.seen)

    def heard(self) -> list["Heard"]:
        """What is heard in the shot, with what of it lies outside."""
        offset = self.head - self.shot.first
        return [
            Heard(one.placement, range(one.placement.at + offset, one.placement.heard_stop + offset), self.rate)
            for one in self.pieces
        ]


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """A sound and the frames on which it is heard."""

    placement: Placement
    frames: range
    rate: FrameRate

    @property
    def speed(self) -> Fraction:
        return self.placement.speed

    @property
    def what(self) -> Hashable:
        """All that makes it the sound that it is, on the frames that it is on."""
        one = self.placement
        return self.frames, one.speed, one.sound, one.start, one.source

    def second(self, frame: int, *, of_sound: bool) -> Fraction:
        """The second of the recording, or of its timecode, that is heard as a frame begins."""
        if of_sound and self.placement.sound and self.placement.start is not None:
            first = self.placement.start / self.placement.sound.sample_rate
        else:
            first = self.placement.source.start - (self.placement.source.file_start or 0)
        return first + self.speed * (frame - self.frames.start) / self.rate.per_second


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
        return gap * self.before.rate.per_second / self.before.speed

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
    was, now = unlike(before.heard(), after.heard())
    pairs = pairs_of(was, now)
    paired = {one for pair in pairs for one in (pair.before, pair.after)}
    found = [one for pair in pairs for one in pair_differences(pair)]
    gone, new = ([one for one in each if one not in paired] for each in (was, now))
    found += [Found(DifferenceKind.SOUND_GONE, Fraction(0), one.frames, before=one) for one in gone]
    found += [Found(DifferenceKind.SOUND_NEW, Fraction(0), one.frames, after=one) for one in new]
    within = [one for one in found if touches(one.region, before) or touches(one.region, after)]
    for one in sorted(within, key=lambda each: each.region.start):
        sounds = (each.placement if each else None for each in (one.before, one.after))
        yield Difference(one.kind, one.frames, Frame(max(0, one.region.start)), *sounds)


def unlike(before: Iterable[Heard], after: Iterable[Heard]) -> tuple[list[Heard], list[Heard]]:
    """The sounds of both without those that are the same on the same frames, as most are."""
    same: dict[Hashable, list[Heard]] = {}
    for now in after:
        same.setdefault(now.what, []).append(now)
    gone = [was for was in before if not (alike := same.get(was.what)) or not alike.pop()]
    return gone, [now for alike in same.values() for now in alike]


def pairs_of(before: Iterable[Heard], after: Iterable[Heard]) -> list[Pair]:
    """The sounds of both cuts that are one: those that lie most alike first, each in one pair."""
    alike: dict[Hashable, list[Heard]] = {}
    for now in after:
        for name in known_as(now.placement):
            alike.setdefault(name, []).append(now)
    pairs = [pair_of(was, now) for was in before for name in known_as(was.placement) for now in alike.get(name, ())]
    possible = [pair for pair in pairs if pair and pair.shared > 0]
    chosen: list[Pair] = []
    taken: set[Heard] = set()
    for pair in sorted(possible, key=lambda pair: pair.likeness, reverse=True):
        if taken.isdisjoint((pair.before, pair.after)):
            chosen.append(pair)
            taken |= {pair.before, pair.after}
    return chosen


def pair_of(before: Heard, after: Heard) -> Pair | None:
    """The two as one sound, if they are of one recording as far as is known."""
    was, now = before.placement, after.placement
    if not are_of_one_recording(was, now):
        return None
    return Pair(before, after, of_sound=was.sound is not None and now.sound is not None)


def are_of_one_recording(one: Placement, other: Placement) -> bool:
    """Whether two play one recording: by its digest where that is known of both, else by all that their lists say."""
    if one.sound and other.sound:
        return one.sound.digest == other.sound.digest
    return names_of(one.source) == names_of(other.source)


def known_as(placement: Placement) -> tuple[Hashable, ...]:
    """What a recording may be known by: its digest, and all that its list says of it."""
    names = names_of(placement.source)
    return (names, placement.sound.digest) if placement.sound else (names,)


def names_of(source: Source) -> Hashable:
    """All that a list says of what a source is."""
    return source.reel, source.clip, source.file, source.file_start is None


def play_the_same(one: Placement, other: Placement, rate: FrameRate) -> bool:
    """Whether any part of a recording is played by both."""
    pair = pair_of(*(Heard(each, range(each.at, each.heard_stop), rate) for each in (one, other)))
    return pair is not None and pair.shared > 0


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
