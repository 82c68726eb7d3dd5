"""What pages are told as it happens (/api/live), and the threads that look in the book for what others have done.

A unit hears of the shots that it has, or has had, a sheet of, and of nothing else.
"""

import gc
import json
import threading
import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import BaseRoute, Route

from trackread.errors import TrackreadError
from trackread.web.answers import LOG
from trackread.web.live import STILL_HERE, WHO_IS_IT, Live
from trackread.web.signing_in import visitor_by_cookie
from trackread.web.visitors import Role, may, visitor_of
from trackread.workflow.kept_sheets import KeptSheets
from trackread.workflow.keys import forget_old_visits
from trackread.workflow.watching import News, StaleWatch, Watch, shots_of_unit

LOOK = 0.3  # seconds from look to look; what somebody else did is told after two of them
APART = 2  # looks are at least so many times as far apart as they are long, so that work goes on beside them
DAY = 24 * 3600.0
PATIENCE = 10.0  # seconds that the threads have to end


@may(*Role)
def live(request: Request) -> Response:
    """What happens, as server-sent events, for as long as the page listens."""
    return StreamingResponse(heard(request), media_type="text/event-stream", headers={"Cache-Control": "no-store"})


async def heard(request: Request) -> AsyncIterator[str]:
    """What the visitor is to hear; ends when the key is revoked, or they sign out."""
    ear = await run_in_threadpool(ear_of, request)
    async for text in request.app.state.live.listen():
        if text in (STILL_HERE, WHO_IS_IT) and await run_in_threadpool(visitor_by_cookie, request) is None:
            return
        if text.startswith(":"):
            yield "event: here\ndata: {}\n\n"
        elif ear is None or ear.hears(text):
            yield text


@dataclass(slots=True)
class Ear:
    """What a unit hears: what is told of its shots."""

    unit: str
    shots: set[str]

    def hears(self, text: str) -> bool:
        value = json.loads(text.partition("data: ")[2])
        if value.get("unit") == self.unit:
            self.shots.add(value["shot"])
        return value.get("shot") in self.shots


def ear_of(request: Request) -> Ear | None:
    """What the visitor is to hear, None for all of it."""
    visitor = visitor_of(request)
    if visitor is None or visitor.role is not Role.UNIT:
        return None
    return Ear(visitor.unit, set(shots_of_unit(request.app.state.book, visitor.unit)))


@dataclass(slots=True)
class Teller:
    """Tells what others have done. What is found at one look is told at the next, unless a page's own write, which
    tells of itself at once, has told it by then.
    """

    live: Live
    watch: Watch
    waiting: tuple[News, ...] = ()

    def look(self) -> None:
        if self.watch.somebody_is_gone():
            self.live.ask_who_it_is()
        found = self.watch.look()
        for news in self.waiting:
            if not news.is_in(self.live.last_told(news.kind, news.value)):
                self.live.tell(news.kind, news.value)
        self.waiting = found


@dataclass(slots=True)
class StaleTeller:
    """Tells which sheets have become stale, and which hold again."""

    live: Live
    watch: StaleWatch
    gathered: int = 0

    def look(self) -> None:
        for news in self.watch.look():
            self.live.tell(news.kind, news.value)
        if self.gathered != self.watch.sheets.material.gathered:
            self.gathered = self.watch.sheets.material.gathered
            set_apart()


def set_apart() -> None:
    """Has Python look for what nobody needs any more only in what comes after this.

    What is kept of a feature are some 300,000 values: to go through them takes a tenth of a second, in which nobody is
    answered, and so it is done so seldom that memory rises by 40 MB in between.
    """
    gc.unfreeze()
    gc.collect()
    gc.freeze()


@contextmanager
def watching(live: Live, sheets: KeptSheets) -> Iterator[None]:
    """Looks in the book while this lasts, in threads; once a day it forgets who has signed in long ago."""
    book, stop = sheets.book, threading.Event()
    looks = [
        (Teller(live, Watch(book)).look, LOOK),
        (StaleTeller(live, StaleWatch(sheets)).look, LOOK),
        (partial(forget_old_visits, book), DAY),
    ]
    threads = [threading.Thread(target=look_on, args=(*one, stop), daemon=True) for one in looks]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        stop.set()
        for thread in threads:
            thread.join(PATIENCE)
        gc.unfreeze()


def look_on(look: Callable[[], object], pause: float, stop: threading.Event) -> None:
    """Looks again and again until it is to stop; what a user can mend is logged, and looked at again later."""
    while True:
        begun = time.monotonic()
        try:
            look()
        except TrackreadError as error:
            LOG.warning("the book could not be looked at: %s", error)
        if stop.wait(max(pause, APART * (time.monotonic() - begun))):
            return


routes: list[BaseRoute] = [Route("/api/live", live)]
