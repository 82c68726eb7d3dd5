"""Every event of random lists, as pycmx and opentimelineio have it.

pycmx 1.5.1 gives the text of each event, opentimelineio 0.18.1 the frames of each label, asked with the exact quotient
of the rate and with `;` where the count is drop-frame, which it does not take from FCM. The lists begin with a title
and end with an empty line, since pycmx loses an event there.
"""

import io
from fractions import Fraction
from random import Random

import opentimelineio as otio
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from opentimelineio import opentime
from pycmx import parse_cmx3600

from tests.cutting.makers import RATES, a_row, an_event, cut_from
from trackread.core.cut import Shot
from trackread.core.timebase import parse_rate
from trackread.core.timecode import frames_in_day, label_of
from trackread.cutting.events import Terms
from trackread.cutting.reading import read_cut


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


def a_reel(rate, count):
    """A list of many shots of which some are dissolved into or run at another speed, and of sounds that play with them.

    With the speed of each, in frames a second, by the line of its event.
    """
    choose = Random(rate.base)
    record, lines, speeds = 107800, ["TITLE: THE LATE TRAM", f"FCM: {'' if rate.drop else 'NON-'}DROP FRAME"], {}
    for number in range(1, count + 1):
        length, source = 2 * choose.randint(15, 300), choose.randrange(frames_in_day(rate) - 2000)
        reel, dissolved = f"R{number:04}", number > 1 and choose.random() < 0.2
        if dissolved:
            lines.append(a_row(number, 0, record, 0, reel=f"R{number - 1:04}", rate=rate))
        speed = 1 if dissolved else choose.choice([Fraction(1), Fraction(1), Fraction(2), Fraction(1, 2)])
        times = [label_of(one, rate) for one in (source, source + int(length * speed), record, record + length)]
        how = {"transition": "D", "operand": f"{choose.randint(1, 24):03}"} if dissolved else {}
        lines.append(an_event(number, reel, times=times, **how))
        if speed != 1:
            speeds[len(lines)] = speed * rate.base
            lines.append(f"M2   {reel:<8} {float(speed * rate.base):05.1f}                {times[0]}")
        names = {"FROM": number - 1, "TO": number} if dissolved else {"FROM": number}
        lines += [f"* {end} CLIP NAME: SH{one:04}" for end, one in names.items()]
        channels = choose.choice(["A", "A2", "AA", "A7"])
        lines.append(a_row(count + number, source, record, length, reel="DAY1", channels=channels, rate=rate))
        lines.append(f"* SOURCE FILE: {number}.wav")
        record += length
    return "\n".join([*lines, "", ""]), speeds


@pytest.mark.parametrize("name", RATES)
def test_every_event_of_a_reel_is_as_pycmx_and_opentimelineio_have_it(name):
    """Dissolves by the operand that pycmx has; speeds as they were written, since pycmx does not read M2."""
    rate = parse_rate(name)
    text, speeds = a_reel(rate, 200)
    cut = cut_from(text, rate=name)
    ours = {one.place.line: one for one in (*cut.shots, *cut.placements)}
    events = parse_cmx3600(io.StringIO(text)).events
    edits = {
        edit.line_number + 1: edit for event in events for edit in event.edits if edit.record_in != edit.record_out
    }

    assert len(edits) == len(ours) == 400
    assert len(speeds) > 20
    for line, edit in edits.items():
        one = ours[line]
        first = one.first if edit.channels.video else one.at
        assert (cut.start + first, cut.start + one.stop) == (
            frames(edit.record_in, rate),
            frames(edit.record_out, rate),
        )
        assert one.source.start * rate.per_second == frames(edit.source_in, rate)
        assert one.source.reel == edit.source
        assert one.fade_in == (int(edit.transition.operand) if edit.transition.dissolve else 0)
        assert one.speed * rate.base == speeds.get(line, rate.base)
        if edit.channels.video:
            assert one.code == edit.clip_name
        else:
            assert (one.source.file, len(one.tracks)) == (edit.source_file, len(list(edit.channels.channels)))
    dissolved = [edit for edit in edits.values() if edit.transition.dissolve]
    assert sum(shot.fade_out for shot in cut.shots) == sum(int(edit.transition.operand) for edit in dissolved) > 100


@pytest.mark.parametrize("name", RATES)
def test_every_clip_of_a_timeline_on_disk_is_as_opentimelineio_has_it(name, tmp_path):
    """Its `visible_range` is what is seen of a clip, transitions taken into account."""
    rate, choose = parse_rate(name), Random(7)
    hertz = float(rate.per_second)
    timeline = otio.schema.Timeline("Tram", global_start_time=opentime.RationalTime(107892, hertz))
    for kind in ("Video", "Audio"):
        timeline.tracks.append(otio.schema.Track(kind, pieces(choose, hertz), kind=kind))
    path = tmp_path / "tram.otio"
    otio.adapters.write_to_file(timeline, str(path))
    cut = read_cut([path], Terms(rate))
    theirs = otio.adapters.read_from_file(str(path))

    assert cut.start == 107892
    clips = [[one for one in track if isinstance(one, otio.schema.Clip)] for track in theirs.tracks]
    assert [len(cut.shots), len(cut.placements)] == [len(each) for each in clips] == [100, 100]
    for clip, one in zip((*clips[0], *clips[1]), (*cut.shots, *cut.placements), strict=True):
        seen, cut_in = clip.visible_range(), clip.range_in_parent().start_time
        earlier = clip.trimmed_range().start_time - seen.start_time
        first = one.first if isinstance(one, Shot) else one.at
        assert (one.source.clip, first) == (clip.name, (cut_in - earlier).value)
        assert one.length + one.fade_out == seen.duration.value
        assert one.source.start * rate.per_second == seen.start_time.value


def pieces(choose, hertz):
    """A hundred clips with transitions and gaps among them."""
    items = []
    for number in range(100):
        times = [opentime.RationalTime(choose.randint(60, 900), hertz) for _ in range(2)]
        if items and choose.random() < 0.3:
            offsets = [opentime.RationalTime(choose.randint(0, 12), hertz) for _ in range(2)]
            items.append(otio.schema.Transition("", "SMPTE_Dissolve", *offsets))
        elif items and choose.random() < 0.2:
            items.append(otio.schema.Gap(source_range=opentime.TimeRange(duration=times[0])))
        items.append(otio.schema.Clip(f"SH{number:03}", None, opentime.TimeRange(*times)))
    return items


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
