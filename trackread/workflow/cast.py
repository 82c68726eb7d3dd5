"""Who speaks: every name that the script or the production uses for a character, told as one."""

from collections.abc import Iterable
from dataclasses import dataclass

from trackread.core.production import Production
from trackread.core.script import speaker_of
from trackread.errors import BookError


@dataclass(frozen=True, slots=True)
class Cast:
    """The names of characters under all that they are called."""

    names: dict[str, str]

    def name(self, called: str) -> str:
        """A character's own name, by any that it is called; one that nobody knows is its own."""
        return self.names.get(speaker_of(called), called)

    def known(self, called: str) -> str:
        """A character's own name. Raises BookError if nobody is called so."""
        name = self.names.get(speaker_of(called))
        if name is None:
            raise BookError(f"nobody is called {called!r}: there are {', '.join(sorted({*self.names.values()}))}")
        return name


def cast_of(production: Production, in_script: Iterable[str] = ()) -> Cast:
    """Everybody in the production and in the script, whose characters may be named as the script likes."""
    names = {speaker_of(name): one.name for one in production.characters for name in (one.name, *one.also)}
    for name in in_script:
        names.setdefault(speaker_of(name), name)
    return Cast(names)
