"""Lines to clients that are slow: the head of a request must come in time, and what is answered must be taken."""

import asyncio
from collections.abc import Callable
from functools import partial

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from trackread.web.answers import LOG

HEAD = 10.0  # seconds in which the head of a request must come
TAKEN = 60.0  # seconds that an answer may wait to be taken


class Countdown:
    """A time that runs out unless it is stopped; it begins but once until then."""

    def __init__(self) -> None:
        self.timer: asyncio.TimerHandle | None = None

    def begin(self, loop: asyncio.AbstractEventLoop, seconds: float, then: Callable[[], None]) -> None:
        self.timer = self.timer or loop.call_later(seconds, then)

    def stop(self) -> None:
        if self.timer:
            self.timer.cancel()
        self.timer = None


class PatientLine(H11Protocol):
    """A line that is closed when its client is too slow, in either direction, or talks no HTTP."""

    head_seconds = HEAD
    taken_seconds = TAKEN

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        self.until_head, self.until_taken = Countdown(), Countdown()
        self.access_log = False  # however the log is set up: an address may hold a word that signs in
        super().connection_made(transport)
        self.await_head()

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        self.await_head()

    def connection_lost(self, exc: Exception | None) -> None:
        self.until_head.stop()
        self.until_taken.stop()
        super().connection_lost(exc)

    def await_head(self) -> None:
        """Begins to count where a head is still to come, however its bytes drip in, and stops when it has come."""
        if self.conn.their_state is h11.IDLE and self.timeout_keep_alive_task is None:
            why = f"no whole request came within {self.head_seconds:g} s"
            self.until_head.begin(self.loop, self.head_seconds, partial(self.cut, why))
        else:
            self.until_head.stop()

    def pause_writing(self) -> None:
        super().pause_writing()
        why = f"it did not take its answer within {self.taken_seconds:g} s"
        self.until_taken.begin(self.loop, self.taken_seconds, partial(self.cut, why))

    def resume_writing(self) -> None:
        self.until_taken.stop()
        super().resume_writing()

    def cut(self, why: str) -> None:
        LOG.warning("refused %s: %s", self.client[0] if self.client else "somebody", why)
        self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        LOG.warning("refused %s (400): what it sent is no HTTP", self.client[0] if self.client else "somebody")
        super().send_400_response(msg)
