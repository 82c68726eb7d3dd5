"""Settings for every test, and what many share: property tests draw the same examples each time and are never timed."""

import hashlib
import tomllib
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
from hypothesis import settings

from trackread.core.correction import Pin
from trackread.core.reading import Reading
from trackread.reading.lexicon import Lexicon, read_pronunciations
from trackread.reading.sounds import Recording, load
from trackread.reading.take import Progress, Reader

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

TRAM = Path(__file__).resolve().parent.parent / "fixtures" / "late-tram"


class Remembering(Reader):
    """A reader that hears no take of the same words twice: many tests ask for the same, and all get what was heard."""

    def __init__(self, lexicon: Lexicon) -> None:
        super().__init__(lexicon)
        self.known: dict[object, Reading] = {}

    def read(
        self, recording: Recording, line: str, progress: Progress | None = None, *, pins: Sequence[Pin] = ()
    ) -> Reading:
        if progress is not None:
            return super().read(recording, line, progress, pins=pins)
        heard = hashlib.sha256(np.ascontiguousarray(recording.signal).tobytes()).digest()
        key = (recording.sound, heard, line, tuple(pins))
        if key not in self.known:
            self.known[key] = super().read(recording, line, pins=pins)
        return self.known[key]


@pytest.fixture(scope="session")
def reader() -> Reader:
    """The engines with the words of The Late Tram; loading them takes a second."""
    return Remembering(read_pronunciations(TRAM / "pronunciations.txt"))


@pytest.fixture(scope="session")
def tram() -> dict[str, tuple[Recording, str]]:
    """Every take of The Late Tram with its line, by the number in its name."""
    lines = tomllib.loads((TRAM / "lines.toml").read_text(encoding="utf-8"))["line"]
    return {line["file"][:2]: (load(TRAM / line["file"]), line["text"]) for line in lines}
