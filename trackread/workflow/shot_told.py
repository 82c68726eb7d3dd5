"""What people told of a shot, as the book's notes have it: kinds of notes, and what they say of the shot as it is now.

What counts frames was told of the shot as it was: each note of that kind keeps it, so that a trim of the shot's head
since then can be allowed for.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any, TypeVar

from trackread.book.shot_notes import ShotNote
from trackread.core.cut import Shot
from trackread.core.mouth import Pin
from trackread.core.plain_cut import shot_from_plain, shot_to_plain
from trackread.core.timebase import Frame, FrameRate
from trackread.cutting.comparing import lost_at_head
from trackread.notes.action import Note
from trackread.notes.camera import Key
from trackread.notes.plain import keys_from_plain, notes_from_plain
from trackread.notes.shifting import shifted

Timed = TypeVar("Timed", Note, Key)


class NoteKind(StrEnum):
    """What a note tells of a shot."""

    SCENE = "scene"
    ABOUT = "about"
    BOARD = "board"
    PRESENT = "present"
    ACTION = "action"
    CAMERA = "camera"
    KITS = "kits"
    MOUTHS = "mouths"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class CharacterPin:
    """A mouth of a character that was set by hand, on frames of the shot."""

    character: str
    pin: Pin


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of a shot, frames counted as it is now. `done` is the first frame that is not shot yet, None where
    nobody said; it may lie before the shot or beyond it if the shot has been trimmed since.

    `board` is the digest of its picture; `every_position` says that the camera's moves are wanted frame by frame.
    `notes` are the numbers of the notes that a sheet shows. `kits` are characters, each with the kit its puppet wears,
    and `pins` mouths that were set by hand.
    """

    scene: str = ""
    about: str = ""
    board: str = ""
    present: tuple[str, ...] = ()
    action: tuple[Note, ...] = ()
    camera: tuple[Key, ...] = ()
    every_position: bool = False
    done: int | None = None
    notes: tuple[tuple[NoteKind, int], ...] = ()
    remarks: tuple[str, ...] = ()
    kits: tuple[tuple[str, str], ...] = ()
    pins: tuple[CharacterPin, ...] = ()


def told_of(notes: Mapping[str, ShotNote], shot: Shot, rate: FrameRate) -> Told:
    """What is told of a shot as it is now."""
    bodies: dict[str, Any] = {kind: note.body for kind, note in notes.items()}
    lost = {kind: lost_since(body, shot, rate) for kind, body in bodies.items() if "shot" in body}
    remarks = [
        f"it has another picture since its {kind} was told: the frames may be others"
        for kind, frames in lost.items()
        if frames is None
    ]

    def timed(kind: NoteKind, told: Sequence[Timed]) -> tuple[Timed, ...]:
        return shifted(told, -(lost.get(kind) or 0))

    done = bodies[NoteKind.DONE]["frames"] - (lost[NoteKind.DONE] or 0) if NoteKind.DONE in bodies else None
    return Told(
        scene=bodies.get(NoteKind.SCENE, {}).get("scene", ""),
        about=bodies.get(NoteKind.ABOUT, {}).get("text", ""),
        board=bodies.get(NoteKind.BOARD, {}).get("digest", ""),
        present=tuple(bodies.get(NoteKind.PRESENT, {}).get("names", ())),
        action=timed(NoteKind.ACTION, notes_from_plain(bodies.get(NoteKind.ACTION, {}).get("notes", ()))),
        camera=timed(NoteKind.CAMERA, keys_from_plain(bodies.get(NoteKind.CAMERA, {}).get("keys", ()))),
        every_position=bodies.get(NoteKind.CAMERA, {}).get("every_position", False),
        done=done,
        notes=tuple((NoteKind(kind), note.id) for kind, note in sorted(notes.items()) if kind != NoteKind.DONE),
        remarks=tuple(remarks),
        kits=tuple(sorted(bodies.get(NoteKind.KITS, {}).get("kits", {}).items())),
        pins=tuple(pins_of(bodies.get(NoteKind.MOUTHS, {}), lost.get(NoteKind.MOUTHS) or 0)),
    )


def pins_of(body: Mapping[str, Any], lost: int) -> Iterator[CharacterPin]:
    """The pins of a note, on frames of the shot as it is now; those cut off its head are kept, as it may grow again."""
    for one in body.get("pins", ()):
        first, stop = Frame(one["first"] - lost), Frame(one["stop"] - lost)
        yield CharacterPin(one["character"], Pin(one["mouth"], first, stop))


def plain_pin(pin: CharacterPin) -> dict[str, object]:
    """A pin as a note has it."""
    return {"character": pin.character, **asdict(pin.pin)}


def lost_since(body: Mapping[str, Any], shot: Shot, rate: FrameRate) -> Frame | None:
    """How many frames the shot's head has lost since a note was made; None where that cannot be told."""
    return lost_at_head(shot_from_plain(body["shot"]), shot, rate)


def timed_body(shot: Shot, **told: object) -> dict[str, object]:
    """The body of a note that counts frames of a shot as it is."""
    return {**told, "shot": shot_to_plain(shot)}
