"""Real lists of every kind, damaged: each is a cut or a CutError, and nothing of it is dropped in silence."""

import json
import re

import opentimelineio as otio
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cutting.makers import a_list, a_row
from tests.cutting.test_fuzz import DETAILS, EVENTS, WHOLE, cut_or_error
from tests.cutting.test_timelines import PICTURE, SOUND, a_clip, a_gap, a_range, a_timeline, a_track, a_transition
from trackread.core.cut import Cut
from trackread.core.timebase import parse_rate
from trackread.cutting.assembly import cut_of
from trackread.cutting.cmx import read_cmx
from trackread.cutting.events import Terms
from trackread.cutting.reading import READERS
from trackread.cutting.table import read_table
from trackread.cutting.timelines import read_timeline

TERMS = Terms(parse_rate("24"), code=re.compile("(SH0[0-9]0)"))

PICTURE_LIST = a_list(
    a_row(1, 0, 86400, 48, reel="T1"),
    "* FROM CLIP NAME: SH010",
    a_row(2, 48, 86448, 0, reel="T1"),
    a_row(2, 100, 86448, 72, reel="T2", transition="D", operand="012"),
    "* FROM CLIP NAME: SH010",
    "* TO CLIP NAME: SH020",
    a_row(3, 0, 86520, 24, reel="BL"),
    a_row(4, 500, 86544, 48, reel="T3"),
    "M2   T3      024.0                00:00:20:20",
    "* FROM CLIP NAME: SH030",
)
SOUND_LIST = a_list(
    a_row(1, 7200, 86410, 30, channels="A", reel="DAY1"),
    "* SOURCE FILE: 01-brack.wav",
    a_row(2, 7300, 86450, 40, channels="A2", reel="DAY1"),
    "* SOURCE FILE: 03-pell.wav",
    a_row(3, 9000, 86520, 24, channels="AA", reel="DAY2"),
)
SHOT_TABLE = "shot,first,length\nSH010,01:00:00:00,48\nSH020,01:00:02:00,4+08\nSH030,01:00:06:00,48\n"
SOUND_HEAD = "shot,at,recording,in,out\n"
SOUND_TABLE = f"{SOUND_HEAD}SH010,4,01-brack.wav,01:00:00:00,01:00:01:00\nSH030,0,03-pell.wav,12,36\n"


def timeline_text():
    """A timeline with pieces of most kinds: a transition, a gap, a nested piece, speeds, two tracks of sound."""
    media = a_range(0, 500)
    nested = otio.schema.Stack("SH040 scene", [a_track(a_clip("SH040", 3, 20, media=media))])
    clips = [a_clip("SH010", 10, 48, media=media, url="file:///SH010.mov"), a_transition(6, 6)]
    clips += [a_clip("SH020", 10, 48, media=media), a_gap(12), nested]
    clips.append(a_clip("SH030", 5, 24, effects=[otio.schema.LinearTimeWarp(time_scalar=2.0)]))
    brack = a_track(a_gap(8), a_clip("brack", 86400, 30, url="01-brack.wav"), kind=SOUND, name="BRACK")
    pell = a_track(a_gap(60), a_clip("pell", 0, 30, media=media), kind=SOUND, name="PELL")
    return a_timeline(a_track(*clips, name="V1"), brack, pell, start=86400).to_json_string(indent=0)


TIMELINE = timeline_text()
LISTS = {"picture.edl": PICTURE_LIST, "sound.edl": SOUND_LIST, "shots.csv": SHOT_TABLE, "sounds.csv": SOUND_TABLE}
LISTS["tram.otio"] = TIMELINE


@st.composite
def damaged(draw, text):
    """A text with some of its lines taken out, doubled or put elsewhere, and letters of it changed."""
    lines = text.split("\n")
    for _ in range(draw(st.integers(0, 3))):
        place = draw(st.integers(0, len(lines) - 1))
        line = draw(st.sampled_from(lines))
        lines[place : place + draw(st.sampled_from([0, 1, 1, 2]))] = draw(st.sampled_from([[], [line], [line, line]]))
        lines = lines or [""]
    text = "\n".join(lines)
    for _ in range(draw(st.integers(0, 3))):
        place = draw(st.integers(0, len(text)))
        letter = draw(st.one_of(st.sampled_from("0123456789:;,\"'{}[]-+ \n\tVAKDBL"), st.characters(codec="utf-8")))
        text = text[:place] + letter + text[place + draw(st.integers(0, 2)) :]
    return text


