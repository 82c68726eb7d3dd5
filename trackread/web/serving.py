"""The server started: on which address, with which certificate, and how it ends.

It is one process, with a thread for each request that asks the book. It listens to this machine alone unless it is
told to serve a network, and then only with keys to sign in by.
"""

import ctypes
import errno
import ipaddress
import logging
import signal
import socket
import ssl
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from trackread.errors import ServingError
from trackread.web.app import make_app, safe
from trackread.web.patience import PatientLine
from trackread.workflow.keys import all_keys, editor_at_hand
from trackread.workflow.production import Book
from trackread.workflow.typed import OBEYED

MOST_LINES = 512  # that are open at once; 40 floors and some desks hold a few each
# Seconds that a thread may go on while others wait. An answer has many steps, each of which may wait so long beside a
# thread that reckons, and Python's own 0.005 adds up.
TURN = 0.0005
# By the numbers of malloc.h: one heap for all threads; blocks of 256 kB and more go back at once, and so does the end
# of the heap from 1 MB on.
MALLOC = {-8: 1, -3: 2**18, -1: 2**20}
IDLE = 30  # seconds that a line stays open with nothing on it: a page tells a frame every ten or so
LAST_ANSWERS = 5  # seconds that answers have to be finished in when the server stops
WORDS = {
    errno.EADDRINUSE: "something else listens there: choose another --port, or stop that",
    errno.EADDRNOTAVAIL: "that is no address of this machine",
    errno.EACCES: "ports below 1024 are for the machine's own services: choose another --port",
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where to serve: `names` are what else the server is called, `certificate` and `key_file` are for TLS."""

    host: str
    port: int
    on_network: bool = False
    names: tuple[str, ...] = ()
    certificate: Path | None = None
    key_file: Path | None = None

    @property
    def scheme(self) -> str:
        return "https" if self.certificate else "http"


class Server(uvicorn.Server):
    """A server that lets its pages go when it is asked to stop, and then ends as one that was not."""

    def __init__(self, config: uvicorn.Config, let_go: Callable[[], None]) -> None:
        super().__init__(config)
        self.let_go = let_go

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        before = {one: signal.signal(one, self.handle_exit) for one in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for one, handler in before.items():
                signal.signal(one, handler)

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        super().handle_exit(sig, frame)
        self.let_go()


def give_memory_back() -> None:
    """Has the C library give back what is needed no more.

    Glibc gives each thread a heap of its own, which keeps the most that it ever needed: with forty floors at a feature
    that is 300 MB in place of 200, and comes bit by bit. Other systems have no such thing (mallopt(3)).
    """
    with suppress(AttributeError):
        for number, value in MALLOC.items():
            ctypes.CDLL(None).mallopt(number, value)


def serve(book: Book, place: Place, editor: str, tell: Callable[[str], None]) -> None:
    """Serves a production until SIGINT or SIGTERM; `tell` is given what to print, `editor` is who is at this machine.

    Raises ServingError if it cannot be done so.
    """
    alone = is_loopback(place.host)
    check_wish(book, place, alone=alone)
    with listening(place) as bound:
        app = make_app(book, [place.host, *own_names(), *place.names])
        address = address_of(place, bound)
        tell(f"{book.production.title} is served at {address}")
        if alone:
            once = app.state.once.make(editor_at_hand(book, editor).number)
            tell(f"Sign in here as {editor}, once: {address}/sign-in?once={once}")
        tell("Who has a key signs in with it; `trackread key add` makes keys. Stop with Ctrl-C.")
        log_in_rows()
        sys.setswitchinterval(TURN)
        give_memory_back()
        Server(config_of(app, place), app.state.live.end).run(sockets=[bound])
        tell("Stopped.")


def config_of(app: Starlette, place: Place) -> uvicorn.Config:
    """How the application is served."""
    return uvicorn.Config(
        safe(app),
        http=PatientLine,
        ws="none",
        lifespan="on",
        log_config=None,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        limit_concurrency=MOST_LINES,
        timeout_keep_alive=IDLE,
        timeout_graceful_shutdown=LAST_ANSWERS,
        ssl_certfile=place.certificate,
        ssl_keyfile=place.key_file,
    )


def check_wish(book: Book, place: Place, *, alone: bool) -> None:
    """Raises ServingError for what is not to be served so."""
    if not alone and not place.on_network:
        raise ServingError(f"{place.host} can be reached from the network: if that is meant, say --on-network as well")
    if not alone and not all_keys(book, revoked=False):
        raise ServingError("nobody could sign in: make a key first, `trackread key add --role editor --name NAME`")
    if (place.certificate is None) != (place.key_file is None):
        raise ServingError("TLS needs both: --cert with the certificate and --key-file with its private key")
    if place.certificate and place.key_file:
        check_certificate(place.certificate, place.key_file)


def check_certificate(certificate: Path, key_file: Path) -> None:
    for file in (certificate, key_file):
        try:
            file.read_bytes()
        except OSError as error:
            raise ServingError(f"{file} cannot be read: {error.strerror or error}") from error
    try:
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(certificate, key_file, password=no_password)
    except (ssl.SSLError, ValueError) as error:
        told = "both must be PEM, the key without a password and that of the certificate"
        raise ServingError(f"{certificate} and {key_file} make no certificate: {told} ({error})") from error


def no_password() -> str:
    """Nobody is asked for the password of a key."""
    return ""


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach a host."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@contextmanager
def listening(place: Place) -> Iterator[socket.socket]:
    """The socket that listens. Raises ServingError if the address is not this machine's, or somebody else listens."""
    try:
        family, *_, address = socket.getaddrinfo(place.host, place.port, type=socket.SOCK_STREAM)[0]
        bound = socket.create_server(address[:2], family=family, backlog=MOST_LINES)
    except (OSError, UnicodeError, OverflowError) as error:
        raise ServingError(f"{place.host} port {place.port} cannot be listened at: {why_not(error)}") from error
    with bound:
        yield bound


def why_not(error: Exception) -> str:
    """Why a socket does not listen, in words."""
    match error:
        case OSError(errno=number) if number in WORDS:
            return WORDS[number]
        case socket.gaierror():
            return "no machine is called so"
        case _:
            return str(getattr(error, "strerror", None) or error)


def address_of(place: Place, bound: socket.socket) -> str:
    """The address to open; of a server that listens everywhere, with the name of the machine."""
    host, port = bound.getsockname()[:2]
    if ipaddress.ip_address(host).is_unspecified:
        host = socket.gethostname()
    elif place.host == "localhost":
        host = place.host
    return f"{place.scheme}://{f'[{host}]' if ':' in host else host}:{port}"


def own_names() -> tuple[str, ...]:
    """What this machine is called in a network: by its name, in full, and as it calls itself to its neighbours."""
    name = socket.gethostname()
    return name, socket.getfqdn(), f"{name.partition('.')[0]}.local"


class OneRow(logging.Formatter):
    """Log rows that stay rows: what a stranger sent in cannot begin one, nor colour it."""

    def format(self, record: logging.LogRecord) -> str:
        record.msg, record.args = OBEYED.sub(lambda found: f"\\x{ord(found[0]):02x}", record.getMessage()), None
        return super().format(record)


def log_in_rows() -> None:
    """Sends what the server logs to the error stream."""
    rows = logging.StreamHandler(sys.stderr)
    rows.setFormatter(OneRow("%(asctime)s %(message)s"))
    for name, level in (("trackread.web", logging.INFO), ("uvicorn.error", logging.WARNING)):
        logger = logging.getLogger(name)
        logger.handlers, logger.propagate = [rows], False
        logger.setLevel(level)
