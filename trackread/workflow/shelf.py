"""What was made once and may be wanted again, up to so many bytes; what nobody has asked for longest leaves first."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from threading import Lock


@dataclass(slots=True)
class Shelf:
    """Contents by their keys, `most` bytes of them together. May be asked by several threads.

    One is made at a time: many at once are no quicker, and what they need in between adds up.
    """

    most: int
    kept: OrderedDict[Hashable, bytes] = field(default_factory=OrderedDict)
    size: int = 0
    lock: Lock = field(default_factory=Lock)
    making: Lock = field(default_factory=Lock)

    def content(self, key: Hashable, make: Callable[[], bytes]) -> bytes:
        """The content of a key, made if it is not there. Raises what `make` does."""
        found = self.found(key)
        if found is None:
            with self.making:
                found = self.found(key)  # somebody may have made it meanwhile
                if found is None:
                    found = make()
                    self.keep(key, found)
        return found

    def found(self, key: Hashable) -> bytes | None:
        """The content of a key if it is there."""
        with self.lock:
            if key in self.kept:
                self.kept.move_to_end(key)
            return self.kept.get(key)

    def keep(self, key: Hashable, content: bytes) -> None:
        """Keeps a content, and lets others go where there is no room."""
        with self.lock:
            self.size += len(content) - len(self.kept.pop(key, b""))
            self.kept[key] = content
            while self.size > self.most:
                _, gone = self.kept.popitem(last=False)
                self.size -= len(gone)
