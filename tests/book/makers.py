"""Productions, drafts, recordings and sessions of The Late Tram made by hand, for tests of the book."""

import hashlib
from fractions import Fraction

from trackread.book.drafts import add_draft, draft_number
from trackread.book.readings import ReadingKey
from trackread.book.sessions import add_session, number_takes, save_piece
from trackread.book.sounds import keep_sound
from trackread.core.production import Character, Production
from trackread.core.script import Script, ScriptLine, line_id
from trackread.core.session import Guess, RecorderNotes, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import FrameRate, Sample

LINES = (
    ("BRACK", "Hold tight! Hold tight, please!"),
    ("MISS PELL", "Tickets, please. Every seat, every ticket."),
    ("TUM", "Don’t look at me. I am only a hat."),
    ("ZOË", "Whose hat is this?"),
)
CHARACTERS = (
    Character("BRACK", ("THE DRIVER",), "a badger's"),
    Character("MISS PELL"),
    Character("TUM"),
)


KEY = ReadingKey("ab" * 32, 1000, 2**40, None, "cd" * 32, "ef" * 32, "", "engine 1")


def a_production(**changes):
    return Production(
        **{"title": "The Late Tram", "rate": FrameRate(Fraction(24)), "characters": CHARACTERS, **changes}
    )


def a_script(said=LINES, *, ids=None, issued=None, title="The Late Tram"):
    """A draft of (character, words); `ids` are the numbers of the lines' ids."""
    ids = ids or range(1, len(said) + 1)
    lines = tuple(
        ScriptLine(line_id(id), number, "7", character, text, 3 * number, "V.O." if number == 1 else "", number == 2)
        for number, (id, (character, text)) in enumerate(zip(ids, said, strict=True), 1)
    )
    digest = hashlib.sha256(repr((said, title)).encode()).hexdigest()
    return Script(title, lines, digest, issued or max(ids, default=0))


def a_draft(book, script=None, *, author="ANN"):
    """Adds a draft to the book."""
    return add_draft(book, script or a_script(), "pink pages", author, after=draft_number(book))


def a_recording(folder, *, content=b"RIFF and so on", name="reel 1.wav", length=48_000_000):
    """A file that stands for a recording, whose samples nobody looks at here, and its sound."""
    path = folder / name
    path.write_bytes(content)
    return path, Sound(hashlib.sha256(content).hexdigest(), 48_000, Sample(length), Sample(3_600 * 48_000))


NOTES = RecorderNotes(description="Brack, night", circled=True, rate="24000/1001", drop=False, tracks=("boom", "lav"))


def a_session(book, folder, *, content=b"RIFF and so on", **changes):
    """Adds a session of a recording that is kept first."""
    path, sound = a_recording(folder, content=content)
    keep_sound(book, path, sound, 2)
    told = {"channel": None, "characters": ("BRACK",), "stand_in": False, "notes": NOTES, "author": "ANN"}
    return add_session(book, sound, "reel 1", **{**told, **changes})


def a_take(start, line="L0001", *others, wholeness=Wholeness.WHOLE):
    """A stretch that is a take of `line`, and might be one of `others`."""
    guesses = tuple(Guess(one, 0.9 / place, wholeness) for place, one in enumerate((line, *others), 1))
    return Stretch(Sample(start), Sample(start + 50), StretchKind.TAKE, guesses, "hohld tyt")


def a_stretch(start, kind=StretchKind.CHATTER):
    return Stretch(Sample(start), Sample(start + 50), kind)


# Places 1 to 5: takes 1 and 2 of line 1, chatter, take 1 of line 2, one that nobody is sure of.
FOUND = (
    a_take(1000, "L0001", "L0002"),
    a_take(2000),
    a_stretch(3000),
    a_take(4000, "L0002", wholeness=Wholeness.CUT_OFF),
    a_stretch(5000, StretchKind.UNSURE),
)


def a_session_with_takes(book, folder, found=FOUND, **changes):
    """A session that has been listened through, as S1 if it is the book's first one; the lines are in the script."""
    if not draft_number(book):
        a_draft(book)
    session = a_session(book, folder, **changes)
    save_piece(book, session.id, (0, session.sound.length), found)
    number_takes(book, session.id)
    return session
