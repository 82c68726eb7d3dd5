"""A short voice session of The Late Tram, joined from the demo's takes, its script, and a production to bring it into.

The reel (24 kHz, 29 s), with room between the takes:
    L0001 whole; L0002 whole, twice; L0006 cut off after 2.6 s; L0003, which L0005 sounds like; L0004 whole
"""

import csv
import io
from concurrent.futures import Executor, Future
from contextlib import nullcontext

import numpy as np
import soundfile

from tests.book.makers import a_production
from tests.cli.tram import script_of
from tests.waves import encoded, fmt, wave
from trackread.book.book import Book
from trackread.book.readings import find_reading, keys_of
from trackread.book.sessions import pieces_done, sessions
from trackread.book.takes import takes
from trackread.workflow.demo import demo_takes
from trackread.workflow.session_work import Arrival, bring_in
from trackread.workflow.workers import Workers

RATE = 24000
ACORNS = "I have two acorns."
LINES = (
    ("7", "MISS PELL", "Tickets, please. Every seat, every ticket."),
    ("7", "TUM", "Please, Miss Pell! It is such a long way to walk."),
    ("7", "TUM", ACORNS),
    ("7", "MISS PELL", "Sit down, small hat. Mumblethorpe is next."),
    ("8", "TUM", ACORNS),
    ("8", "BRACK", "This is the route 42, calling at Lantern Bridge, the Old Mill, and Mumblethorpe."),
)
# Demo takes by their numbers, seconds of them where they are cut off, and seconds of room after each.
REEL = ((3, None, 1.2), (10, None, 1.0), (10, None, 1.4), (2, 2.6, 1.2), (12, None, 1.2), (14, None, 1.0))
# What is found in it, in order.
FOUND = ("L0001-1", "L0002-1", "L0002-2", "L0006-1", "S1-005", "L0004-1")
ROOM = 0.001  # -60 dB


def voice(number, seconds=None):
    """A take of the demo; one that is cut off falls silent within 15 ms, as a voice does."""
    samples = soundfile.read(demo_takes()[number - 1].path, dtype="float64")[0]
    if seconds:
        samples = samples[: int(seconds * RATE)]
        samples[-360:] *= np.linspace(1, 0, 360)
    return samples


def joined(parts=REEL):
    """The samples of a reel."""
    pieces = [np.zeros(RATE)]
    for number, seconds, rest in parts:
        pieces += [voice(number, seconds), np.zeros(int(rest * RATE))]
    signal = np.concatenate(pieces)
    return signal + np.random.default_rng(1).normal(0, ROOM, len(signal))


def write_reel(path, parts=REEL, *, after=b"", lost=0):
    """Writes a reel as a wave file with chunks `after` its sound, and without its last `lost` bytes."""
    content = wave(encoded(joined(parts)), fmt=fmt(rate=RATE), after=after)
    path.write_bytes(content[: len(content) - lost])
    return path


def script_text(lines=LINES):
    """A draft as a table."""
    rows = io.StringIO()
    csv.writer(rows).writerows([("scene", "character", "line"), *lines])
    return rows.getvalue()


def a_tram(folder, lines=LINES, **changes):
    """An open book with a draft of these lines, if there are any."""
    book = Book.create(folder, a_production(**changes))
    if lines:
        script_of(book, folder.parent, script_text(lines))
    return book


class Stopped(Exception):  # noqa: N818
    """The work was stopped, as by a person."""


class Here(Executor):
    """Does tasks in this process as they come, and stops before there are more than `most`."""

    def __init__(self, most=1000):
        self.most = most
        self.tasks = []

    def submit(self, work, task):
        if len(self.tasks) == self.most:
            raise Stopped
        self.tasks.append(task)
        future = Future()
        future.set_result(work(task))
        return future


def workers_here(most=1000):
    return Workers(Here(most), at_once=1)


def unwatched(_doing):
    return nullcontext(lambda _share: None)


def brought(book, path, workers=None, **changes):
    """A recording brought into the book, with what became of it."""
    return bring_in(book, Arrival(path, **changes), "ANN", workers or workers_here(), unwatched)


def everything(book):
    """All that is in a book but for drafts and times of day."""
    return {
        "sessions": [(one.id, one.name, one.sound, one.characters, one.notes) for one in sessions(book)],
        "pieces": [pieces_done(book, one.id) for one in sessions(book)],
        "takes": takes(book),
        "readings": {key: find_reading(book, key) for key in keys_of(book)},
    }
