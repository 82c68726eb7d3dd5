"""A feature whose sheets are out at many units, and `trackread serve` on it as a program of its own, for trials of it.

Times are seconds. The feature is what scripts/make-feature makes, with its first cut and, so that there is something
to hear, silence in the place of every recording: files that take hardly any room, and are not what their digests say.
"""

import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import psutil

from trackread.book.book import Book
from trackread.book.sounds import sounds
from trackread.book.tables import SoundRow
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.keys import make_key
from trackread.workflow.material import gather
from trackread.workflow.shot_brief import brief_of
from trackread.workflow.shots import Choice, chosen_briefs
from trackread.workflow.workers import local_workers

MAKE = Path(__file__).with_name("make-feature")
AUTHOR = "bench"
STARTS_WITHIN = 60  # seconds; a busy machine may be slow
WAVE = 44  # bytes of the head of a wave file of whole numbers


def make_issued(folder: Path, shots: int, units: int, seed: int) -> Path:
    """Makes a feature with its first cut and all its sheets out, and gives its production's folder."""
    made = [sys.executable, MAKE, folder, "--shots", str(shots), "--seed", str(seed), "--units", str(units)]
    subprocess.run(made, check=True)
    production = folder / "production"
    with Book.open(production) as book:
        add_lists(book, sorted(folder.glob("cut1-*.edl")), ListWish(), AUTHOR)
        make_silence(book)
        material = gather(book)
        names = [shot.name for shot in material.cut.shots]
        with local_workers(2) as workers:
            for unit in range(units):
                briefs = chosen_briefs(material, Choice(tuple(names[unit::units])))
                wish = IssueWish(str(unit + 1), "first", date.today())
                for _ in give_out(book, material, briefs, wish, author=AUTHOR, workers=workers):
                    pass
    return production


def copied(feature: Path, place: Path) -> Path:
    """A copy of a feature's production in a new folder, beside its recordings."""
    place.mkdir()
    (place / "recordings").symlink_to((feature / "recordings").resolve())
    return Path(shutil.copytree(feature / "production", place / "production"))


def make_silence(book: Book) -> None:
    """Gives every recording a file that is silent from end to end."""
    for one in sounds(book):
        size = 3 * one.sound.length
        one.path.resolve().parent.mkdir(exist_ok=True)
        rate = one.sound.sample_rate
        form = [(16, 4), (1, 2), (1, 2), (rate, 4), (3 * rate, 4), (3, 2), (24, 2)]
        with one.path.open("wb") as file:
            file.write(b"RIFF" + (size + WAVE - 8).to_bytes(4, "little") + b"WAVEfmt ")
            file.write(b"".join(number.to_bytes(length, "little") for number, length in form))
            file.write(b"data" + size.to_bytes(4, "little"))
            file.truncate(WAVE + size)
    with book.writing() as transaction:
        for row in transaction.query(SoundRow):
            row.bytes = WAVE + 3 * row.length


@dataclass(frozen=True, slots=True)
class Cast:
    """Keys of those who ask the server: of units, by their names, and of desks and offices."""

    units: dict[str, str]
    desks: tuple[str, ...]
    offices: tuple[str, ...]


def make_cast(book: Book, units: int, desks: int, offices: int) -> Cast:
    """Makes all the keys."""

    def key(role: str, number: int, unit: str = "") -> str:
        return make_key(book, role, f"{role} {number}", unit, AUTHOR).text

    return Cast(
        {str(one): key("unit", one, str(one)) for one in range(1, units + 1)},
        tuple(key("editor", one) for one in range(1, desks + 1)),
        tuple(key("office", one) for one in range(1, offices + 1)),
    )


def takes_in_cut(book: Book, count: int) -> dict[str, str]:
    """The names of so many takes that are heard, from all over the film, each with a shot that it is heard in."""
    material = gather(book)
    heard = {one.take.name: shot.name for shot in material.cut.shots for one in brief_of(material, shot).heard}
    names = sorted(heard)[:: max(1, len(heard) // count)][:count]
    return {name: heard[name] for name in names}


@dataclass(slots=True)
class Server:
    """The program that serves a production, always at the same port, and what it says in the file `log`."""

    production: Path
    log: Path
    port: int = field(default_factory=lambda: free_port())
    program: subprocess.Popen[str] | None = None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def process(self) -> psutil.Process:
        return psutil.Process(self.running.pid)

    @property
    def running(self) -> subprocess.Popen[str]:
        if self.program is None:
            raise RuntimeError("the server is not running")
        return self.program

    def start(self) -> float:
        """Starts it, and gives the seconds that it took until it could be reached."""
        words = ["serve", "--port", str(self.port), "--production", str(self.production), "--author", AUTHOR]
        command = [sys.executable, "-u", "-c", "from trackread.cli.main import main; main()", *words]
        begun = time.monotonic()
        with self.log.open("a", encoding="utf-8") as log:
            self.program = subprocess.Popen(command, stdout=log, stderr=log, text=True)
        while not answers(self.port):
            if self.running.poll() is not None or time.monotonic() - begun > STARTS_WITHIN:
                raise SystemExit(f"the server did not start: {self.log.read_text(encoding='utf-8')[-2000:]}")
            time.sleep(0.02)
        return time.monotonic() - begun

    def kill(self) -> None:
        """Kills it with -9, and everything that it started."""
        family = [self.process, *self.process.children(recursive=True)]
        self.running.kill()
        self.running.wait()
        psutil.wait_procs(family, timeout=STARTS_WITHIN)
        if living := [one.pid for one in family if one.is_running()]:
            raise SystemExit(f"{living} live on though the server was killed")

    def stop(self) -> int:
        """Asks it to stop, and gives its status."""
        self.running.send_signal(signal.SIGTERM)
        return self.running.wait(STARTS_WITHIN)


@contextmanager
def running(server: Server) -> Iterator[Server]:
    """Runs a server while this lasts."""
    server.start()
    try:
        yield server
    finally:
        if server.running.poll() is None:
            server.running.kill()
            server.running.wait()


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as found:
        return int(found.getsockname()[1])


def answers(port: int) -> bool:
    """Whether anybody listens there."""
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=1):
            return True
    except OSError:
        return False
