"""Events of sound to placements: where each piece plays, and what is faded into what on its track.

Frames count from the first picture of the cut.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from trackread.core.cut import Placement, Remark, Shot, Source
from trackread.core.timebase import Frame
from trackread.cutting.events import Event, once
from trackread.cutting.spelling import counted


@dataclass
class Sounds:
    """What the events of sound come to."""

    placements: list[Placement] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    problems: list[Remark] = field(default_factory=list)


def sounds_of(events: Sequence[Event], shots: Sequence[Shot]) -> Sounds:
    """The placements of all events that have a sound, in the order of their first frames."""
    found = Sounds()
    named: dict[str, list[Shot]] = {}
    for shot in shots:
        named.setdefault(shot.code, []).append(shot)
    placed = [one for event in once(events, "sound", found.remarks) if (one := in_cut(event, named, found))]
    placed.sort(key=lambda event: (event.start, event.place.file, event.place.line))
    fades = fades_out(placed, found)
    for number, event in enumerate(placed):
        if event.source and event.speed:
            found.placements.append(placement_of(event, event.source, fades.get(number, 0)))
        elif event.source:
            found.remarks.append(Remark(event.place, "this sound is held still: nothing is heard of it"))
    tell_outside(found, shots)
    return found


def in_cut(event: Event, shots: Mapping[str, Sequence[Shot]], found: Sounds) -> Event | None:
    """The event with its frames counted from the first of the cut, None with a problem if its shot is not there."""
    if not event.shot or event.picture:
        return event
    parts = shots.get(event.shot, ())
    if len(parts) == 1:
        first = parts[0].first
        return replace(event, start=first + event.start, stop=first + event.stop)
    told = f"is in the cut in {len(parts)} parts: say the frame of the cut" if parts else "is not in the cut"
    found.problems.append(Remark(event.place, f"the shot {event.shot!r} {told}"))
    return None


def fades_out(events: Sequence[Event], found: Sounds) -> dict[int, int]:
    """Over how many frames each event is faded out under the next, by its place among the events.

    Adds a problem for each overlap on one track of one list.
    """
    last: dict[tuple[str, str], int] = {}
    fades: dict[int, int] = {}
    for number, event in enumerate(events):
        formers = {last[key] for track in event.tracks if (key := (event.place.file, track)) in last}
        for former in sorted(formers):
            if event.start < events[former].stop:
                told = f"starts {counted(events[former].stop - event.start)} before the sound at {events[former].place}"
                track = ", ".join(event.tracks)
                found.problems.append(Remark(event.place, f"{told} stops, on one track ({track}): part the two"))
            elif event.start == events[former].stop and event.fade:
                fades[former] = event.fade
                told = f"comes in over {counted(event.fade)}, in which the sound at {events[former].place} goes out"
                found.remarks.append(Remark(event.place, told))
        last |= {(event.place.file, track): number for track in event.tracks}
    return fades


def placement_of(event: Event, source: Source, fade_out: int) -> Placement:
    return Placement(
        source=source,
        at=Frame(event.start),
        length=Frame(event.stop - event.start),
        tracks=event.tracks,
        place=event.place,
        speed=event.speed,
        fade_in=Frame(event.fade),
        fade_out=Frame(fade_out),
        notes=event.notes,
    )


def tell_outside(found: Sounds, shots: Sequence[Shot]) -> None:
    """Remarks for sounds that no picture goes with, one only if that is so with all of a list."""
    if not shots:
        return
    first, stop = shots[0].first, shots[-1].first + shots[-1].seen
    within = {one.place.file for one in found.placements if first < one.heard_stop and one.at < stop}
    lost: set[str] = set()
    for one in found.placements:
        if one.heard_stop <= first or stop <= one.at:
            if one.place.file in within:
                told = "plays before the first shot or after the last: heard with no picture"
                found.remarks.append(Remark(one.place, told))
            elif one.place.file not in lost:
                told = "no sound of this list plays with any shot: has it another start timecode than the picture?"
                found.remarks.append(Remark(one.place, told))
            lost.add(one.place.file)
