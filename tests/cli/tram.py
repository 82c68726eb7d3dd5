"""A production with takes, for the commands of the book.

The script (scene 7 but for the last line, which is in scene 8):
    L0001 BRACK, L0002 MISS PELL, L0003 TUM, L0004 MISS PELL, L0005 BRACK
S1, the actors:
    S1-001  L0001-1  whole, read       S1-004  L0002-1  cut off
    S1-002  L0001-2  whole, read       S1-005  unsure: L0003, L0004, L0001 or L0005
    S1-003  chatter
S2, a stand-in:
    S2-001  L0001-3  whole, read       S2-002  L0003-1  whole
"""

from dataclasses import replace

from tests.book.makers import a_production, a_session_with_takes, a_stretch
from tests.makers import a_reading
from trackread.book.book import Book
from trackread.book.drafts import lines_by_id
from trackread.book.readings import save_reading
from trackread.book.sessions import session
from trackread.book.takes import take_named
from trackread.core.plain import reading_to_plain
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.timebase import Sample
from trackread.workflow.drafts import add, compared
from trackread.workflow.take_readings import key_of, pronunciations_digest

SCRIPT = """scene,character,line
7,BRACK,"Mind the step, ticket!"
7,MISS PELL,"Tickets, please. Every seat, every ticket."
7,TUM,"Don't look at me. I am only a hat."
7,MISS PELL,Whose hat is this?
8,BRACK,Next stop: the depot.
"""
RATE = 24000  # of the readings, whatever the recordings have
STAND_IN = [1680] * 18
# The actor breathes in for ten frames before he starts, and leans on "step".
ACTOR = [1680 + 10_000, *STAND_IN[1:9], 3360, *STAND_IN[10:]]


def a_production_with_takes(tmp_path):
    """Makes it, and gives its folder."""
    folder = tmp_path / "tram"
    with Book.create(folder, a_production()) as book:
        script_of(book, tmp_path, SCRIPT)
        a_session_with_takes(book, tmp_path, ACTORS)
        a_session_with_takes(book, tmp_path, STAND_INS, content=b"another", stand_in=True)
        for name, lengths in (("L0001-1", ACTOR), ("L0001-2", ACTOR), ("L0001-3", STAND_IN)):
            read_by_hand(book, name, lengths=lengths)
    return folder


def a_take(start, line, wholeness=Wholeness.WHOLE):
    """A stretch of 1.5 s at the recordings' 48 kHz."""
    return Stretch(Sample(start), Sample(start + 72_000), StretchKind.TAKE, (Guess(line, 0.9, wholeness),), "meyend")


def guessed(*likely):
    """Guesses of lines, each with its probability."""
    return tuple(Guess(line, share, Wholeness.WHOLE) for line, share in likely)


UNSURE = replace(
    a_stretch(4_800_000, StretchKind.UNSURE),
    guesses=guessed(("L0003", 0.4), ("L0004", 0.3), ("L0001", 0.2), ("L0005", 0.1)),
    heard="dohnt luuk",
)
ACTORS = (
    a_take(48_000, "L0001"),
    a_take(480_000, "L0001"),
    a_stretch(960_000),
    a_take(2_400_000, "L0002", Wholeness.CUT_OFF),
    UNSURE,
)
STAND_INS = (a_take(48_000, "L0001"), a_take(480_000, "L0003"))


def script_of(book, tmp_path, text, author="ANN"):
    """Adds a draft of this text."""
    file = tmp_path / "draft.csv"
    file.write_text(text, encoding="utf-8")
    return add(book, compared(book, file), author)


def read_by_hand(book, name, reading=None, **changes):
    """Saves a reading of a take, of the words that its line has now."""
    take = take_named(book, name)
    text = lines_by_id(book)[take.line].line.text
    pronunciations = pronunciations_digest(book.folder)
    key = key_of(take, session(book, take.session), text, pronunciations=pronunciations)
    plain = reading_to_plain(reading or a_reading(sample_rate=RATE, **changes), book.production.rate)
    save_reading(book, key, plain)
