"""Which recording a list means."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cutting.makers import RATE, a_placement
from trackread.core.cut import Source, frame_of_sample
from trackread.core.known_sound import KnownSound
from trackread.core.sound import Sound
from trackread.core.timebase import parse_rate
from trackread.cutting.matching import Recordings, resolved

HOUR = 48000 * 3600


def a_recording(name="01-brack.wav", start=10 * HOUR, length=48000 * 60, digest="a", also=(), part=None):
    sound = Sound(digest * 64, 48000, length, start)
    return KnownSound(name, sound, *(part or (0, length)), also)


def a_piece(start=10 * 3600, length=24, file_start=None, **names):
    """A placement of seconds of timecode."""
    return replace(a_placement(length=length), source=Source(Fraction(start), file_start=file_start, **names))


def match(piece, recordings, rate):
    return Recordings(recordings).match(piece, rate)


PELL = a_recording("03-pell.wav", digest="b")
BRACK = a_recording()


@pytest.mark.parametrize(
    ("names", "reason"),
    [
        ({"file": "01-brack.wav"}, "by the file '01-brack.wav'"),
        ({"file": "D:\\reels\\01-BRACK.WAV"}, "by the file 'D:\\\\reels\\\\01-BRACK.WAV'"),
        ({"clip": "01-brack"}, "by the clip '01-brack'"),
        ({"clip": "board", "reel": "01-brack"}, "by the reel '01-brack'"),
        ({"clip": "03-pell.wav", "file": "01-brack.wav"}, "by the file '01-brack.wav'"),
        ({"reel": "DAY1"}, "by the reel 'DAY1'"),
    ],
)
def test_a_recording_is_found_by_its_surest_name(names, reason):
    found = match(a_piece(**names), [PELL, replace(BRACK, also=("DAY1",))], RATE)

    assert [one.sound for one in found.found] == [BRACK.sound]
    assert found.reason == reason


def test_a_name_that_no_recording_has_is_told():
    found = match(a_piece(file="x.wav", clip="y", reel="AX"), [BRACK], RATE)

    assert (found.found, found.reason) == ((), "no recording has the name of the file 'x.wav' or the clip 'y'")


def test_what_a_recording_does_not_have_is_told_in_timecode():
    found = match(a_piece(start=9 * 3600, file="01-brack.wav"), [BRACK], RATE)

    assert found.found == ()
    assert found.reason == (
        "by the file '01-brack.wav' it is 01-brack.wav, but that has 10:00:00:00 to 10:01:00:00, and what is to be "
        "heard is 09:00:00:00 to 09:00:01:00"
    )


def test_what_is_counted_from_the_beginning_of_a_file_is_told_so():
    found = match(a_piece(start=3660, file_start=Fraction(3600), file="01-brack.wav"), [BRACK], RATE)

    assert found.reason.endswith(
        "that has 00:00:00:00 to 00:01:00:00, and what is to be heard is 00:01:00:00 to 00:01:01:00"
    )


def test_one_of_two_of_a_name_is_the_one_that_has_it():
    later = a_recording(start=12 * HOUR, digest="c")

    assert match(a_piece(start=12 * 3600, file="01-brack.wav"), [BRACK, later], RATE).found == (later,)


def test_two_that_have_it_are_both_found():
    other = a_recording(digest="c")
    found = match(a_piece(file="01-brack.wav"), [BRACK, other, BRACK], RATE)

    assert found.found == (BRACK, other)
    assert found.reason == "2 recordings have the name of the file '01-brack.wav', and what is to be heard"


@pytest.mark.parametrize(
    ("recordings", "count", "reason"),
    [
        ([a_recording(start=0), BRACK], 1, "it has no name; 1 recording was running at its time"),
        ([PELL, BRACK], 2, "it has no name; 2 recordings were running at its time"),
        ([a_recording(start=0)], 0, "it has no name; no recordings were running at its time"),
    ],
)
def test_a_sound_without_a_name_is_found_by_its_time_alone(recordings, count, reason):
    found = match(a_piece(reel="AX"), recordings, RATE)

    assert (len(found.found), found.reason) == (count, reason)


def test_a_sound_without_a_name_that_counts_from_the_beginning_of_a_file_is_no_recording():
    found = match(a_piece(file_start=Fraction(0), start=1, reel="AX"), [BRACK], RATE)

    assert found.found == ()
    assert found.reason.startswith("it has no name, and its time counts from the beginning of a file")


@pytest.mark.parametrize("names", [{}, {"reel": "DAY1"}, {"file": "01-brack.wav"}])
def test_a_recording_that_runs_over_midnight_is_found_by_the_clock_of_the_day_after(names):
    recording = a_recording(start=48000 * (24 * 3600 - 20), also=("DAY1",))

    assert match(a_piece(start=30, **names), [recording], RATE).found == (recording,)
    assert match(a_piece(start=50, **names), [recording], RATE).found == ()


def test_a_sound_at_an_endless_speed_is_looked_for_and_not_found():
    piece = replace(a_piece(), speed=Fraction(10) ** 300)

    assert match(piece, [BRACK], RATE).found == ()


def test_of_no_recordings_none_is_found():
    assert match(a_piece(), [], RATE).found == match(a_piece(file="01-brack.wav"), [], RATE).found == ()


@pytest.mark.parametrize(("length", "found"), [(60 * 24, 1), (60 * 24 + 1, 0)])
def test_the_last_frame_of_a_recording_may_be_a_part_of_one(length, found):
    recording = a_recording(length=48000 * 60 - 1)

    assert len(match(a_piece(length=length, file="01-brack.wav"), [recording], RATE).found) == found


def test_a_sound_that_is_faded_out_must_be_there_to_its_end():
    piece = replace(a_piece(length=60 * 24 - 4, file="01-brack.wav"), fade_out=6)

    assert match(piece, [BRACK], RATE).found == ()


def test_a_name_with_other_endings_is_another():
    assert match(a_piece(file="01-brack.v2"), [BRACK], RATE).found == ()


def test_a_take_is_the_part_of_its_recording_and_counts_from_its_own_beginning():
    take = a_recording("L0107-3", part=(96000, 48000 * 10))
    piece = a_piece(start=1, length=24, file_start=Fraction(0), clip="L0107-3")
    known = resolved(piece, take, RATE)

    assert match(piece, [BRACK, take], RATE).found == (take,)
    assert (known.start, frame_of_sample(known, 144000, RATE)) == (144000, 0)
    assert match(replace(piece, source=replace(piece.source, start=Fraction(7, 1))), [take], RATE).found == (take,)
    assert match(replace(piece, source=replace(piece.source, start=Fraction(8, 1))), [take], RATE).found == ()


def test_a_timecode_at_29_97_is_a_sample_between_two():
    """8008/5 samples a frame at 48 kHz."""
    rate = parse_rate("29.97")
    piece = a_piece(start=Fraction(1001, 30000), file="01-brack.wav")

    assert resolved(piece, a_recording(start=0), rate).start == Fraction(8008, 5)


NAMES = ["01-brack.wav", "01-BRACK", "01-brack.v2", "day1", "DAY1.wav", "L0107-3", ""]
DAY = 24 * 3600
RECORDINGS = st.builds(
    a_recording,
    name=st.sampled_from(NAMES),
    start=st.sampled_from([0, 9 * HOUR, 9 * HOUR + 48000 * 8, 48000 * (DAY - 5)]),
    length=st.sampled_from([48000, 48000 * 30]),
    digest=st.sampled_from("abc"),
    also=st.sampled_from([(), ("day1",), ("DAY1", "01-brack")]),
    part=st.sampled_from([None, (4800, 48000)]),
)


@settings(max_examples=300)
@given(
    st.lists(RECORDINGS, max_size=6),
    st.sampled_from([0, 1, 9 * 3600, 9 * 3600 + 9, DAY - 1, DAY + 1]),
    st.sampled_from([1, 30, 24 * 12]),
    st.dictionaries(st.sampled_from(["file", "clip", "reel"]), st.sampled_from([*NAMES, "AX", "D:\\01-brack.wav"])),
    st.sampled_from([Fraction(1), Fraction(-1), Fraction(5, 4), Fraction(500)]),
)
def test_the_recordings_found_are_those_that_asking_each_of_them_finds(recordings, start, length, names, speed):
    piece = replace(a_piece(start, length, **names), speed=speed)

    found = match(piece, recordings, RATE).found
    assert [(one.sound.digest, one.first, one.stop) for one in found] == [*dict.fromkeys(asked(piece, recordings))]


def asked(piece, recordings):
    """Every recording that has the surest name that any has, in order, and all that is played, to a frame."""
    wanted = [(kind, getattr(piece.source, kind)) for kind in ("file", "clip", "reel")]
    wanted = [(kind, name) for kind, name in wanted if name not in ("", "AX")]
    having = [[one for one in recordings if has_name(one, kind, name)] for kind, name in wanted]
    for one in next(filter(None, having), []) if wanted else recordings:
        start = piece.source.start * 48000 - one.sound.start
        if start < 0 and start + DAY * 48000 < one.sound.length:
            start += DAY * 48000
        stop = start + piece.speed * piece.length * 2000
        frame = 2000 * abs(piece.speed)
        if one.first - frame < min(start, stop) and max(start, stop) < one.stop + frame:
            yield one.sound.digest, one.first, one.stop


def has_name(one, kind, name):
    told = name.rpartition("\\")[2].casefold() if kind == "file" else name.casefold()
    for known in map(str.casefold, (one.name, *one.also)):
        if told == known or told == known.rpartition(".")[0] or told.rpartition(".")[0] == known != "":
            return True
    return False
