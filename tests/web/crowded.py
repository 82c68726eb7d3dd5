"""A shot in which six characters speak at once, each in several takes one after another: as much as a desk has to draw.

S1 is one recording of noise at 48 kHz, the takes in it one after another, read by hand. SH100 is made by hand, at 24
frames a second; the takes of a character follow each other in it, and the last of each goes on beyond its end.
"""

import hashlib
from dataclasses import replace
from itertools import accumulate
from random import Random

from tests.book.makers import NOTES
from tests.makers import LINE, a_reading
from tests.waves import encoded, noise, wave
from tests.web.desks import read_by_hand
from trackread.book.book import Book
from trackread.book.sessions import add_session, number_takes, save_piece
from trackread.book.sounds import keep_sound
from trackread.core.production import Character, Production
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, parse_rate
from trackread.workflow.demo import demo_folder
from trackread.workflow.drafts import add, compared
from trackread.workflow.placing import add_shot, place

SHOT = "SH100"
CAST = ("BRACK", "MISS PELL", "TUM", "CONSTABLE NEWT", "NAN VOLE", "PIP")
RATE = 48_000
FRAME = 2000  # samples
LINES = 3  # takes of each character
APART = 6  # frames by which one character begins after another
PELL = (("Tickets,", "T IH1 K AH0 T S"), ("please.", "P L IY1 Z"), "-", ("Only", "OW1 N L IY0"), ("a", "AH0"))
SAID = (*LINE, "-", *PELL, ("hat", "HH AE1 T"))
SOUNDS = (50, 110)  # ms that a sound lasts
PAUSES = (80, 500)
DOUBTS = (0.02, 0.05, 0.1, 0.1, 0.1, 0.3)  # every sixth word or so is worth an ear


def crowded(tmp_path, frames=600):
    """Makes the production with a shot of so many frames, and gives its folder."""
    folder = tmp_path / "tram"
    takes = [take for number, _ in enumerate(CAST) for take in takes_of(number, frames)]
    starts = list(accumulate((reading.sound.length + RATE for reading in takes), initial=0))
    cast = tuple(Character(name) for name in CAST)
    with Book.create(folder, Production("The Late Tram", parse_rate("24"), characters=cast)) as book:
        draft = tmp_path / "draft.csv"
        rows = [f'7,{name},"{words_of(take)}"' for name, take in zip(by_line(), takes, strict=True)]
        draft.write_text("\n".join(["scene,character,line", *rows]))
        add(book, compared(book, draft), "ANN")
        number_stretches(book, tmp_path, takes, starts)
        for number, reading in enumerate(takes, 1):
            read_by_hand(book, f"{line(number)}-1", reading)
        add_shot(book, SHOT, str(frames), author="ANN")
        place_all(book, takes)
        for name in CAST:
            give_kit(book, name)
    return folder


def by_line():
    return [name for name in CAST for _ in range(LINES)]


def line(number):
    return f"L{number:04}"


def words_of(reading):
    return " ".join(word.text for word in reading.words)


def takes_of(number, frames):
    """The takes of a character, who speaks all the time: a sixth of a second of every two is a pause."""
    random = Random(number)
    room = (frames - APART * number) * FRAME // LINES
    return [a_take(random, room) for _ in range(LINES)]


def a_take(random, room):
    """A take of so many samples or a little more."""
    said, lengths = [], [random.randint(*PAUSES) * RATE // 1000]
    while sum(lengths) < room:
        for one in SAID:
            said.append(one)
            span = PAUSES if one == "-" else SOUNDS
            lengths += [random.randint(*span) * RATE // 1000 for _ in ("-" if one == "-" else one[1].split())]
            if sum(lengths) >= room and one != "-":
                break
    reading = a_reading(*said, lengths=[*lengths, 4 * FRAME], sample_rate=RATE)
    doubted = (replace(word, doubt=random.choice(DOUBTS) + random.random() / 100) for word in reading.words)
    return replace(reading, words=tuple(doubted))


def number_stretches(book, tmp_path, takes, starts):
    """The recording with its session, and all takes in it."""
    path = tmp_path / "reel 1.wav"
    path.write_bytes(wave(encoded(noise(starts[-1], peak=0.15))))
    sound = Sound(hashlib.sha256(path.read_bytes()).hexdigest(), RATE, Sample(starts[-1]))
    keep_sound(book, path, sound, 1)
    told = {"channel": None, "characters": (), "stand_in": False, "notes": NOTES, "author": "ANN"}
    its = add_session(book, sound, "reel 1", **told)
    stretches = [
        Stretch(
            Sample(start),
            Sample(start + reading.sound.length),
            StretchKind.TAKE,
            (Guess(line(number), 0.9, Wholeness.WHOLE),),
            "meyend",
        )
        for number, (start, reading) in enumerate(zip(starts, takes, strict=False), 1)
    ]
    save_piece(book, its.id, (0, starts[-1]), stretches)
    number_takes(book, its.id)


def place_all(book, takes):
    """Each character's takes one after another; the next begins where the last sound of the one before ends."""
    for number, _ in enumerate(CAST):
        at = book.production.first_frame + APART * number
        for k in range(LINES):
            place(book, f"{line(LINES * number + k + 1)}-1", SHOT, at, author="ANN")
            at += takes[LINES * number + k].cuts[-2] // FRAME


def give_kit(book, name):
    """The kit of the character, or BRACK's under its name."""
    kits = book.folder / "kits"
    kits.mkdir(exist_ok=True)
    own = demo_folder() / "kits" / f"{name.lower().replace(' ', '-')}.toml"
    text = own.read_text() if own.is_file() else (own.parent / "brack.toml").read_text().replace("BRACK", name)
    (kits / own.name).write_text(text)
