"""Mouths that a person sets: which kit a puppet wears in a shot, and mouths pinned on its frames.

Frames are numbered as on the sheet, the first and the last that are meant.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from trackread.book.book import Book
from trackread.book.shot_notes import tell_of_shot
from trackread.core.cut import Shot
from trackread.core.mouth import Kit, Pin
from trackread.core.timebase import Frame
from trackread.cutting.by_hand import find_shot
from trackread.errors import CutError, KitError
from trackread.workflow.material import Material, gather
from trackread.workflow.shot_brief import ShotBrief, brief_of
from trackread.workflow.shot_mouths import Puppet
from trackread.workflow.shot_told import CharacterPin, NoteKind, plain_pin, timed_body

FRAMES = re.compile(r"\s*(-?[0-9]{1,7})\s*(?:(?:-|to|–)\s*(-?[0-9]{1,7}))?\s*")


def pin_mouth(book: Book, name: str, frames: str, mouth: str, *, character: str | None, author: str) -> str:
    """Sets a mouth by hand, and says in words what was set.

    Raises CutError for a shot or frames that there are none of, KitError for a mouth or a puppet without one.
    """
    brief = brief_named(gather(book), name)
    puppet = puppet_named(brief, character)
    first, stop = frames_meant(frames, brief.shot, book.production.first_frame)
    pin = Pin(mouth_named(puppet.kit, mouth), first, stop)
    kept = [*without(brief.told.pins, puppet.character, first, stop), CharacterPin(puppet.character, pin)]
    keep_pins(book, brief.shot, kept, author)
    return f"{brief.shot.name}: {puppet.character} wears {pin.mouth!r} on {numbers(first, stop, book)}"


def unpin(book: Book, name: str, frames: str | None, *, character: str | None, author: str) -> str:
    """Lets the plan choose again on some frames, or on all of a shot, and says so in words.

    Raises CutError for a shot or frames that there are none of, KitError if nothing is pinned there.
    """
    brief = brief_named(gather(book), name)
    who = puppet_named(brief, character).character
    first, stop = frames_meant(frames, brief.shot, book.production.first_frame) if frames else (None, None)
    own = [one for one in brief.told.pins if one.character == who]
    if first is None or stop is None:
        kept = [one for one in brief.told.pins if one.character != who]
        touched = own
    else:
        kept = list(without(brief.told.pins, who, first, stop))
        touched = [one for one in own if one.pin.first < stop and first < one.pin.stop]
    if not touched:
        raise KitError(f"{brief.shot.name}: no mouth of {who} is pinned there: `trackread mouths plan` shows what is")
    keep_pins(book, brief.shot, kept, author)
    where = numbers(first, stop, book) if first is not None and stop is not None else "all frames"
    return f"{brief.shot.name}: the plan chooses {who}'s mouths on {where}"


def wear(book: Book, name: str, kit: str, *, author: str) -> str:
    """Says which kit its character wears in a shot, in words as well. Raises KitError for one that there is none of."""
    material = gather(book)
    brief = brief_named(material, name)
    found = {one.kit.name.casefold(): one.kit for one in material.kits}
    if kit.strip().casefold() not in found:
        raise KitError(
            f"there is no kit {kit!r}: there are {', '.join(one.kit.name for one in material.kits) or 'none'}"
        )
    chosen = found[kit.strip().casefold()]
    who = material.cast.name(chosen.character)
    keep_kit(book, brief, who, chosen.name, author)
    return f"{brief.shot.name}: {who} wears the kit {chosen.name}"


def brief_named(material: Material, name: str) -> ShotBrief:
    """The brief of a shot. Raises CutError for one that there is none of."""
    return brief_of(material, find_shot(material.cut, name))


def puppet_named(brief: ShotBrief, character: str | None) -> Puppet:
    """The puppet of a character in a shot, or the only one there is. Raises KitError if that leaves none."""
    names = [puppet.character for puppet in brief.mouthed]
    if not names:
        raise KitError(f"{brief.shot.name} has no puppet with a kit: `trackread kit new` makes one for a character")
    if character is None and len(names) > 1:
        raise KitError(f"{brief.shot.name} has {', '.join(names)}: say whose mouth, with --character")
    wanted = names[0] if character is None else character.strip()
    for puppet in brief.mouthed:
        if puppet.character.casefold() == wanted.casefold():
            return puppet
    raise KitError(f"{brief.shot.name} has no puppet of {character!r} with a kit: there are {', '.join(names)}")


def mouth_named(kit: Kit, wanted: str) -> str:
    """A mouth's name, by itself in any case or by its number in the kit. Raises KitError if there is none such."""
    text = wanted.strip()
    if text.isascii() and text.isdigit() and 1 <= int(text) <= len(kit.mouths):
        return kit.mouths[int(text) - 1].name
    for mouth in kit.mouths:
        if mouth.name.casefold() == text.casefold():
            return mouth.name
    names = ", ".join(f"{number} {mouth.name}" for number, mouth in enumerate(kit.mouths, 1))
    raise KitError(f"{wanted!r} is no mouth of the kit {kit.name}: use one of {names}")


def frames_meant(text: str, shot: Shot, first_number: int) -> tuple[Frame, Frame]:
    """`12-15` or `12` as the sheet numbers them, from the first frame to before the one after. Raises CutError."""
    found = FRAMES.fullmatch(text)
    last_number = first_number + shot.seen - 1
    if found is None:
        raise CutError(f"{text!r} are no frames: write them as 12-15, or 12 for one")
    first, last = int(found[1]), int(found[2] or found[1])
    if not first_number <= first <= last <= last_number:
        raise CutError(f"{shot.name} has the frames {first_number} to {last_number}, not {text.strip()}")
    return Frame(first - first_number), Frame(last - first_number + 1)


def without(pins: Sequence[CharacterPin], character: str, first: Frame, stop: Frame) -> Iterator[CharacterPin]:
    """The pins but for those of a character on some frames; what lies outside of these is left of one."""
    for one in pins:
        pin = one.pin
        if one.character != character or pin.stop <= first or stop <= pin.first:
            yield one
            continue
        if pin.first < first:
            yield replace(one, pin=replace(pin, stop=first))
        if stop < pin.stop:
            yield replace(one, pin=replace(pin, first=stop))


def keep_pins(book: Book, shot: Shot, pins: Sequence[CharacterPin], author: str, *, after: int | None = None) -> None:
    """Keeps all pins of a shot. Raises ClashError if there is a newer note of them than `after`, which was seen."""
    ordered = sorted(pins, key=lambda one: (one.character, one.pin.first))
    told: dict[str, dict[str, object]] = {NoteKind.MOUTHS: timed_body(shot, pins=[plain_pin(one) for one in ordered])}
    tell_of_shot(book, shot.name, told, author, after=after)


def keep_kit(book: Book, brief: ShotBrief, who: str, kit: str, author: str, *, after: int | None = None) -> None:
    """Keeps which kit a character wears in a shot; `after` as `keep_pins` has it."""
    told: dict[str, dict[str, object]] = {NoteKind.KITS: {"kits": {**dict(brief.told.kits), who: kit}}}
    tell_of_shot(book, brief.shot.name, told, author, after=after)


def numbers(first: Frame, stop: Frame, book: Book) -> str:
    """`12 to 15`, as the sheet numbers them."""
    number = book.production.first_frame
    return str(number + first) if stop - first == 1 else f"{number + first} to {number + stop - 1}"
