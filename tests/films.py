"""A production with a cut, for tests of shots: takes that are read by hand, one frame of 24 a second to each phone.

The script: scene 7, L0001 BRACK, L0002 MISS PELL, L0003 TUM (O.S.); scene 8, L0004 BRACK. S1 is one recording of 20
minutes at 48 kHz whose timecode begins at 01:00:00:00, with the takes, each with its beginning in seconds:
    10 L0001-1   20 L0001-2   30 L0002-1   40 L0003-1   50 L0004-1 (unread)   60 chatter   70 unsure
"""

from dataclasses import replace

from tests.book.makers import a_production, a_session
from tests.makers import LINE, a_reading
from trackread.book.book import Book
from trackread.book.drafts import lines_by_id
from trackread.book.readings import save_reading
from trackread.book.sessions import number_takes, save_piece, session
from trackread.book.takes import take_named
from trackread.core.plain import reading_to_plain
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.core.timecode import label_of
from trackread.workflow.drafts import add, compared
from trackread.workflow.take_readings import key_of

SCRIPT = """scene,character,line
7,BRACK,"Mind the step, ticket!"
7,MISS PELL,Tickets please
7,TUM (O.S.),I am only a hat
8,BRACK,Next stop
"""
RATE = 48_000
FRAME = 2000  # samples of a frame at 24 a second
PELL = (("Tickets", "T IH1 K AH0 T S"), "-", ("please", "P L IY1 Z"))
TUM = (("I", "AY1"), ("am", "AE0 M"), ("only", "OW1 N L IY0"), ("a", "AH0"), ("hat", "HH AE1 T"))
SAID = {"L0001-1": LINE, "L0001-2": LINE, "L0002-1": PELL, "L0003-1": TUM}
# The actor of the second take of the first line waits three frames longer before he speaks.
WAITS = {"L0001-2": 3}
# In the first he rests for three frames, not for one, before "ticket!".
RESTS = {"L0001-1": 2}
STARTS = {"L0001-1": 10, "L0001-2": 20, "L0002-1": 30, "L0003-1": 40, "L0004-1": 50}


def phones_of(said):
    return 2 + sum(1 if one == "-" else len(one[1].split()) for one in said)


def length_of(name):
    """The frames of a take."""
    return phones_of(SAID.get(name, PELL)) + WAITS.get(name, 0) + RESTS.get(name, 0)


def reading_of(name):
    """The reading of a take: a phone to a frame, the first pause longer where the actor waits."""
    said = SAID[name]
    lengths = [FRAME] * phones_of(said)
    lengths[0] += FRAME * WAITS.get(name, 0)
    lengths[11 if said is LINE else 0] += FRAME * RESTS.get(name, 0)
    return a_reading(*said, lengths=lengths, sample_rate=RATE)


def stretches():
    """All that is found in the recording."""
    for name, second in STARTS.items():
        guess = Guess(name.partition("-")[0], 0.9, Wholeness.WHOLE)
        start = second * RATE
        yield Stretch(Sample(start), Sample(start + length_of(name) * FRAME), StretchKind.TAKE, (guess,), "meyend")
    yield Stretch(Sample(60 * RATE), Sample(61 * RATE), StretchKind.CHATTER, (), "wel")
    yield Stretch(
        Sample(70 * RATE), Sample(71 * RATE), StretchKind.UNSURE, (Guess("L0004", 0.5, Wholeness.WHOLE),), "n"
    )


def a_film(tmp_path, **changes):
    """Makes the production, and gives its folder."""
    folder = tmp_path / "tram"
    with Book.create(folder, a_production(**changes)) as book:
        draft = tmp_path / "draft.csv"
        draft.write_text(SCRIPT)
        add(book, compared(book, draft), "ANN")
        its = a_session(book, tmp_path, characters=())
        save_piece(book, its.id, (0, its.sound.length), tuple(stretches()))
        number_takes(book, its.id)
        for name in SAID:
            read_by_hand(book, name, reading_of(name))
    return folder


def read_by_hand(book, name, reading, engine="1"):
    """Saves a reading of a take."""
    take = take_named(book, name)
    its = session(book, take.session)
    text = lines_by_id(book)[take.line].line.text
    span = take.stretch
    sound = Sound(its.sound.digest, RATE, Sample(span.stop - span.start), Sample(its.sound.start + span.start))
    body = reading_to_plain(replace(reading, sound=sound), book.production.rate)
    key = key_of(take, its, text, pronunciations="", pins=())
    save_reading(book, replace(key, engine=engine), body)


def picture(number, clip, source, record, length, rate):
    """An event of picture of an EDL: frames of the source's timecode and of the record's, from their zeros."""
    frames = (source, source + length, record, record + length)
    times = " ".join(label_of(frame, rate) for frame in frames)
    return f"{number:03}  AX       V     C        {times}\n* FROM CLIP NAME: {clip}\n"


def voice(number, second, record, length, rate, *, offset=0, speed=1):
    """An event of sound of the recording that begins at 01:00:00:00, from `offset` frames after a second of it on."""
    source = (3600 + second) * rate.base + offset
    frames = (source, source + length * speed, record, record + length)
    times = [label_of(frame, rate) for frame in frames]
    # The motion effect of CMX 3600: reel, frames of the source a second, the source's first frame.
    motion = f"M2   REEL1       {rate.base * speed:05.1f}                {times[0]}\n" if speed != 1 else ""
    return f"{number:03}  REEL1    A     C        {' '.join(times)}\n* FROM CLIP NAME: reel 1\n{motion}"


def edl(*events):
    return "TITLE: THE LATE TRAM\nFCM: NON-DROP FRAME\n\n" + "".join(events)
