"""Cut lists of the kind CMX 3600 (SMPTE 258M) as events.

A list does not say how many frames a second it counts. A mode of timecode above its first event is that of the record;
one further down is that of the sources that follow. Out points are not included. A transition has two lines, the first
of them without a length: what is cut from. All this from memory of the standard.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from pycmx import Edit as CmxEdit

from trackread.core.cut import NORMAL, Source
from trackread.core.timebase import FrameRate
from trackread.core.timecode import frame_of, frames_in_day
from trackread.cutting.cmx_details import clip_of, file_of, motion_of, unused_details
from trackread.cutting.events import BLACK, Event, Listed, Terms
from trackread.cutting.spelling import counted, decimal
from trackread.cutting.statements import Block, Edit, Motion, statements_of
from trackread.errors import TimecodeError

KEYS = {"K": "a key, laid over the picture: no shot", "KO": "the end of a key: no shot"}
# M2 has one digit behind the point, so its frames a second may be off by this.
ROUNDED = Fraction(1, 20)
# What seems to end before it starts has passed midnight if it is no longer than this.
LONGEST_SECONDS = 3600


@dataclass(frozen=True, slots=True)
class Times:
    """The points of an edit in frames of timecode, the record's stop perhaps on the next day."""

    source_in: int
    source_out: int
    start: int
    stop: int

    @property
    def length(self) -> int:
        return self.stop - self.start


def read_cmx(text: str, file: str, terms: Terms) -> Listed:
    """The events of a list, with every problem of it."""
    listed = Listed(file, terms.rate)
    found = statements_of(text, listed, terms.rate)
    listed.rate = found.rate
    for block in found.blocks:
        for line, told in unused_details(block):
            listed.remark(line, told)
    former: Edit | None = None
    for block in found.blocks:
        for edit in block.edits:
            if times := times_of(edit, listed, found.rate):
                take_edit(edit, block, times, listed, former)
            former = edit
    listed.events = in_one_day(listed.events, frames_in_day(found.rate))
    return listed


def times_of(edit: Edit, listed: Listed, rate: FrameRate) -> Times | None:
    """The points of an edit, None where one does not exist or the record ends before it starts."""
    fields = edit.fields
    labels = {"record in": (fields.record_in, rate), "record out": (fields.record_out, rate)}
    if fields.source != BLACK:
        labels |= {"source in": (fields.source_in, edit.rate), "source out": (fields.source_out, edit.rate)}
    frames = {name: frame_or_problem(name, label, edit, listed) for name, label in labels.items()}
    start, stop = frames["record in"], frames["record out"]
    source_in, source_out = frames.get("source in", 0), frames.get("source out", 0)
    if start is None or stop is None or source_in is None or source_out is None:
        return None
    if stop < start:
        stop += frames_in_day(rate)
        if stop - start > LONGEST_SECONDS * rate.base:
            listed.problem(edit.line, f"its record ends at {fields.record_out}, before it starts at {fields.record_in}")
            return None
        listed.remark(edit.line, "its record runs over midnight")
    return Times(source_in, source_out, start, stop)


def frame_or_problem(name: str, label: tuple[str, FrameRate], edit: Edit, listed: Listed) -> int | None:
    try:
        return frame_of(*label)
    except TimecodeError as error:
        listed.problem(edit.line, f"{name}: {error}")
        return None


def left_aside(edit: Edit, block: Block, times: Times) -> str:
    """Why an edit is neither picture nor sound of its own, nothing if it is."""
    if edit.fields.channels == "NONE":
        return "records on no channel: left aside"
    if edit.transition in KEYS:
        return KEYS[edit.transition]
    if times.length:
        return ""
    if edit.transition == "C":
        name = clip_of(edit, block) or edit.fields.source
        return f"has no length on the record: it says what is cut or dissolved from, {name}"
    return "has no length on the record: left aside"