def listed_or_error(name, text):
    """What a list has; the words of the error if it is none."""
    reader = READERS[f".{name.rpartition('.')[2]}"]
    return cut_or_error(lambda: reader(text, name, TERMS))


@pytest.mark.parametrize("name", LISTS)
def test_the_lists_that_are_damaged_here_are_whole_ones(name):
    others = {"sound.edl": "picture.edl", "sounds.csv": "shots.csv"}
    names = [others[name], name] if name in others else [name]
    cut = cut_of([listed_or_error(each, LISTS[each]) for each in names], TERMS)

    assert len(cut.shots) == (4 if name == "tram.otio" else 3)
    assert len(cut.placements) == {"sound.edl": 3, "sounds.csv": 2, "tram.otio": 2}.get(name, 0)


@settings(max_examples=150)
@given(st.lists(st.sampled_from(sorted(LISTS)), min_size=1, max_size=4, unique=True), st.data())
def test_several_damaged_lists_are_a_cut_or_a_cut_error_that_names_one_of_them(names, data):
    lists = [listed_or_error(name, data.draw(damaged(LISTS[name]))) for name in names]
    errors = [one for one in lists if isinstance(one, str)]
    outcome = cut_or_error(lambda: cut_of(lists, TERMS)) if not errors else errors[0]

    assert isinstance(outcome, Cut) or outcome.partition(":")[0] in names


def events_of_edl(text):
    return {number for number, line in enumerate(text.split("\n"), 1) if line.strip()[:1].isdigit()}


@settings(max_examples=150)
@given(st.data())
def test_every_line_of_every_list_of_several_is_told(data):
    """Each line of an event is a shot, a placement, a remark or a problem."""
    lines = st.lists(st.one_of(EVENTS, WHOLE, DETAILS), max_size=6).map("\n".join)
    texts = {
        "1.edl": data.draw(damaged(PICTURE_LIST)),
        "2.edl": data.draw(damaged(SOUND_LIST)),
        "3.edl": data.draw(st.one_of(lines, st.just(SOUND_LIST), damaged(PICTURE_LIST))),
    }
    lists = [read_cmx(text, name, TERMS) for name, text in texts.items()]
    cut = cut_or_error(lambda: cut_of(lists, TERMS))
    places = [one.place for each in lists for one in (*each.problems, *each.remarks, *each.events)]
    if isinstance(cut, Cut):
        places = [one.place for one in (*cut.shots, *cut.placements, *cut.remarks)]

    told = {(place.file, place.line) for place in places}
    assert {(name, line) for name, text in texts.items() for line in events_of_edl(text)} <= told


CELLS = ["SH010", "SH020", "SH999", "", "0", "12", "48", "4+08", "01:00:00:00", "01:00:02:00", "x", "-1", "a.wav"]
ROWS = st.lists(st.lists(st.sampled_from(CELLS), min_size=2, max_size=6).map(",".join), max_size=6).map("\n".join)


@settings(max_examples=150)
@given(st.sampled_from([SHOT_TABLE, "shot,first,length\n"]), ROWS, st.sampled_from([SOUND_TABLE, SOUND_HEAD]), ROWS)
def test_every_row_of_a_table_is_a_shot_a_placement_a_remark_or_a_problem(shots, shot_rows, sounds, sound_rows):
    texts = {"shots.csv": shots + shot_rows, "sounds.csv": sounds + sound_rows}
    lists = [read_table(text, name, TERMS) for name, text in texts.items()]
    cut = cut_or_error(lambda: cut_of(lists, TERMS))
    places = [one.place for each in lists for one in (*each.problems, *each.remarks, *each.events)]
    if isinstance(cut, Cut):
        places = [one.place for one in (*cut.shots, *cut.placements, *cut.remarks)]

    told = {(place.file, place.line) for place in places}
    for name, text in texts.items():
        rows = [number for number, line in enumerate(text.split("\n"), 1) if number > 1 and line.strip(", ")]
        assert {(name, line) for line in rows} <= told


