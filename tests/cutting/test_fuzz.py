"""Whatever a file holds, it is a cut or a CutError, and nothing of it is dropped in silence."""

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cutting.makers import RATES, a_row, read
from trackread.core.cut import Cut
from trackread.core.timebase import parse_rate
from trackread.cutting.assembly import cut_of
from trackread.cutting.events import Terms
from trackread.cutting.reading import read_cut
from trackread.errors import CutError

TIMES = st.sampled_from(
    ["00:00:00:00", "00:00:01:00", "00:00:02:00", "00:01:00;02", "00:01:00:00", "23:59:59:23", "01:00:00:99", "x"]
)
EVENTS = st.builds(
    "{:<3}  {:<8} {:<5} {:<4} {:>3} {} {} {} {}".format,
    st.sampled_from(["001", "002", "003", "1234", "٣"]),
    st.sampled_from(["AX", "BL", "TAPE1", "", "A LONG REEL"]),
    st.sampled_from(["V", "A", "A2", "AA", "AA/V", "B", "NONE", "A0", "A99", "Z"]),
    st.sampled_from(["C", "D", "W001", "K", "K B", "KO", "Q"]),
    st.sampled_from(["", "000", "012", "999", "x"]),
    TIMES,
    TIMES,
    TIMES,
    TIMES,
)
WHOLE = st.builds(
    a_row,
    st.integers(1, 4),
    st.integers(0, 10**6),
    st.integers(0, 2 * 10**6),
    st.integers(0, 100),
    channels=st.sampled_from(["V", "A", "A2", "AA/V"]),
    reel=st.sampled_from(["AX", "BL", "T1"]),
)
DETAILS = st.sampled_from(
    [
        "* FROM CLIP NAME: SH010",
        "* TO CLIP NAME: SH020",
        "* FROM CLIP NAME:",
        "* SOURCE FILE: a.wav",
        "* ASC_SOP (1 2 3)(4 5 6)(7 8 9)",
        "* ASC_SAT 1",
        "* FRMC START: 1",
        "M2   TAPE1    048.0                00:00:00:00",
        "M2   AX      -024.0                00:00:00:00",
        "M2            000.0                00:00:00:00",
        "M2",
        "AUD   3    4",
        "AUD",
        "SPLIT:    AUDIO DELAY=  00:00:00:05",
        ">>> SOURCE X",
        "EFFECTS NAME IS CROSS",
        "FCM: DROP FRAME",
        "FCM: NON-DROP FRAME",
        "FCM:",
        "TITLE:",
        "",
        "\t",
        "*",
    ]
)
LISTS = st.lists(st.one_of(EVENTS, WHOLE, DETAILS, st.text(max_size=30)), max_size=12).map("\n".join)


def cut_or_error(read_it):
    try:
        return read_it()
    except CutError as error:
        return str(error)


@settings(max_examples=150)
@given(st.one_of(LISTS, st.text()), st.sampled_from(RATES))
def test_any_text_is_a_cut_or_a_cut_error(text, rate):
    outcome = cut_or_error(lambda: cut_of([read(text, rate)], Terms(parse_rate(rate))))

    assert isinstance(outcome, Cut) or outcome.startswith("tram.edl:")


@settings(max_examples=150)
@given(st.lists(st.one_of(EVENTS, WHOLE, DETAILS), max_size=12).map("\n".join), st.sampled_from(RATES))
def test_every_line_of_an_event_is_a_shot_a_placement_a_remark_or_a_problem(text, rate):
    listed = read(text, rate)
    told = {one.place.line for one in (*listed.problems, *listed.remarks, *listed.events)}
    cut = cut_or_error(lambda: cut_of([listed], Terms(parse_rate(rate), code=re.compile("SH(0)"))))
    if isinstance(cut, Cut):
        told = {one.place.line for one in (*cut.shots, *cut.placements, *cut.remarks)}

    events = {number for number, line in enumerate(text.split("\n"), 1) if line.strip()[:1].isdigit()}
    assert events <= told


@settings(max_examples=100)
@given(st.sampled_from([".edl", ".csv", ".otio"]), st.binary(max_size=60))
def test_any_bytes_are_a_cut_error_or_a_cut(tmp_path_factory, ending, content):
    path = tmp_path_factory.mktemp("fuzz") / f"tram{ending}"
    path.write_bytes(content)
    outcome = cut_or_error(lambda: read_cut([path], Terms(parse_rate("24"))))

    assert isinstance(outcome, Cut) or outcome.startswith(f"{path}:")
