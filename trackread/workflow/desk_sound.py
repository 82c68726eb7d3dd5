"""The sound of a shot as it is now, kept for whoever asks for it piece by piece: its first sample begins frame 0."""

import hashlib

from trackread.core.cut import Shot
from trackread.cutting.by_hand import find_shot
from trackread.film.wave import wave_of
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.material import Material
from trackread.workflow.shot_sound import shot_sound

SHOT = "shot at the desk"  # what these sounds are kept as, beside those of sheets that are out


def tag_of(material: Material, shot: Shot) -> str:
    """What tells two sounds of a shot apart: all that is placed in it, and the channels that were listened to."""
    pieces = material.pieces[shot.name]
    channels = {
        piece.placement.sound.digest: [
            material.sessions[number].channel for number in material.heard_in.get(piece.placement.sound.digest, ())
        ]
        for piece in pieces
        if piece.placement.sound
    }
    said = repr((material.cut.rate, shot.first, shot.seen, pieces, channels))
    return hashlib.sha256(said.encode()).hexdigest()[:32]


def sound_of(sheets: KeptSheets, name: str, tag: str = "") -> tuple[bytes, str]:
    """The sound of a shot as a wave file, with its tag; one that was told before stays while it is kept.

    Raises CutError if there is no such shot, SoundError where a recording is missing.
    """
    found = sheets.sounds.found((SHOT, tag))
    if found is not None:
        return found, tag
    material = sheets.material.now().material
    shot = find_shot(material.cut, name)
    tag = tag_of(material, shot)
    return sheets.sounds.content((SHOT, tag), lambda: wave_of(shot_sound(sheets.book, material, shot))), tag