def take_edit(edit: Edit, block: Block, times: Times, listed: Listed, former: Edit | None) -> None:
    """Adds the event of an edit, or a remark why it has none, or what is wrong with it; `former` is the edit above."""
    if told := left_aside(edit, block, times):
        listed.remark(edit.line, told)
        return
    channels = CmxEdit(edit.fields, edit.more_audio, None, None).channels
    tracks = tuple(f"A{channel}" for channel in sorted(channels.channels))
    fade = int(edit.fields.trans_op) if edit.transition[0] in "DW" else 0
    if fade > times.length:
        listed.problem(edit.line, f"comes in over {counted(fade)}, but has {times.length}: make the transition shorter")
        return
    paired = fade and former and former.number == edit.number
    event = Event(
        place=listed.at(edit.line),
        start=times.start,
        stop=times.stop,
        source=None,
        picture=channels.video,
        tracks=tracks,
        fade=fade,
        fades_from=former.fields.source if former and paired else "",
        black=edit.fields.source == BLACK,
        notes=tuple(block.notes),
    )
    if event.black:
        tell_black(event, listed)
        listed.events.append(event)
    elif sourced := with_source(event, edit, block, times, listed):
        listed.events.append(sourced)


def tell_black(event: Event, listed: Listed) -> None:
    told = " and ".join([*["black"] * event.picture, *["silence"] * bool(event.tracks)])
    listed.remark(event.place.line, f"{told} for {counted(event.stop - event.start)}")


def with_source(event: Event, edit: Edit, block: Block, times: Times, listed: Listed) -> Event | None:
    """The event with its source and its speed, None if a sound of it cannot be what the list says."""
    motion = motion_of(edit, block)
    speed = motion.frames / edit.rate.base if motion else NORMAL
    times = over_midnight(times, speed, edit, listed)
    problem = length_problem(times, speed, motion, edit.rate)
    if problem and event.tracks:
        listed.problem(edit.line, problem)
        return None
    if problem:
        listed.remark(edit.line, f"{problem}; the shot is as long as its record")
    if motion:
        tell_motion(motion, times, edit, listed)
    source = Source(
        start=(max(times.source_in, times.source_out) if speed < 0 else times.source_in) / edit.rate.per_second,
        reel=edit.fields.source,
        clip=clip_of(edit, block),
        file=file_of(edit, block),
    )
    return replace(event, source=source, speed=speed)


def tell_motion(motion: Motion, times: Times, edit: Edit, listed: Listed) -> None:
    """Remarks for what a speed leaves open."""
    if motion.trigger.replace(";", ":") != edit.fields.source_in.replace(";", ":"):
        listed.remark(motion.line, f"this speed is said to hold from {motion.trigger}: taken for the whole event")
    if motion.frames < 0 and times.source_in < times.source_out:
        listed.remark(edit.line, f"plays backwards: taken to begin at its source out, {edit.fields.source_out}")


def over_midnight(times: Times, speed: Fraction, edit: Edit, listed: Listed) -> Times:
    """The points with the source's out on the next day, if that is where it must be."""
    day = frames_in_day(edit.rate)
    short = times.source_out + day - times.source_in <= LONGEST_SECONDS * edit.rate.base
    if speed < 0 or times.source_in <= times.source_out or not short:
        return times
    listed.remark(edit.line, "its source runs over midnight")
    return replace(times, source_out=times.source_out + day)


def length_problem(times: Times, speed: Fraction, motion: Motion | None, rate: FrameRate) -> str:
    """Why the length of a source does not fit that of its record, nothing if it does or is held still."""
    if not speed:
        return ""
    length = times.source_out - times.source_in
    expected = times.length * abs(speed)
    if motion is None:
        said = "no M2 says at which speed it plays"
        return "" if length == expected else f"its source has {length} frames and its record {times.length}, but {said}"
    # Two frames of the source are rounded as well.
    allowed = 1 + times.length * ROUNDED / rate.base
    if abs((abs(length) if speed < 0 else length) - expected) <= allowed:
        return ""
    said = f"at {motion.text} frames a second (line {motion.line}) it would have {decimal(expected)}"
    return f"its source has {length} frames and its record {times.length}: {said}"


def in_one_day(events: list[Event], day: int) -> list[Event]:
    """The events of a list that runs over midnight, those after it counted on."""
    if all(event.stop < day for event in events):
        return events
    return [
        event if 2 * event.start >= day else replace(event, start=event.start + day, stop=event.stop + day)
        for event in events
    ]
