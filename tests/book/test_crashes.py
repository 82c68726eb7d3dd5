"""A process killed while it writes (SIGKILL, which nothing can catch): what it was told to be written is there."""

import hashlib
import random
import signal
import subprocess
import sys
import time

from tests.book.makers import a_session_with_takes
from trackread.book.checking import check
from trackread.book.corrections import corrections
from trackread.book.sounds import sounds

# Says each thing only once it is written.
WRITER = """
import hashlib, sys
from pathlib import Path
from trackread.book.book import Book
from trackread.book.corrections import append_correction, corrections
from trackread.book.sounds import keep_sound
from trackread.core.sound import Sound

folder, reel = Path(sys.argv[1]), Path(sys.argv[2])
with Book.open(folder) as book:
    after = len(corrections(book, "S1-001"))
    while True:
        after = append_correction(book, "S1-001", {"words": "moved " * 200}, "ANN", after=after)
        content = f"reel {after}".encode() * 50_000
        reel.write_bytes(content)
        keep_sound(book, reel, Sound(hashlib.sha256(content).hexdigest(), 48000, 100), 1)
        print(after, flush=True)
"""


def content_of(number):
    """What the writer keeps as the recording of this number."""
    return f"reel {number}".encode() * 50_000


def written_before_the_kill(folder, reel, seconds):
    """The numbers of the corrections that the writer said are written."""
    command = [sys.executable, "-c", WRITER, str(folder), str(reel)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
        first = writer.stdout.readline()
        time.sleep(seconds)
        writer.kill()
        told = [first, *writer.stdout.readlines()]
    assert writer.returncode == -signal.SIGKILL
    return [int(line) for line in told if line.endswith("\n")]


def test_what_was_written_before_a_kill_is_there_and_whole(tmp_path, book):
    a_session_with_takes(book, tmp_path)
    chance = random.Random(7)
    told, reels = [], set()
    for _ in range(4):
        told += written_before_the_kill(book.folder, tmp_path / "reel.wav", chance.uniform(0, 0.3))
        reels |= {hashlib.sha256(content_of(number)).hexdigest() for number in told}

        assert [note.sequence for note in corrections(book, "S1-001")][: told[-1]] == list(range(1, told[-1] + 1))
        assert reels <= {recording.sound.digest for recording in sounds(book)}
        assert check(book) == ()
    assert len(told) >= 4
