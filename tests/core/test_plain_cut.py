"""Cuts as JSON, there and back."""

import json
from dataclasses import fields, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cutting.makers import RATES, a_cut, a_placement, a_shot, cuts
from trackread.core.cut import Cut, Handles, Place, Placement, Remark, Shot, Source
from trackread.core.plain_cut import (
    READERS,
    cut_from_plain,
    cut_to_plain,
    placement_from_plain,
    placement_to_plain,
    shot_from_plain,
    shot_to_plain,
)
from trackread.core.sound import Sound
from trackread.core.timebase import parse_rate
from trackread.errors import CutError

HAND = Place("", item="by hand, by TUM")
PLACES = st.sampled_from([Place("tram.edl", 7), Place("tram.otio", item="video track 1, item 2"), HAND])
FRACTIONS = st.fractions(-(10**6), 10**6, max_denominator=30000)
SOURCES = st.builds(
    Source,
    start=FRACTIONS,
    reel=st.sampled_from(["", "AX", "DAY 1"]),
    clip=st.sampled_from(["", "SH010", "é"]),
    file=st.sampled_from(["", "01-brack.wav"]),
    file_start=st.one_of(st.none(), FRACTIONS),
)
NOTES = st.lists(st.text(max_size=5), max_size=2).map(tuple)
SOUNDS = st.builds(
    Sound,
    digest=st.sampled_from(["ab" * 32, "cd" * 32]),
    sample_rate=st.sampled_from([44100, 48000]),
    length=st.integers(1, 10**9),
    start=st.sampled_from([0, 48000 * 3600]),
)


@st.composite
def dressed(draw):
    """A cut of which every part has its default value or another."""
    cut = draw(cuts())
    shots = [
        replace(
            shot,
            place=draw(PLACES),
            source=draw(st.one_of(st.none(), SOURCES)),
            speed=draw(st.sampled_from([Fraction(1), Fraction(0), Fraction(-48, 25)])),
            fade_in=draw(st.integers(0, shot.length)),
            handles=draw(st.sampled_from([None, Handles(0, 0), Handles(8, 12)])),
            notes=draw(NOTES),
        )
        for shot in cut.shots
    ]
    placements = [
        replace(
            one,
            place=draw(PLACES),
            source=draw(SOURCES),
            tracks=draw(st.sampled_from([("A1",), ("A1", "A2")])),
            fade_out=draw(st.integers(0, 3)),
            notes=draw(NOTES),
            **draw(st.sampled_from([{}, {"sound": draw(SOUNDS), "start": draw(FRACTIONS)}])),
        )
        for one in cut.placements
    ]
    remarks = draw(st.lists(st.builds(Remark, PLACES, st.text(max_size=5)), max_size=2))
    rate = parse_rate(draw(st.sampled_from(RATES)))
    start = draw(st.sampled_from([0, 86400]))
    return Cut("The Late Tram", rate, start, tuple(shots), tuple(placements), tuple(remarks))


@given(dressed())
def test_a_cut_comes_back_from_json_as_it_went(cut):
    text = json.dumps(cut_to_plain(cut), allow_nan=False)

    assert cut_from_plain(json.loads(text)) == cut


@given(dressed())
def test_each_shot_and_placement_comes_back_alone(cut):
    assert [shot_from_plain(json.loads(json.dumps(shot_to_plain(one)))) for one in cut.shots] == list(cut.shots)
    placements = [placement_from_plain(json.loads(json.dumps(placement_to_plain(one)))) for one in cut.placements]
    assert placements == list(cut.placements)


def test_what_has_its_default_value_is_left_out():
    source = {"start": "0/1", "clip": "SH010"}
    place = {"file": "tram.edl", "line": 1}

    assert shot_to_plain(a_shot()) == {"code": "SH010", "first": 0, "length": 24, "place": place, "source": source}
    assert cut_to_plain(a_cut()) == {"title": "Tram", "rate": "24/1", "start": 0, "shots": []}


def test_fractions_and_the_rate_are_exact_texts():
    cut = replace(a_cut(a_shot(speed=Fraction(3, 2))), rate=parse_rate("29.97df"))
    plain = cut_to_plain(cut)

    assert (plain["rate"], plain["shots"][0]["speed"]) == ("30000/1001df", "3/2")


@pytest.mark.parametrize("kind", READERS)
def test_every_part_of_every_kind_is_read(kind):
    assert [part.name for part in fields(kind)] == list(READERS[kind])


def broken(change):
    plain = json.loads(json.dumps(cut_to_plain(a_cut(a_shot(), sounds=[a_placement()]))))
    change(plain)
    return plain


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda plain: plain.pop("shots"), "'shots' is missing"),
        (lambda plain: plain["shots"][0].pop("code"), "shots: 'code' is missing"),
        (lambda plain: plain["shots"][0].update(first=1.5), "shots: first: 1.5 is no whole number"),
        (lambda plain: plain["shots"][0].update(first=True), "shots: first: True is no whole number"),
        (lambda plain: plain["shots"][0].update(mood="wet"), "shots: 'mood' is no part of a shot"),
        (lambda plain: plain["shots"][0].update(length=0), "shots: SH010 has frames, not 0"),
        (lambda plain: plain["placements"][0].update(speed="1"), "placements: speed: '1' is no fraction"),
        (lambda plain: plain["placements"][0].update(speed="1/0"), "placements: speed: '1/0' is no fraction"),
        (lambda plain: plain["placements"][0].update(speed="a/2"), "placements: speed: "),
        (lambda plain: plain["placements"][0].update(speed=2), "placements: speed: 2 is no text"),
        (lambda plain: plain["placements"][0].update(tracks="A1"), "placements: tracks: 'A1' is no list"),
        (lambda plain: plain["placements"][0]["place"].update(line="1"), "placements: place: line: '1' is no whole"),
        (lambda plain: plain["placements"][0].update(source=3), "placements: source: 3 is no group of values"),
        (lambda plain: plain.update(rate="26/1"), "'26/1' is not a frame rate"),
    ],
)
def test_what_is_no_cut_is_refused_by_its_fault(change, words):
    with pytest.raises(CutError, match=f"^not a cut: {words}"):
        cut_from_plain(broken(change))


@pytest.mark.parametrize(("read", "kind"), [(shot_from_plain, Shot), (placement_from_plain, Placement)])
def test_what_is_no_shot_and_no_placement_is_refused(read, kind):
    with pytest.raises(CutError, match=f"^not a {kind.__name__.lower()}: \\[\\] is no group of values"):
        read([])
