"""How often somebody may try to sign in: so many wrong keys a minute from one address, so many from all together."""

import ipaddress
import threading
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field

MINUTE = 60.0
MOST_HERE = 10
MOST_EVERYWHERE = 200


@dataclass(slots=True)
class Tries:
    """The tries of the last minute. `clock` gives seconds that never go back; call from any thread."""

    clock: Callable[[], float] = time.monotonic
    by_place: dict[str, deque[float]] = field(default_factory=dict)
    every: deque[float] = field(default_factory=deque)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self, address: str) -> float:
        """Counts a try, and gives 0; or gives the seconds after which one may be made, if there were too many."""
        with self.lock:
            now = self.clock()
            self.forget(now)
            here = self.by_place.setdefault(place_of(address), deque())
            if len(here) < MOST_HERE and len(self.every) < MOST_EVERYWHERE:
                here.append(now)
                self.every.append(now)
                return 0.0
            oldest = here[0] if len(here) >= MOST_HERE else self.every[0]
            return oldest + MINUTE - now

    def was_right(self, address: str) -> None:
        """Takes back a try whose key was right: only wrong ones count."""
        with self.lock:
            here = self.by_place.get(place_of(address))
            if here:
                self.every.remove(here.pop())

    def forget(self, now: float) -> None:
        """Leaves out what is longer ago than a minute."""
        for place, here in [*self.by_place.items()]:
            drop_old(here, now)
            if not here:
                del self.by_place[place]
        drop_old(self.every, now)


def drop_old(times: deque[float], now: float) -> None:
    while times and times[0] <= now - MINUTE:
        times.popleft()


def place_of(address: str) -> str:
    """Where an address is: who has one of IPv6 has all of its first 64 bits (RFC 6177 gives a site no fewer)."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(found, ipaddress.IPv6Address) and not found.ipv4_mapped:
        return str(ipaddress.ip_network((found, 64), strict=False))
    return str(found)
