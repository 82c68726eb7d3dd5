"""A sheet as plain JSON and back."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.plain_sheet import sheet_from_plain, sheet_to_plain
from trackread.core.sheet import POINTS, Beat, Cell, Heading, Phrase, PlacedLine, Sheet, Voice
from trackread.core.timebase import Frame, FrameRate
from trackread.errors import SheetError

LENGTH = 10
texts = st.text(max_size=5)
shares = st.integers(0, 1000).map(lambda thousandths: thousandths / 1000)


@st.composite
def spans(draw, kind, **parts):
    first = draw(st.integers(0, LENGTH - 1))
    stop = draw(st.integers(first + 1, LENGTH))
    return kind(first=Frame(first), stop=Frame(stop), **{name: draw(part) for name, part in parts.items()})


def several(kind, **parts):
    return st.lists(spans(kind, **parts), max_size=3).map(tuple)


cells = several(Cell, text=texts, before=st.booleans(), beyond=st.booleans())
beats = several(
    Beat, degree=st.integers(0, 2), tone=st.sampled_from([None, *Tone]), main=st.booleans(), before=st.booleans()
)
phrases = several(Phrase, ending=st.sampled_from([None, *Tone]), pace=st.sampled_from(["", "quick"]))
voices = st.builds(
    Voice,
    character=texts,
    words=cells,
    sounds=cells,
    beats=beats,
    level=st.lists(shares, min_size=POINTS * LENGTH, max_size=POINTS * LENGTH).map(tuple),
    pitch=st.just((None,) * POINTS * LENGTH) | st.just(()),
    events=cells,
    manners=cells,
    pauses=cells,
    phrases=phrases,
    departures=cells,
    missing=cells,
    mouth_names=st.lists(texts).map(tuple),
)
# Who is heard from elsewhere has no mouths, who is seen may have some.
voices = st.one_of(
    st.builds(lambda voice, extension: replace(voice, extension=extension), voices, texts),
    st.builds(
        lambda voice, mouths: replace(voice, mouths=mouths), voices, several(Worn, mouth=texts, pinned=st.booleans())
    ),
)
sheets = st.builds(
    Sheet,
    heading=st.builds(Heading, shot=texts, listeners=st.lists(texts).map(tuple), about=texts, board=texts),
    rate=st.sampled_from([FrameRate(Fraction(24)), FrameRate(Fraction(30000, 1001), drop=True)]),
    length=st.just(Frame(LENGTH)),
    first_number=st.integers(0, 1001),
    voices=st.lists(voices, max_size=2).map(tuple),
    action=cells,
    camera=cells,
    changed=st.just(()) | st.just(((Frame(1), Frame(3)),)),
    positions=cells,
    lines=several(PlacedLine, line=texts, take=texts, character=texts, text=texts, extension=texts),
)


@given(sheets)
def test_a_sheet_comes_back_from_json_as_it_was(sheet):
    plain = json.loads(json.dumps(sheet_to_plain(sheet), allow_nan=False))

    assert sheet_from_plain(plain) == sheet


@given(sheets)
def test_what_is_as_by_default_takes_no_room(sheet):
    plain = sheet_to_plain(replace(sheet, action=(), heading=Heading()))

    assert "action" not in plain
    assert plain["heading"] == {}


@pytest.mark.parametrize(
    "spoilt", [{"rate": "26"}, {"length": "x"}, {"heading": {"colour": 1}}, {"voices": [{}]}, {"length": 0}]
)
def test_what_is_no_sheet_is_refused(spoilt):
    sheet = Sheet(Heading(), FrameRate(Fraction(24)), Frame(LENGTH), 1, ())

    with pytest.raises(SheetError, match="not a sheet"):
        sheet_from_plain({**sheet_to_plain(sheet), **spoilt})


def test_a_key_that_is_missing_is_named():
    with pytest.raises(SheetError, match="'length' is missing"):
        sheet_from_plain({"heading": {}, "rate": "24/1"})
