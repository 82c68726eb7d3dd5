"""A film with a real recording whose sheets are out, and a server of the floor's pages alone, for tests of the floor.

Who asks stands in the cookie `who`: `unit:7`, `editor` or `office`; nobody without one.
"""

import shutil
import threading
from contextlib import ExitStack, contextmanager
from datetime import date
from pathlib import Path

import httpx
import numpy as np
import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, StreamingResponse
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from tests.films import RATE, a_film
from tests.shots.conftest import PICTURES, VOICES, pictures, voices
from tests.waves import PLAIN, chunk, encoded
from trackread.book.book import Book
from trackread.book.sounds import sounds
from trackread.book.tables import SoundRow
from trackread.errors import ClashError, TrackreadError
from trackread.web import pages
from trackread.web.floor import routes
from trackread.web.live import Live
from trackread.web.visitors import Role, Visitor
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.correcting import correct, move
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.material import gather
from trackread.workflow.shot_list import shot_list
from trackread.workflow.shots import Choice, chosen_briefs

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
SECONDS = 70
STATIC = Path(pages.__file__).with_name("static")


def recorded():
    """A recording of which every sample tells its place: a slow saw, as whole numbers of 16 bits."""
    return (np.arange(SECONDS * RATE) % 20_000 - 10_000) / 2**15


def a_floor(tmp_path, **changes):
    """The film of tests/films.py with two kits, and samples in its recording; gives its folder."""
    folder = a_film(tmp_path, **changes)
    (folder / "kits").mkdir()
    for name in ("brack", "miss-pell"):
        shutil.copy(KITS / f"{name}.toml", folder / "kits")
    return folder


def give_samples(book):
    """Puts samples into the recording that the film's makers leave without."""
    (kept,) = sounds(book)
    content = PLAIN + chunk(b"data", encoded(recorded()))
    kept.path.write_bytes(chunk(b"RIFF", b"WAVE" + content))
    with book.writing() as transaction:
        row = transaction.get(SoundRow, kept.sound.digest)
        row.bytes, row.channels = kept.path.stat().st_size, 1


def add_cut(book, tmp_path, shots=PICTURES, pieces=VOICES, **wish):
    """Adds a cut of these pictures and voices."""
    files = [tmp_path / "picture.edl", tmp_path / "voice.edl"]
    files[0].write_text(pictures(*shots, rate=book.production.rate))
    files[1].write_text(voices(*pieces, rate=book.production.rate))
    return add_lists(book, files, ListWish(**wish), "ANN")


def issue(book, *names, unit="7", reason="first"):
    """Issues the sheets of these shots, and gives the issues."""
    material = gather(book)
    briefs = chosen_briefs(material, Choice(names, every=not names))
    wish = IssueWish(unit, reason, date(2026, 11, 26))
    return [one.issue for one in give_out(book, material, briefs, wish, author="ANN", workers=None)]


def an_issued_floor(tmp_path, *, heard=True):
    """The film with its cut, all sheets out at unit 7; gives its folder, to be copied for each test.

    Unless it is to be `heard`, its recording is as it was added.
    """
    folder = a_floor(tmp_path)
    with Book.open(folder) as book:
        if heard:
            give_samples(book)
        add_cut(book, tmp_path)
        issue(book)
    return folder


@contextmanager
def copied(folder, tmp_path):
    """A copy of a film, open."""
    with Book.open(shutil.copytree(folder, tmp_path / "tram")) as book:
        yield book


@contextmanager
def visitors(app):
    """Makes clients for those who ask a server of the app, by who they are; nobody for ""."""
    with served(app) as address, ExitStack() as stack:

        def visitor(who):
            cookies = {"who": who} if who else {}
            return stack.enter_context(httpx.Client(base_url=address, cookies=cookies, trust_env=False, timeout=30))

        yield visitor


def shot(book, name="SH010"):
    """How many frames of a shot are shot, as everybody is told; None if nobody said."""
    return next(one.done for one in shot_list(book, None) if one.name == name)


def later(book):
    """A word of the first shot comes a frame later, so that its sheet is another."""
    correct(book, "L0001-1", move("ticket!", 13), "ANN")


def visitor_in(request):
    role, _, unit = request.cookies.get("who", "").partition(":")
    return Visitor(Role(role), f"{role} {unit}".strip(), unit) if role else None


class Known:
    """Lets everybody in as whom they say they are."""

    def __init__(self, app):
        self.app = app

    async def __call__(self, scope, receive, send):
        if scope["type"] == "http":
            scope.setdefault("state", {})["visitor"] = visitor_in(Request(scope))
        await self.app(scope, receive, send)


async def live(request):
    """What happens, as the server tells it."""
    return StreamingResponse(request.app.state.live.listen(), media_type="text/event-stream")


async def problem(_request, error):
    return JSONResponse({"problem": str(error)}, 412 if isinstance(error, ClashError) else 400)


def floor_app(book):
    """The floor's pages on a book."""
    app = Starlette(
        routes=[*routes, Route("/api/live", live), Mount("/static", StaticFiles(directory=STATIC))],
        exception_handlers={TrackreadError: problem},
    )
    app.add_middleware(Known)
    app.state.book, app.state.live = book, Live()
    return app


@contextmanager
def served(app):
    """The address at which an app is served, in a thread of its own."""
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=0, log_level="warning", ws="none"))
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        while not server.started:
            thread.join(0.01)
        yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    finally:
        app.state.live.end()
        server.should_exit = True
        thread.join()
