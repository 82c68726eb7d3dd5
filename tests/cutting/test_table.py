"""Cuts as tables: cells as RFC 4180 quotes them. Footage counts 16 frames to the foot of 35 mm film."""

from fractions import Fraction

import pytest

from tests.cutting.makers import problems_of
from trackread.core.timebase import parse_rate
from trackread.cutting.assembly import cut_of
from trackread.cutting.events import Terms
from trackread.cutting.table import read_table
from trackread.errors import CutError

SHOTS = "shot,first,length\nSH010,0,84\nSH020,84,2+00\nSH030,120,00:00:01:00\n"
SOUNDS = "shot,at,recording,in,out\n"


def read(text, file="shots.csv", rate="24", **terms):
    return read_table(text, file, Terms(parse_rate(rate), **terms))


def cut_from(shots, sounds="", **terms):
    lists = [read(shots, **terms), *([read(sounds, "sounds.csv", **terms)] if sounds else [])]
    return cut_of(lists, Terms(parse_rate("24"), **terms))


def test_lengths_are_frames_footage_or_timecode():
    cut = cut_from(SHOTS)

    assert [(one.code, one.first, one.length) for one in cut.shots] == [
        ("SH010", 0, 84),
        ("SH020", 84, 32),
        ("SH030", 120, 24),
    ]


def test_shots_may_start_at_timecode():
    cut = cut_from("first;shot;length;remark\n01:00:00:00;SH010;24;\n01:00:01:00;SH020;24;rain\n")

    assert (cut.start, [one.first for one in cut.shots]) == (86400, [0, 24])


def test_frames_count_from_the_number_of_the_first_and_footage_from_nothing():
    cut = cut_from(
        "shot,first,length\nSH010,1,24\n", f"{SOUNDS}SH010,13,a.wav,0,12\nSH010,0+12,b.wav,0,12\n", first_frame=1
    )

    assert [one.first for one in cut.shots] == [0]
    assert [one.at for one in cut.placements] == [12, 12]


def test_a_sound_plays_in_its_shot_from_timecode_or_from_the_beginning_of_its_file():
    cut = cut_from(SHOTS, f"{SOUNDS}SH020,6,01.wav,10:00:00:00,10:00:01:00\nSH020,40,02.wav,12,2+00\n")
    clock, file = cut.placements

    assert [(one.at, one.length) for one in cut.placements] == [(90, 24), (124, 20)]
    assert (clock.source.file, clock.source.start, clock.source.file_start) == ("01.wav", 36000, None)
    assert (file.source.file, file.source.start, file.source.file_start) == ("02.wav", Fraction(12, 24), 0)


def test_a_take_is_named_as_a_clip_and_sounds_on_one_track_may_not_overlap():
    sounds = "shot,at,take,in,out,track\nSH010,0,L0107-3,0,12,BRACK\nSH010,8,L0107-4,0,12,BRACK\n"

    assert [event.source.clip for event in read(sounds).events] == ["L0107-3", "L0107-4"]
    with pytest.raises(CutError, match=r"sounds\.csv:3: starts 4 frames before the sound at sounds\.csv:2"):
        cut_from(SHOTS, sounds)


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("", [(1, "has the columns of no cut: name them shot, first and length, or shot, at, in, out and recording,")]),
        (
            "shot,at,in,out\n",
            [(1, "has the columns of no cut: name them shot, first and length, or shot, at, in, out")],
        ),
        ("shot,first,length,first\n", [(1, "there are two columns first: keep one")]),
        ("shot,first,length\nSH010,0\n", [(2, "this row has 2 cells, the first row has 3")]),
        ("shot,first,length\n,0,1\n", [(2, "this row names no shot")]),
        (
            "shot,first,length\nA,x,1\n",
            [(2, "first is 'x': write frames (48), timecode (01:00:02:00) or footage (3+00)")],
        ),
        ("shot,first,length\nA,0,0\n", [(2, "a shot has one frame at least")]),
        ("shot,first,length\nA,0,1+16\n", [(2, "'1+16' is not a footage: frames run from 00 to 15")]),
        ("shot,first,length\nA,00:00:00:24,1\n", [(2, "'00:00:00:24' is not a timecode: frames run from 00 to 23")]),
        ('shot,first,length\nA,0,1\n"A,0,1\n', [(3, "this row cannot be read (")]),
        (
            "shot,first,length\n00:00:00:00,0,1\nA,00:00:00:00,1\n",
            [(2, "first is no timecode, as it is in other rows")],
        ),
        (f"{SOUNDS}A,0,,0,1\n", [(2, "this row names no recording and no take")]),
        (f"{SOUNDS},0,a,0,1\n", [(2, "this row names no shot")]),
        (f"{SOUNDS}A,00:00:00:00,a,0,1\n", [(2, "at is '00:00:00:00': count it in frames or footage")]),
        (f"{SOUNDS}A,0,a,00:00:00:00,1\n", [(2, "in is '00:00:00:00' and out is '1': write both as timecode")]),
        (f"{SOUNDS}A,0,a,1,1\n", [(2, "ends at 1, which is not after its beginning at 1")]),
        (f"{SOUNDS}A,0,a,1,0\nA,0,,1,2\n", [(2, "ends at 0, which"), (3, "this row names no recording")]),
    ],
)
def test_every_faulty_row_is_told(text, problems):
    told = problems_of(read(text))

    assert [line for line, _ in told] == [line for line, _ in problems]
    assert all(text.startswith(problem) for (_, text), (_, problem) in zip(told, problems, strict=True))


def test_a_first_before_the_first_frame_is_told():
    assert problems_of(read("shot,first,length\nA,0,1\n", first_frame=1)) == [
        (2, "first is 0, and the first frame of the cut is 1")
    ]


@pytest.mark.parametrize(
    ("shot", "words"),
    [("SH999", "the shot 'SH999' is not in the cut"), ("SH010", "the shot 'SH010' is in the cut in 2 parts")],
)
def test_a_sound_of_a_shot_that_is_not_one_place_of_the_cut_is_told(shot, words):
    with pytest.raises(CutError, match=words):
        cut_from(f"{SHOTS}SH010,200,12\n", f"{SOUNDS}{shot},0,a.wav,0,12\n")


def test_a_table_without_rows_is_told():
    with pytest.raises(CutError, match=r"shots\.csv:1: holds no event"):
        cut_from("shot,first,length\n")