ODD = ["null", "true", "0", "-1", "1.5", "1e300", '""', '"x"', "[]", "{}", '{"OTIO_SCHEMA": "Clip.2"}', "[null]"]


def parts_of(node):
    """Every part of a structure, as what holds it and its key there."""
    for key, one in list(node.items() if isinstance(node, dict) else enumerate(node)):
        yield node, key
        if isinstance(one, dict | list):
            yield from parts_of(one)


@settings(max_examples=150)
@given(st.data())
def test_a_timeline_with_odd_parts_is_a_cut_or_a_cut_error(data):
    root = json.loads(TIMELINE)
    for _ in range(data.draw(st.integers(1, 3))):
        parts = list(parts_of(root))
        holder, key = parts[data.draw(st.integers(0, len(parts) - 1))]
        what = data.draw(st.sampled_from(["odd", "odd", "gone", "another"]))
        if what == "odd":
            holder[key] = json.loads(data.draw(st.sampled_from(ODD)))
        elif what == "gone" and len(parts) > 1:
            del holder[key]
        else:
            others = list(parts_of(json.loads(TIMELINE)))
            other, place = others[data.draw(st.integers(0, len(others) - 1))]
            holder[key] = other[place]
    text = json.dumps(root)
    outcome = cut_or_error(lambda: cut_of([read_timeline(text, "tram.otio", TERMS)], TERMS))

    assert isinstance(outcome, Cut) or outcome.startswith("tram.otio:")


LENGTHS = st.sampled_from([0, 1, 24, 24, 30.5])
SPEEDS = st.sampled_from([1.0, 1.0, 2.0, 0.0, -1.0])


@st.composite
def pieces(draw, depth=0):
    """A piece of a track: a clip, a gap, a transition, or a nested track of pieces."""
    kind = draw(st.sampled_from(["clip", "clip", "clip", "gap", "transition", *["nested"] * (depth < 2)]))
    if kind == "gap":
        return a_gap(6)
    if kind == "transition":
        return a_transition(3, 3)
    if kind == "nested":
        nested = a_track(*draw(st.lists(pieces(depth + 1), min_size=1, max_size=3)))
        return otio.schema.Stack("scene", [nested], draw(st.sampled_from([None, a_range(5, 20)])))
    warp = otio.schema.LinearTimeWarp(time_scalar=draw(SPEEDS))
    one = a_clip(f"SH0{draw(st.integers(1, 9))}0", 10, draw(LENGTHS), effects=[warp])
    one.enabled = draw(st.sampled_from([True, True, True, False]))
    return one


TRACKS = st.builds(
    lambda items, kind: a_track(*items, kind=kind),
    st.lists(pieces(), min_size=1, max_size=4),
    st.sampled_from([PICTURE, PICTURE, SOUND, "Odd"]),
)


def places_of_clips(stack, path=""):
    """Where each clip lies, in the words that tell it."""
    for number, child in enumerate(stack, 1):
        where = f"{path}{child.kind.lower()} track {number}"
        for place, item in enumerate(child, 1):
            here = f"{where}, item {place}{f' ({item.name!r})' if item.name else ''}"
            if isinstance(item, otio.schema.Clip):
                yield here
            elif isinstance(item, otio.schema.Stack):
                yield from places_of_clips(item, f"{here}, ")


@settings(max_examples=150)
@given(st.lists(TRACKS, max_size=3), st.sampled_from([None, 86400]))
def test_every_clip_of_a_timeline_is_a_shot_a_placement_a_remark_or_a_problem(tracks, start):
    """What is told of what a clip lies in is told of it."""
    timeline = a_timeline(*tracks, start=start)
    listed = read_timeline(timeline.to_json_string(), "tram.otio", TERMS)
    cut = cut_or_error(lambda: cut_of([listed], TERMS))
    told = {one.place.item for one in (*listed.problems, *listed.remarks, *listed.events)}
    if isinstance(cut, Cut):
        told = {one.place.item for one in (*cut.shots, *cut.placements, *cut.remarks)}
    clips = list(places_of_clips(timeline.tracks))

    assert len(clips) == len(timeline.find_clips())
    for where in clips:
        assert any(where == item or where.startswith(f"{item}, ") for item in told), (where, told)
