"""Which recording a list means by a source: by the names it gives, or by the time it plays from.

A name is a file's without its folders, with or without its ending, whatever its capitals. Of the names that a list
gives, the file's is the surest, then the clip's, then the reel's. A recording must have what is to be heard of it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import PurePosixPath, PureWindowsPath

from trackread.core.cut import Placement, Source
from trackread.core.known_sound import KnownSound, Match, start_in
from trackread.core.timebase import FrameRate, frame_at
from trackread.core.timecode import frames_in_day, label_of
from trackread.cutting.events import AUXILIARY

KINDS = ("file", "clip", "reel")
STRETCH = 10  # seconds: few takes begin within so short a time, and few stretches are in the longest recording
NO_CLOCK = "it has no name, and its time counts from the beginning of a file: name the file in the list"


class Recordings:
    """Recordings and takes that lists may mean, found by their names and by when they were running."""

    def __init__(self, recordings: Sequence[KnownSound]) -> None:
        self._all = tuple(recordings)
        self._named: dict[str, set[int]] = {}
        self._named_but_for_ending: dict[str, set[int]] = {}
        self._running: dict[int, list[int]] = {}
        for number, one in enumerate(self._all):
            for name in map(str.casefold, (one.name, *one.also)):
                self._named.setdefault(name, set()).add(number)
                self._named_but_for_ending.setdefault(without_ending(name), set()).add(number)
            ends = (Fraction(one.sound.start + sample, one.sound.sample_rate) for sample in (one.first, one.stop))
            for stretch in stretches(*ends):
                self._running.setdefault(stretch, []).append(number)
        self._recorded = range(min(self._running, default=0), max(self._running, default=-1) + 1)

    def match(self, placement: Placement, rate: FrameRate) -> Match:
        """The recordings that have what a placement plays, under the surest name that any of them has.

        Without any name it is by its timecode alone, if one recording only was running then.
        """
        source = placement.source
        names = {kind: name for kind in KINDS if (name := getattr(source, kind)) and name != AUXILIARY}
        for kind, name in names.items():
            if named := self.named(kind, name):
                return self.match_of(named, f"{kind} {name!r}", placement, rate)
        if names:
            told = " or the ".join(f"{kind} {name!r}" for kind, name in names.items())
            return Match((), f"no recording has the name of the {told}")
        if source.file_start is not None:
            return Match((), NO_CLOCK)
        found = self.playing(self.running(placement, rate), placement, rate)
        return Match(found, f"it has no name; {counted(len(found))} running at its time")

    def match_of(self, named: set[int], told: str, placement: Placement, rate: FrameRate) -> Match:
        """Those of one name that have what is played."""
        # All takes of a day may have the name of one reel, so that their times are asked first.
        likely = named if placement.source.file_start is not None else named & self.running(placement, rate)
        found = self.playing(likely, placement, rate)
        if len(found) == 1:
            return Match(found, f"by the {told}")
        if found:
            return Match(found, f"{len(found)} recordings have the name of the {told}, and what is to be heard")
        first = self._all[min(named)]
        return Match((), f"by the {told} it is {first.name}, {lack_of(first, placement, rate)}")

    def named(self, kind: str, name: str) -> set[int]:
        """The numbers of those of a name, where one of the two names may lack its ending."""
        told = (PureWindowsPath(name.strip()).name if kind == "file" else name.strip()).casefold()
        alike = (self._named.get(told), self._named.get(without_ending(told)), self._named_but_for_ending.get(told))
        return set().union(*filter(None, alike))

    def running(self, placement: Placement, rate: FrameRate) -> set[int]:
        """The numbers of those that may have been running as a placement begins, on its day or the one before."""
        off = abs(placement.speed) / rate.per_second
        day = frames_in_day(rate) / rate.per_second
        near = [stretches(start - off, start + off) for start in (placement.source.start, placement.source.start + day)]
        known = [range(max(one.start, self._recorded.start), min(one.stop, self._recorded.stop)) for one in near]
        return {number for one in known for stretch in one for number in self._running.get(stretch, ())}

    def playing(self, numbers: Iterable[int], placement: Placement, rate: FrameRate) -> tuple[KnownSound, ...]:
        """Those that have all that is to be heard, in their order, each part of a recording once."""
        found = (one for number in sorted(numbers) if plays_all(one := self._all[number], placement, rate))
        return tuple({(one.sound.digest, one.first, one.stop): one for one in found}.values())


def stretches(first: Fraction, last: Fraction) -> range:
    """The stretches of STRETCH seconds that have any of the time from one second of the clock to another."""
    return range(first // STRETCH, last // STRETCH + 1)


def without_ending(name: str) -> str:
    return PurePosixPath(name).stem


def resolved(placement: Placement, known: KnownSound, rate: FrameRate) -> Placement:
    """The placement as a piece of a recording that is known."""
    return replace(placement, sound=known.sound, start=start_of(placement.source, known, rate))


def start_of(source: Source, known: KnownSound, rate: FrameRate) -> Fraction:
    """The sample of a recording at which a source starts; a file's beginning is that of the take, if it is one."""
    return start_in(source, known.sound, rate) + (known.first if source.file_start is not None else 0)


def heard_of(known: KnownSound, placement: Placement, rate: FrameRate) -> tuple[Fraction, Fraction]:
    """From where to where a recording would be heard, in its samples."""
    start = start_of(placement.source, known, rate)
    frames = placement.heard_stop - placement.at
    stop = start + placement.speed * frames * known.sound.sample_rate / rate.per_second
    return min(start, stop), max(start, stop)


def plays_all(known: KnownSound, placement: Placement, rate: FrameRate) -> bool:
    """Whether a recording has all that is to be heard of it, but for parts of a frame: lists have whole ones."""
    start, stop = heard_of(known, placement, rate)
    frame = known.sound.sample_rate * abs(placement.speed) / rate.per_second
    return known.first - frame < start and stop < known.stop + frame


def lack_of(known: KnownSound, placement: Placement, rate: FrameRate) -> str:
    """What a recording has, beside what is to be heard of it."""
    midnight = known.sound.start if placement.source.file_start is None else -known.first
    there, wanted = (
        " to ".join(label_at((one + midnight) / known.sound.sample_rate, rate) for one in ends)
        for ends in ((Fraction(known.first), Fraction(known.stop)), heard_of(known, placement, rate))
    )
    return f"but that has {there}, and what is to be heard is {wanted}"


def label_at(seconds: Fraction, rate: FrameRate) -> str:
    return label_of(frame_at(seconds.numerator, seconds.denominator, rate), rate)


def counted(count: int) -> str:
    return f"{count or 'no'} recording{'s' * (count != 1)} {'was' if count == 1 else 'were'}"
