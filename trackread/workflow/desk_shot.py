"""A shot as the desk shows it, in plain values: what everybody says and wears, as its sheet has it, and the takes.

Frames count from the shot's first, `stop` is not included; only `first_number` is the production's number. Sample s of
a take is heard at frame (s · `per` + `offset`) / `scale` of the shot, as core/clock.py has it. The revision is that of
what people set of the shot's mouths: the number of the cut, and of the last notes of mouths and of kits, `4-12-0`.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import gcd
from typing import cast

from trackread.book.book import Book
from trackread.book.readings import readings_with
from trackread.core.clock import Clock
from trackread.core.plain import PlainReading, reading_from_plain
from trackread.core.plain_correction import Counting
from trackread.core.plain_sheet import plain_of
from trackread.core.reading import Reading
from trackread.core.sheet import Voice
from trackread.core.timebase import first_sample_of
from trackread.editing.replay import corrected
from trackread.errors import KitError
from trackread.film.sound import RATE
from trackread.mouths.drawing import svg_of
from trackread.notes.action import action_cells
from trackread.notes.camera import camera_cells
from trackread.workflow.desk_doubts import WORTH
from trackread.workflow.desk_sound import tag_of
from trackread.workflow.desk_take import AtDesk, Plain, desk_take
from trackread.workflow.floor import FloorFile
from trackread.workflow.kit_pages import kit_named
from trackread.workflow.kits import looks_of
from trackread.workflow.material import Material, reading_of
from trackread.workflow.pinning import brief_named
from trackread.workflow.seen_take import SeenTake
from trackread.workflow.shot_brief import HeardTake, ShotBrief
from trackread.workflow.shot_mouths import by_character, kits_of
from trackread.workflow.shot_sheet import Bodies, dissolves, placed_at, reading_ids, said_in_cut, voices_of
from trackread.workflow.shot_told import NoteKind
from trackread.workflow.shots import sheet_wish


@dataclass(frozen=True, slots=True)
class ShotAtDesk:
    """A shot with what it is made from, and the takes that are heard in it and have been read, by their names."""

    material: Material
    brief: ShotBrief
    takes: Mapping[str, AtDesk]

    @property
    def revision(self) -> str:
        return revision_of(self.material, self.brief)


def shot_at_desk(book: Book, material: Material, name: str, character: str | None = None) -> ShotAtDesk:
    """A shot for the desk, or of it what one character says. Raises CutError if there is no such shot."""
    brief = brief_named(material, name)
    if character is not None:
        brief = replace(brief, heard=tuple(one for one in brief.heard if one.character == character))
    bodies = readings_with(book, reading_ids([brief]))
    return ShotAtDesk(material, brief, dict(takes_of(material, brief, bodies)))


def revision_of(material: Material, brief: ShotBrief) -> str:
    """What tells two states of what people set of a shot's mouths apart."""
    return "-".join(map(str, (material.number, *seen_notes(material, brief).values())))


def seen_notes(material: Material, brief: ShotBrief) -> dict[NoteKind, int]:
    """The numbers of the notes that say what is set of a shot's mouths, 0 where there is none."""
    notes = material.notes.get(brief.shot.name, {})
    return {kind: notes[kind].id if kind in notes else 0 for kind in (NoteKind.MOUTHS, NoteKind.KITS)}


def takes_of(material: Material, brief: ShotBrief, bodies: Bodies) -> Iterator[tuple[str, AtDesk]]:
    """The takes of a shot that have been read, each once."""
    for one in {one.take.name: one for one in brief.heard}.values():
        if one.reading is not None:
            reading = reading_from_plain(cast(PlainReading, bodies[one.reading]))
            yield one.take.name, take_of(material, one, reading)


def take_of(material: Material, one: HeardTake, first: Reading) -> AtDesk:
    """A take as the desk has it by itself, from what is known of the whole shot."""
    production, line = material.production, material.lines[one.line].line
    notes = material.corrections.get((one.take.session, one.take.place), ())
    _, text = reading_of(material, one.take)
    counting = Counting(first.sound.sample_rate, production.rate, production.first_frame)
    old_words = "" if text == line.text else text
    seen = SeenTake(one.take, first, corrected(first, one.corrections), notes, counting, old_words)
    return AtDesk(seen, line, f"{one.reading}-{len(notes)}")


