"""The demo: every line of our own scene from *The Late Tram*, read and printed."""

import tomllib
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from trackread.core.reading import Reading
from trackread.core.sheet import Heading
from trackread.reading.take import Reader
from trackread.workflow.printing import Form
from trackread.workflow.read_take import Outputs, Progress, Take, read_take
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
    told: list[Told] = []
    for number, take in enumerate(takes):
        progress(number / len(takes))
        name = take.path.stem
        outputs = Outputs(folder / f"{name}.pdf", folder / f"{name}.TextGrid", folder / f"{name}.json")
        told.append(Told(take, read_take(take, outputs, form, reader, anyway=True), outputs))
    return tuple(told)
