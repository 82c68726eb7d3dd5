"""What happens, told at once to every page that listens: server-sent events (WHATWG HTML, section 9.2).

Each event has a kind and plain values. A page that was away asks for what it shows anew, so events are only news and
never the only place where something stands.
"""

import asyncio
import json
import threading
from collections.abc import AsyncIterator, Mapping
from dataclasses import dataclass, field

MOST_WAITING = 100  # events that a page may be behind before it is cut off, and comes again
QUIET = 15.0  # seconds after which a page that hears nothing is told so, that nobody takes the line for dead
STILL_HERE = ": still here\n\n"
WHO_IS_IT = ": who is it?\n\n"  # somebody has been signed out, and it may be whoever listens


@dataclass(slots=True)
class Live:
    """The pages that listen. `tell` may be called from any thread."""

    queues: dict[asyncio.Queue[str | None], asyncio.AbstractEventLoop] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)
    last: dict[tuple[str, object], dict[str, object]] = field(default_factory=dict)

    def tell(self, kind: str, value: Mapping[str, object]) -> None:
        """Tells all pages something."""
        text = f"event: {kind}\ndata: {json.dumps(dict(value), ensure_ascii=False)}\n\n"
        with self.lock:
            self.last[kind, about(value)] = dict(value)
        self.put_all(text)

    def ask_who_it_is(self) -> None:
        """Has everybody who gives these texts to a page look whether it is still to be told anything."""
        self.put_all(WHO_IS_IT)

    def put_all(self, text: str) -> None:
        with self.lock:
            listening = list(self.queues.items())
        for queue, loop in listening:
            loop.call_soon_threadsafe(put, queue, text)

    def last_told(self, kind: str, value: Mapping[str, object]) -> Mapping[str, object]:
        """What was told last of this kind about the shot or take that a value is about, {} if nothing was."""
        with self.lock:
            return self.last.get((kind, about(value)), {})

    def end(self) -> None:
        """Lets every page go, since the server stops."""
        with self.lock:
            listening = list(self.queues.items())
        for queue, loop in listening:
            loop.call_soon_threadsafe(let_go, queue)

    async def listen(self) -> AsyncIterator[str]:
        """What one page is told, until it goes."""
        queue: asyncio.Queue[str | None] = asyncio.Queue(MOST_WAITING)
        with self.lock:
            self.queues[queue] = asyncio.get_running_loop()
        try:
            yield ": listening\n\n"
            while True:
                try:
                    text = await asyncio.wait_for(queue.get(), QUIET)
                except TimeoutError:
                    text = STILL_HERE
                if text is None:
                    return
                yield text
        finally:
            with self.lock:
                self.queues.pop(queue, None)


def about(value: Mapping[str, object]) -> object:
    """The shot or take that an event is about."""
    return value.get("shot") or value.get("name")


def put(queue: asyncio.Queue[str | None], text: str) -> None:
    """Puts an event into a page's queue; one that is too far behind is ended, and comes again."""
    if queue.full():
        let_go(queue)
    else:
        queue.put_nowait(text)


def let_go(queue: asyncio.Queue[str | None]) -> None:
    """Ends what a page is told."""
    while not queue.empty():
        queue.get_nowait()
    queue.put_nowait(None)
