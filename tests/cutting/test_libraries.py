"""Every event of random lists, as pycmx and opentimelineio have it.

pycmx 1.5.1 gives the text of each event, opentimelineio 0.18.1 the frames of each label, asked with the exact quotient
of the rate and with `;` where the count is drop-frame, which it does not take from FCM. The lists begin with a title
and end with an empty line, since pycmx loses an event there.
"""

import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from opentimelineio import opentime
from pycmx import parse_cmx3600

from tests.cutting.makers import RATES, a_row, cut_from
from trackread.core.timebase import parse_rate
from trackread.core.timecode import frames_in_day


@st.composite
def lists(draw):
    """A list at a rate, each event beginning where the one before it on its track stopped, or later."""
    rate = parse_rate(draw(st.sampled_from(RATES)))
    count = draw(st.integers(1, 8))
    at, lines = {"V": 107892, "A": 107900, "A2": 108000}, []
    for number in range(1, count + 1):
        channels = "V" if number == 1 else draw(st.sampled_from(sorted(at)))
        length = draw(st.integers(1, 2000))
        source = draw(st.integers(0, frames_in_day(rate) - 4000))
        start = at[channels] + draw(st.sampled_from([0, 0, 7]))
        lines.append(a_row(number, source, start, length, channels=channels, reel=f"R{number}", rate=rate))
        lines += [f"* FROM CLIP NAME: SH{number:03}", f"* SOURCE FILE: {number}.wav"]
        at[channels] = start + length
    mode = "DROP FRAME" if rate.drop else "NON-DROP FRAME"
    return str(rate), "\n".join(["TITLE: THE LATE TRAM", f"FCM: {mode}", *lines, "", ""])


def frames(label, rate):
    label = label[:8] + (";" if rate.drop else ":") + label[9:]
    return opentime.from_timecode(label, float(rate.per_second)).to_frames()


@settings(max_examples=60)
@given(lists())
def test_every_event_is_as_pycmx_and_opentimelineio_have_it(rate_and_text):
    name, text = rate_and_text
    rate = parse_rate(name)
    cut = cut_from(text, rate=name)
    ours = {one.place.line: one for one in (*cut.shots, *cut.placements)}
    edits = [edit for event in parse_cmx3600(io.StringIO(text)).events for edit in event.edits]

    assert len(edits) == len(ours)
    for edit in edits:
        one = ours[edit.line_number + 1]
        first = one.first if edit.channels.video else one.at
        assert cut.start + first == frames(edit.record_in, rate)
        assert cut.start + one.stop == frames(edit.record_out, rate)
        assert one.source.start * rate.per_second == frames(edit.source_in, rate)
        assert (one.source.reel, one.source.clip, one.source.file) == (edit.source, edit.clip_name, edit.source_file)


@pytest.mark.parametrize("name", RATES)
def test_an_hour_of_one_shot_has_the_frames_of_the_standard(name):
    """SMPTE ST 12-1: 107892 frames in an hour of drop-frame labels, 108000 at 30, 86400 at 24 and 23.976."""
    rate = parse_rate(name)
    hour = {"29.97df": 107892, "29.97": 108000, "30": 108000, "25": 90000}.get(name, 86400)
    mode = "DROP FRAME" if rate.drop else "NON-DROP FRAME"
    mark = ";" if rate.drop else ":"
    times = " ".join([f"00:00:00{mark}00", f"01:00:00{mark}00"] * 2)
    text = f"FCM: {mode}\n001  AX       V     C        {times}\n* FROM CLIP NAME: SH010\n"

    assert cut_from(text, rate=name).length == hour
    assert (
        opentime.RationalTime(hour, float(rate.per_second)).to_timecode(float(rate.per_second), rate.drop)
        == f"01:00:00{mark}00"
    )
