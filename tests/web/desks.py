"""A production to work on at the desk, and the desk served by itself to somebody who has signed in.

S1 is one recording of noise, so that no two stretches of it are alike, with takes that are read by hand: a phone to a
frame of 24 a second. L0001-1 and L0001-2 are BRACK's, who has a kit of mouths, L0002-1 is MISS PELL's and unread.
"""

import hashlib
import shutil
import threading
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

import httpx
import uvicorn
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import JSONResponse, StreamingResponse
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

import trackread.web
from tests.book.makers import NOTES, a_production
from tests.makers import LINE, a_reading
from tests.waves import encoded, fmt, noise, wave
from trackread.book.book import Book
from trackread.book.drafts import lines_by_id
from trackread.book.readings import save_reading
from trackread.book.sessions import add_session, number_takes, save_piece, session
from trackread.book.sounds import keep_sound
from trackread.book.takes import take_named
from trackread.core.plain import reading_to_plain
from trackread.core.reading import Reading
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, first_sample_of
from trackread.errors import ClashError, TrackreadError
from trackread.web.desk import routes
from trackread.web.live import Live
from trackread.web.visitors import Role, Visitor
from trackread.workflow.demo import demo_folder
from trackread.workflow.drafts import add, compared
from trackread.workflow.take_readings import key_of

SCRIPT = """scene,character,line
7,BRACK,"Mind the step, ticket!"
7,MISS PELL,Tickets please
"""
PHONES = 2 + sum(1 if one == "-" else len(one[1].split()) for one in LINE)
STARTS = {"L0001-1": 1, "L0001-2": 3, "L0002-1": 5}  # seconds into the recording
DOUBTS = (0.1, 0.3, 0.02, 0.6)  # of the words of L0001-1: the second and the fourth are worth an ear


def a_desk(tmp_path, *, rate=48_000, subtype="PCM_16", frames=PHONES):
    """Makes the production with takes of so many frames, the last phone as long as it must; gives its folder."""
    folder = tmp_path / "tram"
    kits = folder / "kits"
    with Book.create(folder, a_production()) as book:
        draft = tmp_path / "draft.csv"
        draft.write_text(SCRIPT)
        add(book, compared(book, draft), "ANN")
        edges = [first_sample_of(k, rate, book.production.rate) for k in (*range(PHONES), frames)]
        its = a_recorded_session(book, tmp_path, rate=rate, subtype=subtype, samples=6 * rate + edges[-1])
        save_piece(book, its.id, (0, its.sound.length), [a_stretch(name, rate, edges[-1]) for name in STARTS])
        number_takes(book, its.id)
        reading = a_reading(lengths=[b - a for a, b in pairwise(edges)], sample_rate=rate)
        doubted = tuple(replace(word, doubt=doubt) for word, doubt in zip(reading.words, DOUBTS, strict=True))
        read_by_hand(book, "L0001-1", replace(reading, words=doubted))
        read_by_hand(book, "L0001-2", reading)
    shutil.copytree(demo_folder() / "kits", kits, dirs_exist_ok=True)
    return folder


def a_recorded_session(book, tmp_path, *, rate, subtype, samples):
    """A session of noise, whose samples are those that the file has."""
    path = tmp_path / "reel 1.wav"
    path.write_bytes(wave(encoded(noise(samples), subtype), fmt=fmt(rate=rate, subtype=subtype)))
    sound = Sound(hashlib.sha256(path.read_bytes()).hexdigest(), rate, Sample(samples))
    keep_sound(book, path, sound, 1)
    told = {"channel": None, "characters": (), "stand_in": False, "notes": NOTES, "author": "ANN"}
    return add_session(book, sound, "reel 1", **told)


def a_stretch(name, rate, length):
    start = STARTS[name] * rate
    guess = Guess(name.partition("-")[0], 0.9, Wholeness.WHOLE)
    return Stretch(Sample(start), Sample(start + length), StretchKind.TAKE, (guess,), "meyend")


def read_by_hand(book, name, reading: Reading, *, engine="1"):
    """Saves a reading of a take."""
    take = take_named(book, name)
    its = session(book, take.session)
    span = take.stretch
    sound = Sound(its.sound.digest, its.sound.sample_rate, Sample(span.stop - span.start), Sample(span.start))
    key = key_of(take, its, lines_by_id(book)[take.line].line.text, pronunciations="")
    body = reading_to_plain(replace(reading, sound=sound), book.production.rate)
    save_reading(book, replace(key, engine=engine), body)


class SignedIn:
    """Lets everybody in as the visitor whose role and name the request says, ANN the editor unless it does."""

    def __init__(self, app):
        self.app = app

    async def __call__(self, scope, receive, send):
        if scope["type"] == "http":
            said = dict(scope["headers"]).get(b"x-visitor", b"editor ANN").decode()
            role, _, name = said.partition(" ")
            scope.setdefault("state", {})["visitor"] = Visitor(Role(role), name) if name else None
        await self.app(scope, receive, send)


def told_plainly(_request, error):
    return JSONResponse({"problem": str(error)}, 412 if isinstance(error, ClashError) else 400)


async def live(request):
    return StreamingResponse(request.app.state.live.listen(), media_type="text/event-stream")


def desk_app(book):
    """The desk without the server around it."""
    static = StaticFiles(directory=Path(trackread.web.__file__).parent / "static")
    app = Starlette(
        routes=[*routes, Route("/api/live", live), Mount("/static", static)],
        middleware=[Middleware(SignedIn)],
        exception_handlers={TrackreadError: told_plainly},
    )
    app.state.book, app.state.live = book, Live()
    return app


@dataclass(frozen=True)
class Desk:
    """A desk that is served: its book, its app, and somebody who asks it."""

    book: Book
    app: Starlette
    client: httpx.Client

    @property
    def address(self):
        return str(self.client.base_url).rstrip("/")

    def get(self, path, **asked):
        return self.client.get(path, **asked)

    def post(self, path, **asked):
        return self.client.post(path, **asked)


@contextmanager
def serving(folder):
    """The desk of a production, served in a thread of its own."""
    with Book.open(folder) as book:
        app = desk_app(book)
        server = uvicorn.Server(
            uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error", ws="none", timeout_graceful_shutdown=1)
        )
        thread = threading.Thread(target=server.run)
        thread.start()
        try:
            while not server.started:
                thread.join(0.01)
            port = server.servers[0].sockets[0].getsockname()[1]
            with httpx.Client(base_url=f"http://127.0.0.1:{port}", trust_env=False) as client:
                yield Desk(book, app, client)
        finally:
            app.state.live.end()
            server.should_exit = True
            thread.join()
