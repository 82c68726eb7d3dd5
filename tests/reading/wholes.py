"""Whole files read through `open_recording`, for tests of how files of each kind are read."""

from trackread.errors import SoundError
from trackread.reading.long_recordings import open_recording


def all_of(path, channel=None, **how):
    """A whole file as `open_recording` reads it."""
    recording = open_recording(path)
    return recording.piece(0, recording.format.frames, channel, **how)


def refusal_of(path):
    """The words in which a file is refused, None if all of it can be read; any other error is a failure."""
    try:
        all_of(path, 1)
    except SoundError as error:
        return str(error)
    return None
