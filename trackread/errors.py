"""Everything a person can get wrong, as one tree: the message is the whole explanation.

A message says which thing, what is wrong with it and what would be right, in the user's words,
with `file:line` in front where there is one. Caught in the command line's main and nowhere else.
"""


class TrackreadError(Exception):
    """Root of all errors that a user can mend."""


class TimecodeError(TrackreadError):
    """A timecode label that does not exist."""

    def __init__(self, text: str, expected: str) -> None:
        super().__init__(f"{text!r} is not a timecode: {expected}")


class FootageError(TrackreadError):
    """A footage label that does not exist."""

    def __init__(self, text: str, expected: str) -> None:
        super().__init__(f"{text!r} is not a footage: {expected}")


class RateError(TrackreadError):
    """A frame rate that no picture runs at."""


class SoundError(TrackreadError):
    """A sound file that cannot be read, or holds nothing to read."""


class LineError(TrackreadError):
    """A line that has no words which could be spoken."""


class ScriptError(TrackreadError):
    """A screenplay that cannot be read as lines; all problems of a file at once."""


class ProductionError(TrackreadError):
    """A production.toml that cannot be used, or a folder that holds no production; all problems of a file at once."""


class BookError(TrackreadError):
    """A book that cannot be opened, or that does not hold what is asked for."""


class ClashError(TrackreadError):
    """Something was changed by somebody else since it was looked at; nothing of either is lost."""


class CorrectionError(TrackreadError):
    """A correction that a reading cannot take."""


class CutError(TrackreadError):
    """Cut lists that cannot be taken as a cut; all problems of all files at once."""


class NotesError(TrackreadError):
    """A table of notes of a shot that cannot be used; all problems of a file at once."""


class KitError(TrackreadError):
    """A kit of mouths that cannot be used; all problems of a file at once."""


class LexiconError(TrackreadError):
    """A pronunciation that cannot be used; all problems of a file at once."""


class ReadingError(TrackreadError):
    """A take that could not be read."""


class LabelError(TrackreadError):
    """Labels made by people that cannot be used for scoring."""


class SheetError(TrackreadError):
    """A sheet that cannot be printed as asked."""


class FilmError(TrackreadError):
    """A check movie that cannot be made as asked."""


class OutputError(TrackreadError):
    """A file that cannot be written."""


class ServingError(TrackreadError):
    """A server that cannot be started as asked."""
