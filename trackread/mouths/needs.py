"""What must be seen of a mouth whatever else it does: lips that close, teeth on the lip, rest in a pause.

All in whole frames of the shot, `stop` not included; a sound's edge goes to the nearest frame edge. The figures are for
film, 24 or 25 frames a second.

Lips come before rest, and a closure before teeth on the lip. Where needs are too near to one another each goes earlier
within its window, since early is seen less than late; where that is not enough, two of a kind are seen as one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from trackread.core.phones import PAUSE
from trackread.core.timebase import Frame, FrameRate, frame_at, frames_covering, nearest_edge
from trackread.mouths.targets import Sound, with_pauses

NeedKind = Literal["lips closed", "teeth on lip", "rest"]

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
class MouthRules:
    """How a mouth goes with a voice, in frames of film.

    `lead` is by how much a mouth is ahead of its sound: common practice says 1 or 2, no source. It may be `early` more
    and up to `late` behind: a picture ahead of its sound goes unseen to 125 ms and one behind it only to 45 ms
    (ITU-R BT.1359-1), 3 frames and 1; for film, 2 frames and 1 (ITU-R Report BS.1204).

    All others are common practice, no source: lips close for `closed_hold`, teeth are on the lip for `bite_hold`; in a
    pause of less than `short_pause` a mouth does not rest, in one of `long_pause` it does, but for an ease into it and
    one out of it, each from `least_ease` to `most_ease`.
    """

    lead: int = 1
    early: int = 2
    late: int = 1
    closed_hold: int = 2
    bite_hold: int = 1
    short_pause: int = 6
    long_pause: int = 12
    least_ease: int = 2
    most_ease: int = 4

    def __post_init__(self) -> None:
        if min(self.lead, self.early, self.late, self.least_ease) < 0 or min(self.closed_hold, self.bite_hold) < 1:
            raise ValueError(f"nothing is shorter than no frame, and what is held lasts for one, not {self}")
        if self.short_pause > self.long_pause or self.least_ease > self.most_ease:
            raise ValueError(f"the shorter of two is not the longer, in {self}")

    def hold(self, lips: NeedKind) -> int:
        """The fewest frames on which what lips do is seen."""
        return self.closed_hold if lips == "lips closed" else self.bite_hold


@dataclass(frozen=True, slots=True)
class Wish:
    """A need before others are thought of: best from `first` to before `stop`, and for `hold` frames in any case.

    Its sounds last from `start` to `over`.
    """

    kind: NeedKind
    start: Fraction
    over: Fraction
    first: int
    stop: int
    earliest: int
    latest: int
    hold: int

    def with_later(self, later: "Wish") -> "Wish":
        """Two of a kind as one that is seen within the window of each; of two kinds, the closure alone."""
        if self.kind != later.kind:
            return self if self.kind == "lips closed" else later
        hold = max(self.hold, later.earliest - self.earliest + later.hold)
        return replace(self, over=later.over, stop=later.stop, hold=hold)

    def gap_before(self, later: "Wish") -> int:
        """Between two of a kind a frame shows what is said between them."""
        return 1 if self.kind == later.kind else 0

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
    hold = rules.hold(kind)
    place = sound.start.numerator, sound.start.denominator, IN_FRAMES
    # Whole frames around where it starts, so that early and late are at most what they are said to be.
    early, late = frames_covering(*place) - rules.lead - rules.early, frame_at(*place) + rules.late
    # What begins before the shot may have been held there, but a frame of it is seen, however little of it is heard.
    soonest = frames.start if sound.start >= frames.start else frames.start + 1 - hold
    earliest = max(early, soonest)
    latest = min(max(late, earliest), frames.stop - 1)
    first, stop = nearest(sound.start) - rules.lead, nearest(sound.stop) - rules.lead
    first = min(max(min(first, stop - hold), earliest), latest)
    return Wish(kind, sound.start, sound.stop, first, max(stop, first + hold), earliest, latest, hold)


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
        before, after = number > 0, number + 1 < len(sounds)
        start, stop = nearest(pause.start), nearest(pause.stop)
        if pause.symbol != PAUSE or (before and after and stop - start < rules.long_pause):
            continue
        middle = (start + stop) // 2
        free = max([start, *(need.stop for need in lips if need.first <= middle)])
        first = max(free, start + rules.most_ease * before)
        end = min([stop - rules.most_ease * after, *(need.first for need in lips if need.first > middle)])
        if first < end:
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
    return nearest_edge(position.numerator, position.denominator, IN_FRAMES)


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
