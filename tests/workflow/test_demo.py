"""The demo: found wherever trackread is installed, and told in full."""

import json
import tomllib
from pathlib import Path

import pytest

from tests.makers import ReaderByHand
from trackread.core.timebase import parse_rate
from trackread.errors import OutputError
from trackread.workflow.demo import demo_folder, demo_pronunciations, demo_takes, read_demo
from trackread.workflow.printing import form_for
from trackread.workflow.sheet_of_take import Terms

FORM = form_for(Terms(parse_rate("24")))
ROOT = Path(__file__).resolve().parent.parent.parent


def test_every_voice_and_list_of_the_demo_is_found():
    takes = demo_takes()

    assert len(takes) >= 12
    assert all(take.path.is_file() for take in takes)
    assert demo_pronunciations().is_file()


def test_a_wheel_holds_the_demo_where_it_is_looked_for():
    build = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["hatch"]["build"]

    assert build["targets"]["wheel"]["force-include"] == {"fixtures/late-tram": "trackread/demo/late-tram"}
    assert demo_folder() == ROOT / "fixtures" / "late-tram"


def test_each_take_gets_its_three_files_and_its_place_in_the_scene(tmp_path):
    shares = []
    told = read_demo(tmp_path / "new" / "tram", FORM, ReaderByHand(), progress=shares.append)
    written = sorted(path.name for path in (tmp_path / "new" / "tram").iterdir())

    assert written == sorted(f"{one.take.path.stem}.{kind}" for one in told for kind in ("pdf", "TextGrid", "json"))
    assert [one.take for one in told] == list(demo_takes())
    assert {one.take.heading.scene for one in told} == {"7"}
    assert shares == sorted(shares)
    assert all(json.loads(one.outputs.json.read_bytes())["words"] for one in told)


def test_a_file_in_the_place_of_the_folder_is_told_before_anything_is_read(tmp_path):
    (tmp_path / "tram").write_text("no folder")
    reader = ReaderByHand()

    with pytest.raises(OutputError, match=r"the folder .*tram cannot be made: File exists"):
        read_demo(tmp_path / "tram", FORM, reader, progress=[].append)
    assert reader.lines == []
