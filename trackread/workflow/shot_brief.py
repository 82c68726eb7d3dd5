"""What a shot's sheet is made from: the takes that are heard in it, and what people told of it.

A brief is small and can be sent to another process; `rests_on` (shot_rests.py) is all of it that a sheet depends on.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trackread.core.clock import clock_of_placement
from trackread.core.correction import Correction
from trackread.core.cut import Piece, Placement, Shot, position_at
from trackread.core.plain_correction import correction_from_plain
from trackread.core.script import speaker_of
from trackread.core.session import StretchKind, Take
from trackread.core.timebase import FrameRate
from trackread.cutting.comparing import lost_at_head
from trackread.cutting.words import sound_name
from trackread.workflow.material import Material, line_placed, reading_of, scene_rule
from trackread.workflow.shot_mouths import Puppet, doubts, puppets_in
from trackread.workflow.shot_told import Told, told_of

# Of a stretch that may be a line, fewer frames than this beside a take are the take's handle (no source).
LEAST_UNSURE = 6


@dataclass(frozen=True, slots=True)
class HeardTake:
    """A take as it is heard in a shot, on `frames` of the cut.

    `text` is what its line says now, "" if the script has the line no more; `reading` is the number of the reading that
    counts, None if it has not been read; `corrections` are those made since.
    """

    take: Take
    placement: Placement
    frames: range
    line: str
    character: str
    extension: str
    text: str
    reading: int | None
    corrections: tuple[Correction, ...]


@dataclass(frozen=True, slots=True)
class ShotBrief:
    """A shot and all that its sheet shows. `scene` is "" where nobody can say.

    `warnings` are what the animator must know, `remarks` what the editor should; `unknown` are sounds that play in it
    and are of no known recording. `mouthed` are the puppets whose mouths are planned; on twos these change on frame
    `beat` of the shot, 0 or 1, and on every second one.
    """

    shot: Shot
    scene: str
    heard: tuple[HeardTake, ...]
    told: Told
    listeners: tuple[str, ...]
    warnings: tuple[str, ...]
    remarks: tuple[str, ...]
    unknown: tuple[str, ...] = ()
    mouthed: tuple[Puppet, ...] = ()
    beat: int = 0

    @property
    def window(self) -> range:
        """The frames of the cut on which the shot is seen."""
        return range(self.shot.first, self.shot.first + self.shot.seen)

    @property
    def puppets(self) -> tuple[str, ...]:
        """Who is seen in it, as far as is known: who is told to be, and who speaks with a mouth that is seen."""
        speaking = [one.character for one in self.heard if not one.extension]
        return tuple(dict.fromkeys([*speaking, *self.told.present]))


def brief_of(material: Material, shot: Shot) -> ShotBrief:
    """The brief of a shot."""
    pieces = material.pieces[shot.name]
    heard = [one for piece in pieces for one in heard_in(material, shot, piece)]
    takes = [one for one in heard if one.take.kind is StretchKind.TAKE]
    told = told_of(material.notes.get(shot.name, {}), shot, material.cut.rate)
    scene = scene_of(material, shot, takes, told)
    seen = [*(one.character for one in takes if not one.extension), *told.present]
    return ShotBrief(
        shot=shot,
        scene=scene,
        heard=in_cast_order(material, takes),
        told=told,
        listeners=listeners(material, scene, takes, told),
        warnings=tuple(warnings(pieces, heard, shot, material.production.first_frame)),
        remarks=(*told.remarks, *talk(heard), *doubts(material.kits, seen, told)),
        unknown=tuple(unknown_sounds(pieces)),
        mouthed=tuple(puppets_in(material.kits, seen, told)),
        beat=beat_of(material, shot),
    )


def heard_in(material: Material, shot: Shot, piece: Piece) -> Iterator[HeardTake]:
    """The stretches of speech, takes or not, that are heard of a piece within a shot."""
    placement = piece.placement
    if placement.sound is None:
        return
    frames = range(shot.first + piece.first, shot.first + piece.stop)
    first, stop = samples_of(placement, frames, material.cut.rate)
    for take in material.takes_between(placement.sound.digest, first, stop):
        on = frames_of(take, placement, frames, material.cut.rate)
        if on:
            yield heard_take(material, take, placement, on)


def samples_of(placement: Placement, frames: range, rate: FrameRate) -> tuple[int, int]:
    """The samples of the recording that are heard on some frames, the first and the one after the last."""
    ends = sorted(position_at(placement, frame, rate) for frame in (frames.start, frames.stop))
    return ends[0].numerator // ends[0].denominator, -(-ends[1].numerator // ends[1].denominator)


def frames_of(take: Take, placement: Placement, frames: range, rate: FrameRate) -> range:
    """Those of the frames on which any of a take is heard."""
    first, stop = clock_of_placement(placement, rate).frames(take.stretch.start, take.stretch.stop)
    return range(max(first, frames.start), min(stop, frames.stop))


def heard_take(material: Material, take: Take, placement: Placement, frames: range) -> HeardTake:
    """A take with its line, as it is now, and the reading that counts."""
    known = material.lines.get(take.line or "")
    reading, _ = reading_of(material, take)
    notes = material.corrections.get((take.session, take.place), ())
    return HeardTake(
        take=take,
        placement=placement,
        frames=frames,
        line=take.line or "",
        character=material.cast.name(known.line.character) if known else "",
        extension=known.line.extension if known else "",
        text=known.line.text if known and known.current else "",
        reading=reading.id if reading else None,
        corrections=tuple(correction_from_plain(note.body) for note in notes) if reading else (),
    )


def beat_of(material: Material, shot: Shot) -> int:
    """The frame on which twos change: the first, but where a shot was issued, the one that was it then stays it."""
    issued = material.issued.get(shot.name)
    if issued is None:
        return 0
    lost = lost_at_head(issued.shot, shot, material.cut.rate)
    return (issued.beat - (lost or 0)) % 2


def scene_of(material: Material, shot: Shot, heard: Sequence[HeardTake], told: Told) -> str:
    """The scene of a shot: as it is told, else by the rule for its code, else that of the first line in it."""
    rule = scene_rule(material.production)
    found = rule.search(shot.code) if rule else None
    lines = (material.lines[one.line].line.scene for one in heard if one.line in material.lines)
    return told.scene or (found[1] if found and found[1] else "") or next(lines, "")


def in_cast_order(material: Material, heard: Sequence[HeardTake]) -> tuple[HeardTake, ...]:
    """Takes by who speaks, in the order of production.toml and then of speaking, so that sheets have like columns."""
    cast = [speaker_of(one.name) for one in material.production.characters]
    spoken = list(dict.fromkeys(one.character for one in sorted(heard, key=start_of)))

    def order(one: HeardTake) -> tuple[int, int, int]:
        name = speaker_of(one.character)
        return cast.index(name) if name in cast else len(cast), spoken.index(one.character), start_of(one)

    return tuple(sorted(heard, key=order))


def start_of(one: HeardTake) -> int:
    return one.frames.start


def listeners(material: Material, scene: str, heard: Sequence[HeardTake], told: Told) -> tuple[str, ...]:
    """Who is there and does not speak: those who are told to be present, else all who speak in the scene."""
    present = told.present or material.spoken_in.get(scene, ())
    speaking = {speaker_of(one.character) for one in heard}
    return tuple(name for name in present if speaker_of(name) not in speaking)


def warnings(pieces: Sequence[Piece], heard: Sequence[HeardTake], shot: Shot, first_number: int) -> Iterator[str]:
    """What must not be missed on a sheet: words that cannot be on it, and why."""
    number = first_number - shot.first
    for one in heard:
        on = f"frames {number + one.frames.start} to {number + one.frames.stop - 1}"
        alone = not any(other.placement is one.placement and other is not one for other in heard)
        if one.take.kind is StretchKind.UNSURE and (alone or len(one.frames) >= LEAST_UNSURE):
            yield f"{on}: {one.take.name} may be a line, and nobody has said which"
        elif one.take.kind is StretchKind.TAKE and one.reading is None:
            yield f"{on}: {one.take.name} has not been read, so its words are missing"
    for piece in pieces:
        if line := line_placed(piece.placement):
            yield f"from frame {first_number + piece.first}: {line} has no take yet"


def talk(heard: Sequence[HeardTake]) -> Iterator[str]:
    """Pieces of recordings in which nothing is heard but what was found to be no take."""
    takes = [one.placement for one in heard if one.take.kind in (StretchKind.TAKE, StretchKind.UNSURE)]
    for one in heard:
        if not any(one.placement is placement for placement in takes):
            yield f"{one.take.name} ({one.placement.place}) is {one.take.kind.value}, not a take"


def unknown_sounds(pieces: Sequence[Piece]) -> Iterator[str]:
    """Sounds of a shot whose recording is not known, and where the list has them."""
    for piece in pieces:
        if piece.placement.sound is None and not line_placed(piece.placement):
            yield f"{sound_name(piece.placement)} ({piece.placement.place})"
