"""Files to a cut: what a file may be, and what is told where it is none."""

import codecs

import pytest

from tests.cutting.makers import REEL, a_list, a_row
from trackread.core.timebase import parse_rate
from trackread.cutting.events import Terms
from trackread.cutting.reading import read_cut
from trackread.errors import CutError

TERMS = Terms(parse_rate("24"))


def a_file(tmp_path, content, name="tram.edl"):
    path = tmp_path / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def told(*paths):
    with pytest.raises(CutError) as error:
        read_cut(paths, TERMS)
    return str(error.value).split("\n")


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("\n", "\r\n").encode(),
        lambda text: text.replace("\n", "\r").encode(),
        lambda text: codecs.BOM_UTF8 + text.encode(),
        lambda text: text.encode() + b"\x1a",
        lambda text: text.encode() + b"\x1a\r\n",
    ],
)
def test_ends_of_lines_and_of_files_and_marks_of_bytes_change_nothing(tmp_path, change):
    path = a_file(tmp_path, REEL)
    before = read_cut([path], TERMS)

    assert read_cut([a_file(tmp_path, change(REEL))], TERMS) == before
    assert len(before.shots) == 3


def test_latin_1_is_read_and_told_with_its_line(tmp_path):
    path = a_file(tmp_path, a_list(a_row(1, 0, 0, 24), "* FROM CLIP NAME: CAFÉ").encode("latin-1"))
    cut = read_cut([path], TERMS)

    assert cut.shots[0].code == "CAFÉ"
    assert [(one.place.line, one.text) for one in cut.remarks] == [
        (5, "not UTF-8, so read as Latin-1: '* FROM CLIP NAME: CAFÉ'")
    ]


@pytest.mark.parametrize(
    ("content", "name", "problem"),
    [
        (codecs.BOM_UTF16_LE + REEL.encode("utf-16-le"), "tram.edl", "tram.edl:1: is UTF-16 text: save it as UTF-8"),
        (b"TITLE: T\r\n\x93", "tram.edl", "tram.edl:2: is not UTF-8: save the file as UTF-8"),
        (b"shot,first,length\nCAF\xc9,0,1\n", "tram.csv", "tram.csv:2: is not UTF-8: save the file as UTF-8"),
        (b"TITLE: T\n\0", "tram.edl", "tram.edl:2: is no text: save the file as UTF-8 text"),
        (
            b"",
            "tram.txt",
            "tram.txt: .txt is no cut list that can be read: use CMX 3600 (.edl), OpenTimelineIO (.otio)",
        ),
        (b"", "tram", "tram: a name without an ending is no cut list that can be read"),
        (b"", "tram.edl", "tram.edl:1: holds no event of picture or sound"),
    ],
)
def test_what_is_no_list_is_told(tmp_path, content, name, problem):
    (line,) = told(a_file(tmp_path, content, name))

    assert line.startswith(f"{tmp_path}/{problem}")


def test_a_file_that_is_not_there_is_told(tmp_path):
    assert told(tmp_path / "none.edl") == [f"{tmp_path}/none.edl: cannot be read: No such file or directory"]


def test_no_file_and_a_file_named_twice_are_told(tmp_path):
    path = a_file(tmp_path, REEL)

    assert told() == ["no cut list: name one file at least"]
    assert told(path, path) == [f"{path}: is named twice"]


def test_the_problems_of_lists_that_can_be_read_are_told_with_those_that_cannot(tmp_path):
    faulty = a_file(tmp_path, a_list("1 x"), "1.edl")
    lines = told(faulty, tmp_path / "none.edl")

    assert [line.rpartition("/")[2].partition(": ")[0] for line in lines] == ["none.edl", "1.edl:4"]


def test_lists_of_several_kinds_are_one_cut(tmp_path):
    sounds = a_file(tmp_path, "shot,at,recording,in,out\nSH020,6,01.wav,0,12\n", "sounds.csv")
    cut = read_cut([a_file(tmp_path, REEL), sounds], TERMS)

    assert [one.at for one in cut.placements] == [90]


def test_sounds_by_timecode_need_the_start_of_a_cut_that_has_none(tmp_path):
    shots = a_file(tmp_path, "shot,first,length\nSH010,0,48\n", "shots.csv")
    sounds = a_file(tmp_path, a_list(a_row(1, 0, 86412, 24, channels="A")))

    assert told(shots, sounds) == [
        f"{sounds}:1: has timecode and no picture, while the pictures of the other lists are counted from the first: "
        "say the timecode at which the cut starts"
    ]
    cut = read_cut([shots, sounds], Terms(parse_rate("24"), start=86400))
    assert [(one.first, one.length) for one in cut.shots] == [(0, 48)]
    assert [one.at for one in cut.placements] == [12]
