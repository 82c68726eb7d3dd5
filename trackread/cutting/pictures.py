"""Events of picture to shots: which is seen where, under which code, and what is dissolved into what.

Frames count from the first picture of the cut.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise

from trackread.core.cut import Handles, Remark, Shot
from trackread.core.timebase import Frame, FrameRate
from trackread.cutting.events import AUXILIARY, BLACK, Event, Terms, once
from trackread.cutting.joining import joined
from trackread.cutting.spelling import counted

UNNAMED = "this picture has no clip name to take the code of its shot from: export the list with clip names"

Stretch = tuple[int, int]  # from a frame to before another


@dataclass
class Pictures:
    """What the events of picture come to."""

    shots: tuple[Shot, ...] = ()
    remarks: list[Remark] = field(default_factory=list)
    problems: list[Remark] = field(default_factory=list)


def pictures_of(events: Sequence[Event], terms: Terms, rate: FrameRate) -> Pictures:
    """The shots of all events that have a picture, and what is to be told of them."""
    found = Pictures()
    seen = sorted(visible(once(events, "picture", found.remarks), rate, found), key=lambda event: event.start)
    shots: list[Shot | None] = []
    for former, event in zip([None, *seen], seen, strict=False):
        shots.append(shot_of(event, terms, found))
        if former and former.stop == event.start and event.fade and (before := shots[-2]):
            shots[-2] = replace(before, fade_out=Frame(event.fade))
            found.remarks.append(Remark(event.place, f"{before.name} is seen {counted(event.fade)} longer, under this"))
        tell_before(former, event, found)
    found.shots = joined([shot for shot in shots if shot], rate)
    tell_parts(found, [shot for shot in shots if shot])
    return found


def tell_before(former: Event | None, event: Event, found: Pictures) -> None:
    """Remarks for a gap before a picture, and for a transition from what is not there."""
    stop = former.stop if former else 0
    if stop < event.start:
        found.remarks.append(Remark(event.place, f"nothing is seen for {counted(event.start - stop)} before it"))
    reel = former.source.reel if former and former.source else BLACK
    if event.fades_from and event.fades_from != (reel if stop == event.start else BLACK):
        told = f"comes in from the reel {event.fades_from}, which is not what is before it: taken as it stands"
        found.remarks.append(Remark(event.place, told))


def visible(events: Iterable[Event], rate: FrameRate, found: Pictures) -> Iterator[Event]:
    """The parts of events that no event of a higher layer hides. Adds a problem for each overlap within a layer."""
    ordered = sorted(events, key=lambda event: (-event.layer, event.start, event.stop))
    for former, event in pairwise(ordered):
        if former.layer == event.layer and event.start < former.stop:
            told = f"starts {counted(former.stop - event.start)} before the picture at {former.place} stops"
            found.problems.append(Remark(event.place, f"{told}: one track shows one picture at a time"))
    covered: list[Stretch] = []
    for _, layer in groupby(ordered, key=lambda event: event.layer):
        events = list(layer)
        for event in events:
            parts = list(uncovered((event.start, event.stop), covered))
            if not parts:
                found.remarks.append(Remark(event.place, "is hidden by the tracks above it: no shot"))
            elif parts != [(event.start, event.stop)]:
                found.remarks.append(Remark(event.place, "is in part hidden by the tracks above it"))
            yield from (trimmed(event, *part, rate) for part in parts)
        covered = united([*covered, *((event.start, event.stop) for event in events)])


def united(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The frames of all stretches as ones that do not touch, in order."""
    united: list[Stretch] = []
    for start, stop in sorted(stretches):
        if united and start <= united[-1][1]:
            united[-1] = (united[-1][0], max(stop, united[-1][1]))
        else:
            united.append((start, stop))
    return united


def uncovered(stretch: Stretch, covered: Sequence[Stretch]) -> Iterator[Stretch]:
    """The parts of a stretch that none of some others in order covers."""
    start, stop = stretch
    for number in range(bisect_right(covered, start, key=lambda one: one[1]), len(covered)):
        if stop <= covered[number][0]:
            break
        if start < covered[number][0]:
            yield start, covered[number][0]
        start = covered[number][1]
    if start < stop:
        yield start, stop


def trimmed(event: Event, start: int, stop: int, rate: FrameRate) -> Event:
    """The part of an event from one frame of the record to another."""
    if (start, stop) == (event.start, event.stop):
        return event
    source, handles = event.source, event.handles
    if source:
        source = replace(source, start=source.start + event.speed * (start - event.start) / rate.per_second)
    if handles:
        head, tail = handles.head + start - event.start, handles.tail + event.stop - stop
        handles = Handles(Frame(head), Frame(tail))
    fade = min(event.fade, stop - start) if start == event.start else 0
    return replace(event, start=start, stop=stop, source=source, handles=handles, fade=fade)


def shot_of(event: Event, terms: Terms, found: Pictures) -> Shot | None:
    """The shot of a picture, none for black and for what is no shot by the rule."""
    if event.black:
        return None
    code = code_of(event, terms, found)
    if not code:
        return None
    if event.start < 0:
        found.problems.append(Remark(event.place, f"{code} starts {counted(-event.start)} before the cut does"))
        return None
    return Shot(
        code=code,
        first=Frame(event.start),
        length=Frame(event.stop - event.start),
        place=event.place,
        source=event.source,
        speed=event.speed,
        fade_in=Frame(event.fade),
        handles=event.handles,
        notes=event.notes,
    )


def code_of(event: Event, terms: Terms, found: Pictures) -> str:
    """The code of a picture's shot, "" with a remark or a problem where it has none."""
    if event.shot:
        return event.shot
    source = event.source
    names = [source.clip, source.file, source.reel if source.reel != AUXILIARY else ""] if source else []
    if terms.code is None:
        if names and names[0].strip():
            return names[0].strip()
        found.problems.append(Remark(event.place, UNNAMED))
        return ""
    matches = (terms.code.search(name) for name in names if name)
    code = next((one[1].strip() for one in matches if one and one[1] and one[1].strip()), "")
    if not code:
        told = next((name for name in names if name), "")
        found.remarks.append(Remark(event.place, f"{told!r} has no code of a shot in it by the rule: no shot"))
    return code


def tell_parts(found: Pictures, parted: Sequence[Shot]) -> None:
    """Remarks for shots that were joined, and for codes that stand in more than one place of the cut."""
    kept = {shot.first for shot in found.shots}
    for shot in parted:
        if shot.first not in kept:
            told = f"this cut within {shot.code} changes nothing of what is seen: joined"
            found.remarks.append(Remark(shot.place, told))
    firsts = {shot.code: shot for shot in reversed(found.shots)}
    names: dict[str, Shot] = {}
    for shot in found.shots:
        same = names.setdefault(shot.name, shot)
        if same is not shot:
            told = f"{shot.name} is the name of the shot at {same.place} as well: give it another"
            found.problems.append(Remark(shot.place, told))
        if shot.part > 1:
            told = f"{shot.code} is in the cut at {firsts[shot.code].place} already: this is part {shot.part} of it"
            found.remarks.append(Remark(shot.place, told))
