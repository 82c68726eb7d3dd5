"""The sheet of a shot: every speaking character's rows side by side, from the readings of the takes that are heard."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from operator import attrgetter
from typing import cast

from trackread.core.clock import clock_of_placement
from trackread.core.mouth import USUAL, MouthRules
from trackread.core.plain import PlainReading, reading_from_plain
from trackread.core.reading import Reading
from trackread.core.sheet import Cell, Heading, PlacedLine, Sheet, Voice
from trackread.core.timebase import Frame
from trackread.editing.replay import corrected
from trackread.notes.action import action_cells
from trackread.notes.camera import camera_cells, position_cells
from trackread.workflow.sheet_of_take import Speech, Terms, voice_of, warning_of
from trackread.workflow.sheet_said import Said
from trackread.workflow.shot_brief import HeardTake, ShotBrief
from trackread.workflow.shot_mouths import Seen, by_character, with_mouths

Bodies = Mapping[int, Mapping[str, object]]  # readings as the book has them, under their numbers


@dataclass(frozen=True, slots=True)
class SheetWish:
    """How sheets are wanted: on which terms, under which title, and how mouths are worn, None for without mouths."""

    terms: Terms
    title: str
    mouths: MouthRules | None = USUAL


def sheet_of_shot(
    brief: ShotBrief, bodies: Bodies, wish: SheetWish, heading: Heading | None = None, *, with_sound: bool = True
) -> Sheet:
    """The sheet of a shot; `bodies` are the readings of its takes. `heading` may say the issue, unit, date and code.

    What is not printed can be without level and pitch, which are only drawn. Raises ReadingError if one of the
    readings is damaged.
    """
    shot, readings = brief.shot, readings_of(brief, bodies)
    voices = tuple(voices_of(brief, readings, wish, with_sound=with_sound))
    return Sheet(
        heading=heading_of(brief, readings, wish, heading or Heading()),
        rate=wish.terms.rate,
        length=shot.seen,
        first_number=wish.terms.first_number,
        voices=voices,
        action=(*dissolves(brief), *action_cells(brief.told.action, shot.seen)),
        camera=camera_cells(brief.told.camera, shot.seen),
        positions=position_cells(brief.told.camera, shot.seen) if brief.told.every_position else (),
        lines=lines_of(brief),
    )


def readings_of(brief: ShotBrief, bodies: Bodies) -> dict[str, Reading]:
    """The readings of the takes as they stand after all corrections, by the takes' names."""
    found = {}
    for one in brief.heard:
        if one.reading is not None and one.take.name not in found:
            reading = reading_from_plain(cast(PlainReading, bodies[one.reading]))
            found[one.take.name] = corrected(reading, one.corrections).reading if one.corrections else reading
    return found


def voices_of(
    brief: ShotBrief, readings: Mapping[str, Reading], wish: SheetWish, *, with_sound: bool
) -> Iterator[Voice]:
    """A voice for each character who is heard, all its takes in one."""
    terms, puppets = wish.terms, by_character(brief.mouthed)
    seen, shown = Seen(brief.window, terms.rate, brief.beat), saids_seen(brief, readings, terms)
    for character, group in groupby(brief.heard, key=attrgetter("character")):
        takes = sorted(group, key=placed_at)
        speeches = [
            Speech(said_in_cut(one, readings[one.take.name], terms)) for one in takes if one.take.name in readings
        ]
        extensions = {one.extension for one in takes}
        extension = extensions.pop() if len(extensions) == 1 else ""
        voice = voice_of(speeches, terms, brief.window, character=character, extension=extension, with_sound=with_sound)
        puppet = puppets.get(character)
        if puppet is None or voice.extension or wish.mouths is None:
            yield voice
        else:
            yield with_mouths(voice, puppet, shown.get(character, ()), seen, rules=wish.mouths)


def saids_seen(brief: ShotBrief, readings: Mapping[str, Reading], terms: Terms) -> dict[str, list[Said]]:
    """What each character says with a mouth that is seen, as it plays in the cut."""
    found: dict[str, list[Said]] = {}
    for one in sorted(brief.heard, key=placed_at):
        if not one.extension and one.take.name in readings:
            found.setdefault(one.character, []).append(said_in_cut(one, readings[one.take.name], terms))
    return found


def placed_at(one: HeardTake) -> tuple[int, int]:
    """The order of takes in the film, which is the same in every shot."""
    return one.placement.at, one.take.stretch.start


def said_in_cut(one: HeardTake, reading: Reading, terms: Terms) -> Said:
    """A take's reading as it is heard in the cut, whichever shot is seen: what the shot's ends cut off is cut last."""
    clock = clock_of_placement(one.placement, terms.rate).from_sample(one.take.stretch.start)
    return Said(reading, clock, range(one.placement.at, one.placement.heard_stop))


def heading_of(brief: ShotBrief, readings: Mapping[str, Reading], wish: SheetWish, heading: Heading) -> Heading:
    """The head: what the shot is, who listens, and what the animator must know."""
    doubted = (f"{name}: {told}" for name, reading in readings.items() if (told := warning_of(reading.match)))
    return replace(
        heading,
        production=wish.title,
        scene=brief.scene,
        shot=brief.shot.name,
        take=", ".join(dict.fromkeys(one.take.name for one in brief.heard)),
        listeners=brief.listeners,
        warning="; ".join([*brief.warnings, *doubted]).upper(),
        about=brief.told.about,
        board=brief.told.board,
    )


def dissolves(brief: ShotBrief) -> tuple[Cell, ...]:
    """What is seen of the shots before and after: their frames are this shot's as well."""
    shot, told = brief.shot, []
    if shot.fade_in:
        told.append(Cell(Frame(0), shot.fade_in, f"dissolve in, {shot.fade_in} frames"))
    if shot.fade_out:
        told.append(Cell(shot.length, shot.seen, f"dissolve out, {shot.fade_out} frames"))
    return tuple(told)


def lines_of(brief: ShotBrief) -> tuple[PlacedLine, ...]:
    """The lines that are heard, on the frames on which their takes are."""
    first = brief.shot.first
    placed = (
        PlacedLine(
            line=one.line,
            take=one.take.name,
            character=one.character,
            text=one.text,
            first=Frame(one.frames.start - first),
            stop=Frame(one.frames.stop - first),
            extension=one.extension,
        )
        for one in brief.heard
    )
    return tuple(sorted(placed, key=attrgetter("first")))


def reading_ids(briefs: Sequence[ShotBrief]) -> set[int]:
    """The numbers of the readings that some sheets want."""
    return {one.reading for brief in briefs for one in brief.heard if one.reading is not None}
