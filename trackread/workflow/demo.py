"""The demo: every line of our own scene from *The Late Tram*, read and printed."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib import resources
from pathlib import Path
from statistics import median

from trackread.core.reading import Reading
from trackread.core.sheet import Heading
from trackread.reading.take import Reader
from trackread.workflow.printing import Form
from trackread.workflow.read_take import Outputs, Progress, Take, hear_take, write_take
from trackread.workflow.writing import make_folder

PRODUCTION = "THE LATE TRAM"


@dataclass(frozen=True, slots=True)
class Told:
    """A take of the demo with what was heard in it and what was written of it."""

    take: Take
    reading: Reading
    outputs: Outputs


def demo_folder() -> Path:
    """Where the demo's voices lie: in the installed package, or among the fixtures of a checkout."""
    package = Path(str(resources.files("trackread")))
    installed = package / "demo" / "late-tram"
    return installed if installed.is_dir() else package.parent / "fixtures" / "late-tram"


def demo_pronunciations() -> Path:
    """The words of the scene that no dictionary knows."""
    return demo_folder() / "pronunciations.txt"


def demo_takes() -> tuple[Take, ...]:
    """The takes of the scene, in order."""
    folder = demo_folder()
    lines = tomllib.loads((folder / "lines.toml").read_text(encoding="utf-8"))["line"]
    return tuple(
        Take(
            path=folder / line["file"],
            line=line["text"],
            character=line["character"],
            heading=Heading(PRODUCTION, line["scene"], line["shot"], take=Path(line["file"]).stem),
        )
        for line in lines
    )


def read_demo(folder: Path, form: Form, reader: Reader, *, progress: Progress) -> tuple[Told, ...]:
    """Reads the scene and writes a sheet, a TextGrid and a reading of each take into `folder`.

    Raises OutputError if they cannot be written.
    """
    make_folder(folder)
    takes = demo_takes()
    readings: list[Reading] = []
    for number, take in enumerate(takes):
        progress(number / len(takes))
        readings.append(hear_take(take, reader))
    rates = own_rates(takes, readings)
    told = [
        Told(replace(a, own_rate=rates.get(a.character)), b, outputs_in(folder, a))
        for a, b in zip(takes, readings, strict=True)
    ]
    for each in told:
        write_take(each.take, each.reading, each.outputs, form, anyway=True)
    return tuple(told)


def outputs_in(folder: Path, take: Take) -> Outputs:
    name = take.path.stem
    return Outputs(folder / f"{name}.pdf", folder / f"{name}.TextGrid", folder / f"{name}.json")


def own_rates(takes: Sequence[Take], readings: Sequence[Reading]) -> dict[str, float]:
    """How fast each character speaks in these takes, in syllables a second: the median of the phrases."""
    rates: dict[str, list[float]] = {}
    for take, reading in zip(takes, readings, strict=True):
        rates.setdefault(take.character, []).extend(phrase.rate for phrase in reading.phrases)
    return {character: median(each) for character, each in rates.items() if each}