def plain_shot(one: ShotAtDesk) -> Plain:
    """A shot with all its voices and takes."""
    brief, production = one.brief, one.material.production
    shot, rate = brief.shot, production.rate.per_second
    return {
        "shot": shot.name,
        "scene": brief.scene,
        "about": brief.told.about,
        "revision": one.revision,
        "rate": {"num": rate.numerator, "den": rate.denominator, "name": production.rate.name},
        "frames": shot.seen,
        "first_frame": production.first_frame,
        "film_frame": shot.first,
        "sample_rate": RATE,
        "samples": first_sample_of(shot.seen, RATE, production.rate),
        "sound": tag_of(one.material, shot),
        "ipa": production.ipa,
        "worth": WORTH,
        "warnings": list(brief.warnings),
        "remarks": list(brief.remarks),
        "action": plain_cells((*dissolves(brief), *action_cells(brief.told.action, shot.seen))),
        "camera": plain_cells(camera_cells(brief.told.camera, shot.seen)),
        **plain_voices(one),
    }


def plain_voices(one: ShotAtDesk) -> Plain:
    """The voices of a shot, or the one that was asked for, with their takes."""
    readings = {name: take.seen.reading for name, take in one.takes.items()}
    wish = sheet_wish(one.material.production)
    voices = voices_of(one.brief, readings, wish, with_sound=False)
    return {
        "revision": one.revision,
        "voices": [plain_voice(one, voice) for voice in voices],
        "takes": {name: plain_take(take) for name, take in one.takes.items()},
    }


def plain_take(one: AtDesk) -> Plain:
    """A take, and when it was corrected last."""
    notes = one.seen.notes
    return {**desk_take(one), "changed": notes[-1].time if notes else ""}


def plain_voice(one: ShotAtDesk, voice: Voice) -> Plain:
    """A voice as the sheet has it, with its takes where they play, its kit, and what is pinned."""
    name, brief = voice.character, one.brief
    puppet = None if voice.extension else by_character(brief.mouthed).get(name)
    pins = (one.pin for one in brief.told.pins if one.character == name)
    heard = sorted((one for one in brief.heard if one.character == name), key=placed_at)
    return {
        **plain_of(voice),
        "kit": puppet.kit.name if puppet else "",
        "kits": [one.kit.name for one in kits_of(one.material.kits, name)] if puppet else [],
        "pins": plain_cells(pins),
        "placed": [plain_placed(one, each) for each in heard],
    }


def plain_placed(one: ShotAtDesk, heard: HeardTake) -> Plain:
    """A take on the frames of the shot: on which it plays, some perhaps outside, and on which it is seen."""
    shot, placement = one.brief.shot, heard.placement
    found: Plain = {
        "take": heard.take.name,
        "line": heard.line,
        "text": heard.text,
        "plays": [placement.at - shot.first, placement.heard_stop - shot.first],
        "seen": [heard.frames.start - shot.first, heard.frames.stop - shot.first],
    }
    if heard.take.name not in one.takes:
        return found
    reading = one.takes[heard.take.name].seen.reading
    clock = said_in_cut(heard, reading, sheet_wish(one.material.production).terms).clock
    return {**found, **plain_clock(clock, shot.first)}


def plain_clock(clock: Clock, first: int) -> Plain:
    """A clock on the frames from `first` on, in the smallest whole numbers, which a browser must count with exactly."""
    offset = clock.offset - first * clock.scale
    shared = gcd(clock.per, offset, clock.scale)
    return {"per": clock.per // shared, "offset": offset // shared, "scale": clock.scale // shared}


def plain_cells(cells: Iterable[object]) -> list[Plain]:
    return [plain_of(cell) for cell in cells]


def kit_mouth(book: Book, kit: str, mouth: str) -> FloorFile:
    """What a mouth of a kit looks like. Raises KitError if there is none such."""
    one = kit_named(book.folder, kit).one
    look = looks_of(one).get(mouth)
    if look is None:
        raise KitError(f"the kit {one.kit.name} has no mouth {mouth!r}")
    content, kind = (look, "image/png") if isinstance(look, bytes) else (svg_of(look).encode(), "image/svg+xml")
    return FloorFile(content, kind)
