"""Which recording a list means by a source: by the names it gives, and by the time it plays from.

A name is a file's without its folders, with or without its ending, whatever its capitals. Of the names that a list
gives, the file's is the surest, then the clip's, then the reel's. A recording must have what is to be heard of it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import PurePosixPath, PureWindowsPath

from trackread.core.cut import KnownSound, Match, Placement, Source, start_in
from trackread.core.timebase import FrameRate, frame_at
from trackread.core.timecode import label_of
from trackread.cutting.events import AUXILIARY

KINDS = ("file", "clip", "reel")


def match(placement: Placement, recordings: Sequence[KnownSound], rate: FrameRate) -> Match:
    """The recordings that have what a placement plays, under the surest name that any of them has.

    Without any name it is by its time alone, if one recording only was running then.
    """
    names = {kind: name for kind in KINDS if (name := getattr(placement.source, kind)) and name != AUXILIARY}
    for kind, name in names.items():
        named = once(one for one in recordings if is_named(one, kind, name))
        if named:
            return of_named(named, f"{kind} {name!r}", placement, rate)
    if names:
        told = " or the ".join(f"{kind} {name!r}" for kind, name in names.items())
        return Match((), f"no recording has the name of the {told}")
    running = once(one for one in recordings if plays_all(one, placement, rate))
    return Match(running, f"it has no name; {counted(len(running))} running at its time")


def of_named(named: Sequence[KnownSound], told: str, placement: Placement, rate: FrameRate) -> Match:
    """Those of some recordings of one name that have what is played."""
    fitting = tuple(one for one in named if plays_all(one, placement, rate))
    if len(fitting) == 1:
        return Match(fitting, f"by the {told}")
    if fitting:
        return Match(fitting, f"{len(fitting)} recordings have the name of the {told}, and what is to be heard")
    return Match((), f"by the {told} it is {named[0].name}, {lack_of(named[0], placement, rate)}")


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


def is_named(known: KnownSound, kind: str, name: str) -> bool:
    told = PureWindowsPath(name.strip()).name if kind == "file" else name.strip()
    return any(same_name(told.casefold(), one.casefold()) for one in (known.name, *known.also))


def same_name(one: str, other: str) -> bool:
    """Whether two names are one, or one of them the other without its ending."""
    return one == other or PurePosixPath(one).stem == other or one == PurePosixPath(other).stem


def once(recordings: Iterable[KnownSound]) -> tuple[KnownSound, ...]:
    """Those that are one part of one recording, once."""
    return tuple({(one.sound.digest, one.first, one.stop): one for one in recordings}.values())


def counted(count: int) -> str:
    return f"{count or 'no'} recording{'s' * (count != 1)} {'was' if count == 1 else 'were'}"
