"""Mouths set at the desk: on the frames of a shot that are named, on the revision of it that the editor sees.

Frames count from the shot's first, `stop` is not included.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.book.shot_notes import ShotNote
from trackread.core.mouth import Pin
from trackread.core.timebase import Frame
from trackread.errors import ClashError, CutError, KitError
from trackread.workflow.desk_corrections import text, whole
from trackread.workflow.desk_shot import revision_of, seen_notes
from trackread.workflow.material import Material
from trackread.workflow.pinning import brief_named, keep_kit, keep_pins, mouth_named, numbers, puppet_named, without
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_mouths import Puppet, kits_of
from trackread.workflow.shot_told import CharacterPin, NoteKind

Asked = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Setting:
    """What is wanted of a puppet in a shot: `pins` on `frames`, none to let the plan choose there, or another `kit`."""

    puppet: Puppet
    frames: range
    pins: tuple[Pin, ...] = ()
    kit: str = ""


def set_at_desk(book: Book, material: Material, name: str, asked: Asked, *, author: str, revision: str) -> str:
    """Sets a puppet's mouths on some frames of a shot, or its kit, if nobody has since the revision; says whose.

    Raises ClashError if somebody has, CutError for a shot or frames that there are none of, KitError for a mouth, kit
    or puppet that there is none of.
    """
    brief = brief_named(material, name)
    if revision != revision_of(material, brief):
        raise ClashError(f"{brief.shot.name} has been changed since it was looked at: look at it again")
    wanted, seen = setting_asked(material, brief, asked), seen_notes(material, brief)
    who = wanted.puppet.character
    if wanted.kit:
        keep_kit(book, brief, who, wanted.kit, author, after=seen[NoteKind.KITS])
        return who
    left = without(brief.told.pins, who, Frame(wanted.frames.start), Frame(wanted.frames.stop))
    kept = [*left, *(CharacterPin(who, pin) for pin in wanted.pins)]
    keep_pins(book, brief.shot, kept, author, after=seen[NoteKind.MOUTHS])
    return who


def setting_asked(material: Material, brief: ShotBrief, asked: Asked) -> Setting:
    """What is asked for. Raises as `set_at_desk` does, and CorrectionError for what means nothing."""
    puppet = puppet_named(brief, text(asked, "character"))
    if "kit" in asked:
        names = [one.kit.name for one in kits_of(material.kits, puppet.character)]
        if asked["kit"] not in names:
            raise KitError(f"{puppet.character} has no kit {asked['kit']!r}: there are {', '.join(names)}")
        return Setting(puppet, range(0), kit=text(asked, "kit"))
    frames = frames_asked(material, brief, asked, within=range(brief.shot.seen))
    return Setting(puppet, frames, tuple(pins_asked(material, brief, asked, puppet, within=frames)))


def pins_asked(material: Material, brief: ShotBrief, asked: Asked, puppet: Puppet, *, within: range) -> Iterator[Pin]:
    """The pins that are asked for, no two on one frame."""
    found = asked.get("pins")
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        raise KitError("pins is no list of mouths: say each with its mouth, first and stop")
    first = within.start
    for one in sorted(found, key=lambda one: whole(one, "first")):
        frames = frames_asked(material, brief, one, within=range(first, within.stop))
        first = frames.stop
        yield Pin(mouth_named(puppet.kit, text(one, "mouth")), Frame(frames.start), Frame(frames.stop))


def frames_asked(material: Material, brief: ShotBrief, asked: Asked, *, within: range) -> range:
    first, stop, number = whole(asked, "first"), whole(asked, "stop"), material.production.first_frame
    if not within.start <= first < stop <= within.stop:
        right = f"frames {number + within.start} to {number + within.stop - 1}" if within else "no frame"
        raise CutError(
            f"{brief.shot.name}: {right} can be set here, not those from {number + first} to {number + stop - 1}"
        )
    return range(first, stop)


def asked_in_words(book: Book, material: Material, name: str, asked: Asked) -> str:
    """What was asked for, in words, whether or not it can be done now."""
    try:
        brief = brief_named(material, name)
        wanted = setting_asked(material, brief, asked)
    except (CutError, KitError) as error:
        return str(error)
    who = wanted.puppet.character
    if wanted.kit:
        return f"{brief.shot.name}: {who} wears the kit {wanted.kit}"
    where = numbers(Frame(wanted.frames.start), Frame(wanted.frames.stop), book)
    return f"{brief.shot.name}: {worn_in_words(who, wanted.pins, where, book)}"


def worn_in_words(who: str, pins: tuple[Pin, ...], where: str, book: Book) -> str:
    if not pins:
        return f"the plan chooses {who}'s mouths on {where}"
    return f"{who} wears " + ", ".join(f"{one.mouth!r} on {numbers(one.first, one.stop, book)}" for one in pins)


def set_since(book: Book, material: Material, name: str, asked: Asked, *, revision: str) -> list[dict[str, object]]:
    """What others have set in a shot since a revision, in words: on the frames that are asked for, and else."""
    brief = brief_named(material, name)
    now, then = [revision_of(material, brief).split("-"), revision.split("-")]
    notes = material.notes.get(brief.shot.name, {})
    kinds = (NoteKind.MOUTHS, NoteKind.KITS)
    changed = [kind for kind, new, old in zip(kinds, now[1:], [*then, "", ""][1:], strict=False) if new != old]
    return [plain_note(book, brief, notes[kind], asked) for kind in changed if kind in notes]


def plain_note(book: Book, brief: ShotBrief, note: ShotNote, asked: Asked) -> dict[str, object]:
    """Who has set what, and when."""
    if note.kind == NoteKind.KITS:
        words = ", ".join(f"{who} wears the kit {kit}" for who, kit in brief.told.kits)
    else:
        first, stop = (asked.get(key) for key in ("first", "stop"))
        ends = (first, stop) if isinstance(first, int) and isinstance(stop, int) else (0, brief.shot.seen)
        pins = [one for one in brief.told.pins if one.pin.first < ends[1] and ends[0] < one.pin.stop]
        each = [
            f"{one.character} wears {one.pin.mouth!r} on {numbers(one.pin.first, one.pin.stop, book)}" for one in pins
        ]
        others = len(brief.told.pins) - len(pins)
        words = "; ".join(each or ["nothing is pinned on these frames"]) + (
            f"; {others} more elsewhere" if others else ""
        )
    return {"by": note.author, "time": note.time, "words": words}
