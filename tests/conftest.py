"""Settings for every test, and what many share: property tests draw the same examples each time and are never timed."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import settings

from trackread.reading.lexicon import read_pronunciations
from trackread.reading.sounds import Recording, load
from trackread.reading.take import Reader

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

TRAM = Path(__file__).resolve().parent.parent / "fixtures" / "late-tram"


@pytest.fixture(scope="session")
def reader() -> Reader:
    """The engines with the words of The Late Tram; loading them takes a second."""
    return Reader(read_pronunciations(TRAM / "pronunciations.txt"))


@pytest.fixture(scope="session")
def tram() -> dict[str, tuple[Recording, str]]:
    """Every take of The Late Tram with its line, by the number in its name."""
    lines = tomllib.loads((TRAM / "lines.toml").read_text(encoding="utf-8"))["line"]
    return {line["file"][:2]: (load(TRAM / line["file"]), line["text"]) for line in lines}
