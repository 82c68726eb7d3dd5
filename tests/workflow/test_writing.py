"""Files are written whole and all together, or not at all."""

import json
import resource
from contextlib import contextmanager
from pathlib import Path

import pytest

from trackread.errors import OutputError
from trackread.workflow.writing import check_places, make_folder, write_all, write_json


@contextmanager
def a_disk_that_holds(size):
    """No file may grow beyond `size` bytes: the system refuses the rest, as a full disk does (setrlimit(2))."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def an_older(path):
    path.write_text("older")
    return path


def test_all_files_are_written_and_nothing_beside_them(tmp_path):
    one, two = an_older(tmp_path / "one.pdf"), tmp_path / "two.json"
    write_all({one: b"first", two: b"second"})

    assert (one.read_bytes(), two.read_bytes()) == (b"first", b"second")
    assert sorted(tmp_path.iterdir()) == [one, two]


def test_a_full_disk_leaves_what_was_there_and_nothing_half_written(tmp_path):
    one, two = an_older(tmp_path / "one.pdf"), tmp_path / "two.json"
    with a_disk_that_holds(100), pytest.raises(OutputError, match=r"two[.]json cannot be written: File too large"):
        write_all({one: b"small", two: b"x" * 101})

    assert one.read_text() == "older"
    assert list(tmp_path.iterdir()) == [one]


def a_folder_in_the_way(path):
    path.mkdir()


def nothing_there(path):
    assert not path.parent.is_dir() or len(path.name) > 255


def a_link_to_a_device(path):
    path.symlink_to("/dev/null")


@pytest.mark.parametrize(
    ("name", "prepare", "reason"),
    [
        ("two.json", a_folder_in_the_way, "a folder has this name"),
        ("two.json", a_link_to_a_device, "it is no file but a device"),
        ("nowhere/two.json", nothing_there, r"there is no folder .*nowhere"),
        ("one.pdf/two.json", nothing_there, r"there is no folder .*one[.]pdf"),
        ("x" * 300, nothing_there, "File name too long"),
    ],
)
def test_a_place_that_cannot_take_a_file_leaves_every_file_as_it_was(tmp_path, name, prepare, reason):
    one, two = an_older(tmp_path / "one.pdf"), tmp_path / name
    prepare(two)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(OutputError, match=f"{name} cannot be written: {reason}"):
        write_all({one: b"new", two: b"new"})

    assert one.read_text() == "older"
    assert sorted(tmp_path.iterdir()) == before


def test_a_link_stays_a_link_and_the_file_behind_it_is_written(tmp_path):
    target, link = an_older(tmp_path / "target"), tmp_path / "link"
    link.symlink_to(target)
    write_all({link: b"new"})

    assert link.is_symlink()
    assert target.read_bytes() == b"new"


def test_two_outputs_may_not_have_one_name(tmp_path):
    with pytest.raises(OutputError, match="two outputs have this name"):
        check_places([tmp_path / "a", tmp_path / "." / "a"])


def test_a_file_that_is_read_may_not_be_written_over(tmp_path):
    take = an_older(tmp_path / "take.wav")
    (tmp_path / "link").symlink_to(take)

    for place in (take, tmp_path / "link"):
        with pytest.raises(OutputError, match="it is among the files to be read"):
            check_places([place], kept=[take])


def test_json_is_written_with_a_line_for_each_name(tmp_path):
    value = {"rate": "24/1", "words": [{"text": "“Hush”"}]}
    write_json(tmp_path / "a.json", value)
    text = (tmp_path / "a.json").read_text(encoding="utf-8")

    assert json.loads(text) == value
    assert text.splitlines() == ['{"rate": "24/1",', ' "words": [{"text": "“Hush”"}]}']


def test_a_folder_is_made_with_those_above_it_and_may_be_there_already(tmp_path):
    for _ in range(2):
        make_folder(tmp_path / "a" / "b")

    assert (tmp_path / "a" / "b").is_dir()


def test_a_file_in_the_place_of_a_folder_is_named(tmp_path):
    an_older(tmp_path / "a")

    with pytest.raises(OutputError, match=r"the folder .*a/b cannot be made: Not a directory"):
        make_folder(Path(tmp_path / "a" / "b"))
