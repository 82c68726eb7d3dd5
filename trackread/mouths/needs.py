"""What must be seen of a mouth whatever else it does: lips that close, teeth on the lip, rest in a pause.

All in whole frames of the shot, `stop` not included; a sound's edge goes to the nearest frame edge.

Lips come before rest, and a closure before teeth on the lip. Where needs are too near to one another each goes earlier
within its window, since early is seen less than late; where that is not enough, two of a kind are seen as one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from trackread.core.mouth import MouthRules, NeedKind
from trackread.core.phones import PAUSE
from trackread.core.timebase import Frame, FrameRate, frame_at, frames_covering, nearest_edge
from trackread.mouths.targets import Sound, with_pauses

SEEN: dict[str, NeedKind] = {
    **dict.fromkeys(("P", "B", "M"), "lips closed"),
    **dict.fromkeys(("F", "V"), "teeth on lip"),
}


# A sound's times are in frames already; with one frame a second `core.timebase` rounds them as it rounds all others.
IN_FRAMES = FrameRate(Fraction(1))


@dataclass(frozen=True, slots=True)
class Need:
    """Something seen from frame `first` to before `stop`; it may begin on any frame from `earliest` to `latest`."""

    kind: NeedKind
    first: Frame
    stop: Frame
    earliest: Frame
    latest: Frame

    def __post_init__(self) -> None:
        if not self.earliest <= self.first <= self.latest or self.first >= self.stop:
            raise ValueError(f"a need begins in its window and lasts for a frame at least, not {self}")


@dataclass(frozen=True, slots=True)
class Wish:
    """A need before others are thought of: best from `first` to before `stop`, and for `hold` frames in any case.

    Its sounds last from `start` to `over`; between it and another of its kind, `gap` frames show what is said between.
    """

    kind: NeedKind
    start: Fraction
    over: Fraction
    first: int
    stop: int
    earliest: int
    latest: int
    hold: int
    gap: int

    def with_later(self, later: "Wish") -> "Wish":
        """Two of a kind as one that is seen within the window of each; of two kinds, the closure alone."""
        if self.kind != later.kind:
            return self if self.kind == "lips closed" else later
        hold = max(self.hold, later.earliest - self.earliest + later.hold)
        return replace(self, over=later.over, stop=later.stop, hold=hold)

    def gap_before(self, later: "Wish") -> int:
        return self.gap if self.kind == later.kind else 0

    def soonest_after(self, soonest: int, later: "Wish") -> int:
        """Where `later` can begin, if this one begins at `soonest` at the soonest."""
        return max(later.earliest, soonest + self.hold + self.gap_before(later))


def needs_of(phones: Sequence[Sound], frames: range, rules: MouthRules) -> tuple[Need, ...]:
    """What must be seen on `frames`, in order and apart; the sounds too are in order and apart.

    Every P, B and M that is heard in the shot is seen, by itself or as one with the one before it; so is every F and V,
    unless a closure leaves it no frame. What is sounded outside the shot has no need; what goes over an end is cut off.
    Raises ValueError if the sounds are not in order.
    """
    if not frames:
        return ()
    sounds = with_pauses(phones, frames)
    heard = [sound for sound in sounds if sound.start < frames.stop and sound.stop > frames.start]
    lips = placed(kept(wish_of(sound, frames, rules) for sound in heard if sound.symbol in SEEN))
    found = [*lips, *rests(sounds, lips, rules)]
    return tuple(cut_off(need, frames) for need in sorted(found, key=lambda need: need.first) if overlap(need, frames))


def wish_of(sound: Sound, frames: range, rules: MouthRules) -> Wish:
    """What a sound alone would have: `lead` ahead of it, and if it is too short, more of what is before it."""
    kind = SEEN[sound.symbol]
    hold = rules.hold_of(kind)
    place = place_of(sound.start)
    # Whole frames around where it starts, so that early and late are at most what they are said to be.
    early, late = frames_covering(*place) - rules.early, frame_at(*place) + rules.late
    # What begins before the shot may have been held there, but a frame of it is seen, however little of it is heard.
    soonest = frames.start if sound.start >= frames.start else frames.start + 1 - hold
    earliest = max(early, soonest)
    latest = min(max(late, earliest), frames.stop - 1)
    first, stop = nearest(sound.start) - rules.lead, nearest(sound.stop) - rules.lead
    first = min(max(min(first, stop - hold), earliest), latest)
    return Wish(kind, sound.start, sound.stop, first, max(stop, first + hold), earliest, latest, hold, rules.hold)


def kept(wishes: Iterable[Wish]) -> list[tuple[Wish, int]]:
    """The wishes that leave one another room, each with the soonest frame it can begin on."""
    found: list[tuple[Wish, int]] = []
    for one in wishes:
        wish = one
        while found:
            before, soonest = found[-1]
            touching = before.kind == wish.kind and before.over == wish.start
            if not touching and before.soonest_after(soonest, wish) <= wish.latest:
                break
            wish = before.with_later(wish)
            found.pop()
        soonest = found[-1][0].soonest_after(found[-1][1], wish) if found else wish.earliest
        found.append((wish, soonest))
    return found


def placed(wishes: Sequence[tuple[Wish, int]]) -> list[Need]:
    """A frame to begin on for each, the last one first: what is in the way of a later one goes earlier."""
    found: list[Need] = []
    later: Wish | None = None
    for wish, soonest in reversed(wishes):
        first, stop = max(wish.first, soonest), wish.stop
        if later is not None:
            end = found[-1].first - wish.gap_before(later)
            first, stop = min(first, end - wish.hold), min(stop, end)
        stop = max(stop, first + wish.hold)
        found.append(Need(wish.kind, Frame(first), Frame(stop), Frame(wish.earliest), Frame(wish.latest)))
        later = wish
    return found[::-1]


def rests(sounds: Sequence[Sound], lips: Sequence[Need], rules: MouthRules) -> Iterator[Need]:
    """Rest in each long pause, as far as lips do not need its frames; at an end of what is said every pause is long."""
    for number, pause in enumerate(sounds):
        if pause.symbol != PAUSE:
            continue
        before, after = number > 0, number + 1 < len(sounds)
        start, stop = nearest(pause.start), nearest(pause.stop)
        if before and after and stop - start < rules.long_pause:
            continue
        middle = (start + stop) // 2
        free = max([start, *(need.stop for need in lips if need.first <= middle)])
        first = max(free, start + rules.most_ease * before)
        # Not a moment more than `early` before the next sound, so counted from the frame edge after its start.
        ready = frames_covering(*place_of(pause.stop)) - min(rules.most_ease, rules.early) if after else stop
        end = min([ready, *(need.first for need in lips if need.first > middle)])
        if end - first >= (rules.hold if before and after else 1):
            earliest = max(free, start + rules.least_ease * before)
            yield Need("rest", Frame(first), Frame(end), Frame(earliest), Frame(first))


def restless(phones: Sequence[Sound], frames: range, rules: MouthRules) -> tuple[range, ...]:
    """The frames of each pause between sounds that is too short for the mouth to rest in it."""
    pauses = [sound for sound in with_pauses(phones, frames)[1:-1] if sound.symbol == PAUSE]
    spans = [(nearest(pause.start), nearest(pause.stop)) for pause in pauses]
    short = [(start, stop) for start, stop in spans if stop - start < rules.short_pause]
    within = [range(max(start, frames.start), min(stop, frames.stop)) for start, stop in short]
    return tuple(span for span in within if span)


def nearest(position: Fraction) -> Frame:
    """The frame edge nearest to a position in frames."""
    return nearest_edge(*place_of(position))


def place_of(position: Fraction) -> tuple[int, int, FrameRate]:
    """A position in frames as `core.timebase` takes times."""
    return position.numerator, position.denominator, IN_FRAMES


def overlap(need: Need, frames: range) -> bool:
    return need.first < frames.stop and need.stop > frames.start


def cut_off(need: Need, frames: range) -> Need:
    """What of a need is within the shot, and of the window it begins in."""

    def within(frame: Frame) -> Frame:
        return Frame(min(max(frame, frames.start), frames.stop - 1))

    return Need(
        need.kind,
        within(need.first),
        Frame(min(need.stop, frames.stop)),
        within(need.earliest),
        within(need.latest),
    )
