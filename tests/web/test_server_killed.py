"""The server killed with -9 under those who write: all that it has acknowledged is there, once; nobody waits long.

scripts/kill-server does so a hundred times under forty floors.
"""

import random
import secrets
import signal
import socket
import subprocess
import sys
import threading
import time

import httpx
import pytest
from sqlalchemy import select

from tests.web.served import PATIENCE, a_film_with_shots, becomes, issue
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.corrections import corrections
from trackread.book.tables import ShootingRow
from trackread.workflow.keys import make_key

KILLS = 3
COMMAND = "from trackread.cli.main import main; main()"


class Writer(threading.Thread):
    """Somebody who writes, and asks again until there is an answer; `kept` are the writes that were acknowledged."""

    def __init__(self, address, key, write):
        super().__init__()
        self.client, self.key, self.write = httpx.Client(base_url=address, timeout=PATIENCE), key, write
        self.kept, self.over = [], threading.Event()

    def run(self):
        with self.client:
            self.asked("POST", "/sign-in", data={"key": self.key})
            while not self.over.is_set():
                self.kept += self.write(self)
                time.sleep(0.01)

    def writes_on(self):
        """Whether something more is acknowledged before long."""
        so_far = len(self.kept)
        return becomes(lambda: len(self.kept) > so_far)

    def asked(self, method, path, **more):
        while True:
            try:
                return self.client.request(method, path, **more)
            except httpx.HTTPError:
                time.sleep(0.05)


def tell_frames(writer):
    one = {"id": secrets.token_hex(10), "issue": 1, "count": random.randint(0, 48), "over": []}
    answer = writer.asked("POST", "/api/floor/SH010/frames", json={"events": [one]})
    return [(one["id"], one["count"])] if answer.json()["events"][0]["kept"] else []


def note_something(writer):
    take = writer.asked("GET", "/api/takes/L0001-1").json()
    asked = {"kind": "note", "sample": 2000, "text": secrets.token_hex(8)}
    heads = {"If-Match": take["revision"]}
    answer = writer.asked("POST", "/api/takes/L0001-1/corrections", json=asked, headers=heads)
    return [int(answer.json()["revision"].partition("-")[2])] if answer.status_code == 200 else []


@pytest.fixture
def film(tmp_path):
    folder = a_film_with_shots(tmp_path)
    with Book.open(folder) as book:
        issue(book, "SH010")
        yield book


def start(folder, port):
    words = ["serve", "--port", str(port), "--production", str(folder), "--author", "ANN"]
    return subprocess.Popen(
        [sys.executable, "-c", COMMAND, *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )


def test_all_that_was_acknowledged_is_there_once_however_often_the_server_is_killed(film):
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    address, chance = f"http://127.0.0.1:{port}", random.Random(1)
    keys = [
        make_key(film, *who, "ANN").text for who in (("unit", "BO", "7"), ("unit", "TESS", "7"), ("editor", "EVE", ""))
    ]
    writers = [
        Writer(address, key, write) for key, write in zip(keys, (tell_frames, tell_frames, note_something), strict=True)
    ]
    program = start(film.folder, port)
    for one in writers:
        one.start()
    for _ in range(KILLS):
        assert all(one.writes_on() for one in writers)
        time.sleep(chance.uniform(0, 0.3))
        program.kill()
        program.wait()
        program = start(film.folder, port)
    for one in writers:
        one.over.set()
        one.join(PATIENCE)
    program.send_signal(signal.SIGTERM)

    assert program.wait(PATIENCE) == 0
    with film.reading() as transaction:
        rows = transaction.execute(select(ShootingRow.event, ShootingRow.count)).all()
    assert len({row.event for row in rows}) == len(rows)
    assert {one for writer in writers[:2] for one in writer.kept} <= {tuple(row) for row in rows}
    assert set(writers[2].kept) <= {note.sequence for note in corrections(film, "L0001-1") if note.author == "EVE"}
    assert all(len(set(one.kept)) == len(one.kept) > KILLS for one in writers)
    assert check(film) == ()
