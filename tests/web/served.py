"""A production of tests/films.py with a cut of two shots, served by the real server on a loopback port of its own."""

import json
import socket
import threading
import time
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date

import httpx
import uvicorn

from tests.films import a_film, edl, picture, voice
from trackread.book.book import Book
from trackread.web.app import make_app
from trackread.web.serving import Place, config_of, listening
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.keys import make_key
from trackread.workflow.material import gather
from trackread.workflow.shots import Choice, chosen_briefs

START = 86400
PATIENCE = 20  # seconds; the machine may be busy


@dataclass
class Served:
    """A server that runs: its application, its address, and the book as another program beside it has it."""

    app: object
    book: Book
    port: int
    clients: list = field(default_factory=list)

    @property
    def address(self):
        return f"http://127.0.0.1:{self.port}"

    def client(self, **changes):
        """A browser, which is closed with the server."""
        self.clients.append(httpx.Client(base_url=self.address, timeout=PATIENCE, **changes))
        return self.clients[-1]

    def signed_in(self, role, unit=""):
        """A browser of somebody who has signed in with a new key."""
        client = self.client()
        answer = client.post("/sign-in", data={"key": make_key(self.book, role, role.upper(), unit, "ANN").text})
        assert answer.status_code == 303
        return client


class Listener:
    """A page that listens to /api/live, in a thread of its own."""

    def __init__(self, client):
        self.told, self.open, self.ended = [], threading.Event(), threading.Event()
        self.client = client
        self.thread = threading.Thread(target=self.listen, daemon=True)
        self.thread.start()
        assert self.open.wait(PATIENCE)

    def listen(self):
        with suppress(httpx.HTTPError), self.client.stream("GET", "/api/live") as answer:
            for row in answer.iter_lines():
                self.open.set()
                if row.startswith("data: ") and row != "data: {}":
                    self.told.append(json.loads(row.removeprefix("data: ")))
        self.ended.set()

    def hears(self, seconds=2.0, **values):
        return becomes(lambda: any(values.items() <= one.items() for one in self.told), seconds)


@contextmanager
def served(folder, *, line=None, **places):
    """Serves the production in a folder; `line` is another class for its lines."""
    place = Place("127.0.0.1", 0, **places)
    with Book.open(folder) as inside, Book.open(folder) as beside, listening(place) as bound:
        app = make_app(inside, [place.host])
        config = config_of(app, place)
        config.http = line or config.http
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [bound]})
        found = Served(app, beside, bound.getsockname()[1])
        thread.start()
        try:
            assert becomes(lambda: server.started)
            yield found
        finally:
            app.state.live.end()
            server.should_exit = True
            thread.join(PATIENCE)
            for client in found.clients:
                client.close()
        assert not thread.is_alive()


def becomes(is_so, seconds=PATIENCE):
    """Whether something is so within some seconds."""
    stop = time.monotonic() + seconds
    while time.monotonic() < stop:
        if is_so():
            return True
        time.sleep(0.02)
    return False


def a_film_with_shots(tmp_path):
    """The folder of the production; its shots are SH010 with L0001-1 and SH020 with L0002-1."""
    folder = a_film(tmp_path)
    with Book.open(folder) as book:
        cut(book, tmp_path, second=48)
    return folder


def cut(book, tmp_path, *, second):
    """Adds a cut whose second shot begins on a frame of the film."""
    rate = book.production.rate
    files = {
        "picture.edl": [
            picture(1, "SH010", START, START, second, rate),
            picture(2, "SH020", START + 200, START + second, 36, rate),
        ],
        "voice.edl": [voice(1, 10, START + 10, 20, rate), voice(2, 30, START + second + 2, 13, rate)],
    }
    for name, events in files.items():
        (tmp_path / name).write_text(edl(*events))
    add_lists(book, [tmp_path / name for name in files], ListWish(), "ANN")


def issue(book, *names, unit="7"):
    """Issues the sheets of these shots."""
    material = gather(book)
    wish = IssueWish(unit, "first", date(2026, 11, 26))
    return list(give_out(book, material, chosen_briefs(material, Choice(names)), wish, author="ANN", workers=None))


def raw(server, request, *, then=b"", pause=0.0):
    """What the server answers to bytes as they are, until it closes the line or is silent for a second."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as line:
        line.sendall(request)
        time.sleep(pause)
        answer = b""
        try:
            if then:
                line.sendall(then)
            while part := line.recv(65536):
                answer += part
        except ConnectionError:
            pass
    return answer.decode()


def get(path, *heads, host="127.0.0.1"):
    rows = [f"GET {path} HTTP/1.1", f"Host: {host}", "Connection: close", *heads]
    return ("\r\n".join(rows) + "\r\n\r\n").encode()


def status_of(answer):
    return int(answer.split()[1])
