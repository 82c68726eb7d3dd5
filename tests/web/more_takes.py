"""More takes of BRACK's line for the desk of tests/web/desks.py, so that each test has one of its own on one server."""

import hashlib
from itertools import pairwise

from tests.book.makers import NOTES
from tests.makers import a_reading
from tests.waves import encoded, fmt, noise, wave
from tests.web.desks import PHONES, read_by_hand
from trackread.book.sessions import add_session, number_takes, save_piece
from trackread.book.sounds import keep_sound
from trackread.book.takes import takes
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, first_sample_of


def more_takes(book, folder, *, count=1, rate=48_000, subtype="PCM_16", signal=None):
    """Reads so many takes by hand, one after another in a recording of their own; gives their names.

    A phone is a frame of 24 a second. The recording is noise unless a signal is given: `folder`/reel.wav.
    """
    folder.mkdir()
    edges = [first_sample_of(k, rate, book.production.rate) for k in range(PHONES + 1)]
    samples = noise(count * edges[-1], seed=rate) if signal is None else signal
    its = recorded(book, folder / "reel.wav", samples, rate, subtype)
    places = [Sample(k * edges[-1]) for k in range(count + 1)]
    guess = Guess("L0001", 0.9, Wholeness.WHOLE)
    found = [Stretch(a, b, StretchKind.TAKE, (guess,), "meyend") for a, b in pairwise(places)]
    save_piece(book, its.id, (0, its.sound.length), found)
    number_takes(book, its.id)
    reading = a_reading(lengths=[b - a for a, b in pairwise(edges)], sample_rate=rate)
    names = [take.name for take in takes(book, session=its.id)]
    for name in names:
        read_by_hand(book, name, reading)
    return names


def recorded(book, path, samples, rate, subtype):
    """A session whose recording has these samples."""
    path.write_bytes(wave(encoded(samples, subtype), fmt=fmt(rate=rate, subtype=subtype)))
    sound = Sound(hashlib.sha256(path.read_bytes()).hexdigest(), rate, Sample(len(samples)))
    keep_sound(book, path, sound, 1)
    told = {"channel": None, "characters": (), "stand_in": False, "notes": NOTES, "author": "ANN"}
    return add_session(book, sound, path.stem, **told)
