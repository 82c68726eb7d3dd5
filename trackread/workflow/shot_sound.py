"""What is heard of a shot, for its film: each piece of a recording exactly where the cut has it."""

from collections.abc import Iterator

from trackread.book.book import Book
from trackread.book.sounds import sound_path
from trackread.core.cut import Piece, Shot, known
from trackread.core.timebase import Frame
from trackread.film.mixing import Part, mixed
from trackread.film.sound import Soundtrack
from trackread.reading.long_recordings import open_recording
from trackread.workflow.material import Material
from trackread.workflow.shot_brief import samples_of


def shot_sound(book: Book, material: Material, shot: Shot) -> Soundtrack:
    """The sound of a shot from its first frame to its last, silent where nothing is placed.

    Raises SoundError for a recording that is missing or cannot be read.
    """
    return mixed(parts_of(book, material, shot), shot.seen, material.cut.rate)


def parts_of(book: Book, material: Material, shot: Shot) -> Iterator[Part]:
    """The pieces that are heard in a shot, on its own frames; those of no known recording are left out."""
    for piece in material.pieces[shot.name]:
        part = part_of(book, material, shot, piece) if piece.placement.sound is not None else None
        if part is not None:
            yield part


def part_of(book: Book, material: Material, shot: Shot, piece: Piece) -> Part | None:
    """A piece as it plays; None where the recording is over, or has not begun."""
    placement, rate = piece.placement, material.cut.rate
    sound, _ = known(placement)
    frames = range(shot.first + piece.first, shot.first + piece.stop)
    first, stop = samples_of(placement, frames, rate)
    start, end = max(first, 0), min(stop, sound.length)
    if start >= end:
        return None
    recording = open_recording(sound_path(book, sound.digest))
    channels = {material.sessions[number].channel for number in material.heard_in.get(sound.digest, ())}
    # Of several that were listened to, the cut does not say which one plays.
    channel = channels.pop() if len(channels) == 1 else None
    samples = recording.piece(start, end, channel, mix=channel is None)
    return Part(
        samples=samples,
        sample_rate=sound.sample_rate,
        first=piece.first,
        stop=piece.stop,
        missing=start - first if placement.speed > 0 else stop - end,
        speed=placement.speed,
        fade_in=on_frames(shot, placement.at, placement.fade_in),
        fade_out=on_frames(shot, placement.stop, placement.fade_out),
    )


def on_frames(shot: Shot, first: Frame, length: Frame) -> tuple[int, int] | None:
    """The ends of a fade on frames of the shot, None if there is none."""
    return (first - shot.first, first - shot.first + length) if length else None
