"""Notes of shots of The Late Tram, and what is told of tables that are wrong."""

from fractions import Fraction

import pytest

from trackread.core.timebase import Frame
from trackread.errors import NotesError
from trackread.notes.camera import Key


def a_key(frame, value, axis="pan"):
    return Key(Frame(frame), axis, Fraction(value))


def keys_at(*places, axis="pan"):
    """Keys of one axis from pairs of a frame and a value."""
    return [a_key(frame, value, axis) for frame, value in places]


def problems_of(read, text, first_number=1):
    """What is told of a table, line by line."""
    with pytest.raises(NotesError) as error:
        read(text, "notes.csv", first_number)
    return str(error.value).split("\n")
