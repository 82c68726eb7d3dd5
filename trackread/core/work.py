"""How much work shots are, and how many copies of a puppet are wanted while several units shoot at once.

Work is counted in days of one unit, exactly. A day is a number of frames and not of seconds: an animator shoots frames,
so 23.976 and 24 a second both make 48 of them at two seconds a day. A shot takes its unit from `start` to `stop`, which
is not included: where one stops as another starts, a puppet goes straight from one to the other.
"""

import heapq
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from trackread.core.timebase import FrameRate

NO_DAYS = Fraction(0)


@dataclass(frozen=True, slots=True)
class WorkRule:
    """The seconds that an animator makes a day of a shot with one character, and the time that each further one adds.

    Two seconds and a quarter are common practice, no source.
    """

    seconds_a_day: Fraction = Fraction(2)
    each_further_character: Fraction = Fraction(1, 4)

    def __post_init__(self) -> None:
        if self.seconds_a_day <= 0 or self.each_further_character < 0:
            raise ValueError("an animator makes something in a day, and company makes nobody quicker")


STANDARD = WorkRule()


def frames_a_day(rate: FrameRate, rule: WorkRule) -> Fraction:
    """The frames that an animator makes a day of a shot with one character: 48 at 24, and at 23.976 as well."""
    return rule.seconds_a_day * rate.base


def days(frames: int, rate: FrameRate, characters: int, rule: WorkRule) -> Fraction:
    """The days that a shot takes one unit; one without a character is no quicker than one with one.

    >>> days(600, FrameRate(Fraction(24)), 1, WorkRule())
    Fraction(25, 2)
    """
    further = max(characters, 1) - 1
    return frames / frames_a_day(rate, rule) * (1 + rule.each_further_character * further)


@dataclass(frozen=True, slots=True)
class ShotWork:
    """A shot as work: the names of it, its scene and its unit, "" where it has none, and how much there is in it."""

    name: str
    scene: str
    unit: str
    frames: int
    words: int
    beats: int
    characters: tuple[str, ...]
    days: Fraction

    def __post_init__(self) -> None:
        if self.frames < 1 or self.days <= 0:
            raise ValueError(f"{self.name} has frames and takes time, not {self.frames} in {self.days} days")
        if len(set(self.characters)) < len(self.characters):
            raise ValueError(f"{self.name} has a character twice: {', '.join(self.characters)}")


@dataclass(frozen=True, slots=True)
class Tally:
    """What all shots of a scene, of a character or of a unit are together; `name` is its name."""

    name: str
    shots: int
    frames: int
    words: int
    beats: int
    days: Fraction


def totals_by_scene(shots: Iterable[ShotWork]) -> tuple[Tally, ...]:
    """A tally for each scene, in the order in which they come first."""
    return _totals(shots, lambda shot: (shot.scene,))


def totals_by_unit(shots: Iterable[ShotWork]) -> tuple[Tally, ...]:
    """A tally for each unit, in the order in which they come first."""
    return _totals(shots, lambda shot: (shot.unit,))


def totals_by_character(shots: Iterable[ShotWork]) -> tuple[Tally, ...]:
    """A tally for each character, of all the shots that have it: one with two characters counts for both."""
    return _totals(shots, lambda shot: shot.characters)


def _totals(shots: Iterable[ShotWork], names_of: Callable[[ShotWork], Iterable[str]]) -> tuple[Tally, ...]:
    groups: dict[str, list[ShotWork]] = {}
    for shot in shots:
        for name in names_of(shot):
            groups.setdefault(name, []).append(shot)
    return tuple(
        Tally(
            name=name,
            shots=len(group),
            frames=sum(shot.frames for shot in group),
            words=sum(shot.words for shot in group),
            beats=sum(shot.beats for shot in group),
            days=sum((shot.days for shot in group), NO_DAYS),
        )
        for name, group in groups.items()
    )


@dataclass(frozen=True, slots=True)
class Booked:
    """A shot on a unit, which counts from 1, from day `start` to day `stop` of the shoot, which begins at 0."""

    shot: ShotWork
    unit: int
    start: Fraction
    stop: Fraction


@dataclass(frozen=True, slots=True)
class Schedule:
    """All shots in the order given; the last of them is done after `days`."""

    booked: tuple[Booked, ...]
    days: Fraction


def schedule(shots: Sequence[ShotWork], units: int) -> Schedule:
    """The shots on so many units: each unit takes the next one as soon as it is free (list scheduling, Graham 1966).

    Of several free units the one with the lowest number takes it. Raises ValueError without a unit.
    """
    if units < 1:
        raise ValueError(f"at least one unit shoots, not {units}")
    # In order of units, and so a heap as it is.
    free = [(NO_DAYS, unit) for unit in range(1, units + 1)]
    booked: list[Booked] = []
    for shot in shots:
        start, unit = free[0]
        stop = start + shot.days
        heapq.heapreplace(free, (stop, unit))
        booked.append(Booked(shot, unit, start, stop))
    return Schedule(tuple(booked), max((one.stop for one in booked), default=NO_DAYS))


def copies_wanted(shots: Sequence[ShotWork], units: int) -> dict[str, int]:
    """For each character, the most shots with it that are shot at any one time, as `schedule` has them."""
    booked = schedule(shots, units).booked
    turns = [(one.start, 1, one.shot) for one in booked] + [(one.stop, -1, one.shot) for one in booked]
    # What stops goes before what starts at the same time.
    turns.sort(key=lambda turn: turn[:2])
    busy: Counter[str] = Counter()
    wanted: dict[str, int] = {name: 0 for shot in shots for name in shot.characters}
    for _, change, shot in turns:
        for name in shot.characters:
            busy[name] += change
            wanted[name] = max(wanted[name], busy[name])
    return wanted
