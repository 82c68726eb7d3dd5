"""The cut: frames of the film to samples of recordings and back.

Samples per frame are from exact maths (ST 12-1 rates); every mapping is checked against counting sample by sample.
"""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cutting.makers import cuts
from trackread.core.cut import (
    Cut,
    Handles,
    Place,
    Placement,
    Shot,
    Source,
    frame_of_sample,
    pieces_by_shot,
    pieces_in,
    position_at,
    samples_of_frame,
    shot_at,
    source_at,
)
from trackread.core.cut_change import Difference, DifferenceKind, ShotChange
from trackread.core.known_sound import KnownSound, start_in
from trackread.core.sound import Sound
from trackread.core.timebase import parse_rate

HERE = Place("tram.edl", 1)
RATES = ["23.976", "24", "25", "29.97", "29.97df", "30"]
SPEEDS = [Fraction(1), Fraction(2), Fraction(-1), Fraction(11, 10), Fraction(-48, 25)]
SOUND = Sound("ab" * 32, 48000, 48000 * 60)


def a_placement(at=0, length=24, start=Fraction(0), sample_rate=48000, **changes):
    sound = replace(SOUND, sample_rate=sample_rate)
    known = {"sound": sound, "start": Fraction(start)} | changes
    return Placement(Source(Fraction(0)), at, length, ("A1",), HERE, **known)


def a_shot(code="SH010", first=0, length=24, **changes):
    return replace(Shot(code, first, length, HERE), **changes)


def a_cut(*shots, placements=()):
    return Cut("Tram", parse_rate("24"), 0, shots, placements)


placements = st.builds(
    a_placement,
    at=st.integers(-50, 5000),
    length=st.integers(1, 40),
    start=st.builds(Fraction, st.integers(0, 10**7), st.sampled_from([1, 5, 80])),
    sample_rate=st.sampled_from([100, 441, 48000]),
    speed=st.sampled_from(SPEEDS),
    fade_out=st.integers(0, 5),
)


class TestMapping:
    @pytest.mark.parametrize(
        ("rate", "sample_rate", "samples"),
        [("24", 48000, 2000), ("25", 44100, 1764), ("23.976", 48000, 2002), ("30", 48000, 1600)],
    )
    def test_a_frame_has_its_samples(self, rate, sample_rate, samples):
        """Samples per frame in exact maths."""
        one = a_placement(at=100, start=500, sample_rate=sample_rate)

        assert samples_of_frame(one, 100, parse_rate(rate)) == range(500, 500 + samples)
        assert samples_of_frame(one, 101, parse_rate(rate)) == range(500 + samples, 500 + 2 * samples)

    def test_frames_of_five_at_29_97_have_8008_samples_and_none_drifts(self):
        """8008/5 samples a frame at 48 kHz, in exact maths."""
        one = a_placement(length=100)
        counts = [len(samples_of_frame(one, frame, parse_rate("29.97"))) for frame in range(100)]

        assert set(counts) == {1601, 1602}
        assert sum(counts) == 20 * 8008

    @given(placements, st.sampled_from(RATES), st.data())
    def test_a_sample_is_on_the_frame_that_has_it(self, one, rate, data):
        rate = parse_rate(rate)
        frame = data.draw(st.integers(one.at - 2, one.heard_stop + 1))
        samples = samples_of_frame(one, frame, rate)
        around = {samples.start, samples.start - 1, samples.stop, samples.stop - 1}

        for sample in around:
            assert (frame_of_sample(one, sample, rate) == frame) == (sample in samples)

    @given(placements, st.sampled_from(RATES))
    def test_every_sample_that_is_heard_is_on_one_frame(self, one, rate):
        rate = parse_rate(rate)
        ranges = [samples_of_frame(one, frame, rate) for frame in range(one.at, one.heard_stop)]
        ordered = ranges if one.speed > 0 else ranges[::-1]

        assert all(former.stop == later.start for former, later in pairwise(ordered))
        assert samples_of_frame(one, one.at - 1, rate) == samples_of_frame(one, one.heard_stop, rate) == range(0)

    @given(placements, st.sampled_from(RATES), st.integers(-100, 100), st.integers(0, 10**7))
    def test_moving_a_placement_by_n_moves_its_frames_by_n(self, one, rate, n, sample):
        rate = parse_rate(rate)
        frame = frame_of_sample(one, sample, rate)
        moved = frame_of_sample(replace(one, at=one.at + n), sample, rate)

        assert moved == (None if frame is None else frame + n)

    @given(placements, st.sampled_from(RATES), st.integers(0, 10**4))
    def test_slipping_a_sound_by_samples_slips_what_a_frame_has(self, one, rate, samples):
        rate = parse_rate(rate)
        slipped = replace(one, start=one.start + samples)
        was, now = (samples_of_frame(each, one.at, rate) for each in (one, slipped))

        assert (now.start, now.stop) == (was.start + samples, was.stop + samples)

    def test_at_twice_its_speed_a_frame_has_twice_the_samples(self):
        assert samples_of_frame(a_placement(speed=Fraction(2)), 1, parse_rate("24")) == range(4000, 8000)

    def test_backwards_the_first_frame_has_the_last_samples(self):
        one = a_placement(start=4000, length=2, speed=Fraction(-1))

        assert samples_of_frame(one, 0, parse_rate("24")) == range(2000, 4000)
        assert samples_of_frame(one, 1, parse_rate("24")) == range(2000)
        assert frame_of_sample(one, 3999, parse_rate("24")) == 0
        assert frame_of_sample(one, 4000, parse_rate("24")) is None

    def test_a_sound_that_is_not_known_has_no_samples(self):
        one = replace(a_placement(), sound=None, start=None)

        with pytest.raises(ValueError, match="its recording is not known yet"):
            frame_of_sample(one, 0, parse_rate("24"))
        assert source_at(one, 12, parse_rate("24")) == Fraction(1, 2)

    @given(placements, st.sampled_from(RATES), st.integers(0, 60))
    def test_the_source_and_the_recording_run_alike(self, one, rate, frame):
        rate = parse_rate(rate)
        seconds = source_at(one, frame, rate) - one.source.start

        assert position_at(one, frame, rate) == one.start + seconds * one.sound.sample_rate


class TestStart:
    @pytest.mark.parametrize(
        ("label_seconds", "rate", "start"),
        [
            # TimeReference of EBU Tech 3285 for 01:00:00:00: exact maths, as in test_timecode.
            (Fraction(86400, 24), "24", 172800000),
            (Fraction(86400) * 1001 / 24000, "23.976", 172972800),
            (Fraction(107892) * 1001 / 30000, "29.97df", Fraction(1727998272, 10)),
        ],
    )
    def test_timecode_of_the_source_is_a_sample_since_midnight(self, label_seconds, rate, start):
        sound = replace(SOUND, start=172000000)

        assert start_in(Source(label_seconds), sound, parse_rate(rate)) == start - 172000000

    def test_a_file_start_that_the_list_says_goes_before_the_file_s_own(self):
        source = Source(Fraction(3602), file_start=Fraction(3600))

        assert start_in(source, replace(SOUND, start=999), parse_rate("24")) == 96000

    def test_a_recording_that_runs_over_midnight_goes_on(self):
        sound = replace(SOUND, start=48000 * (86400 - 20))

        assert start_in(Source(Fraction(10)), sound, parse_rate("24")) == 48000 * 30
        assert start_in(Source(Fraction(100)), sound, parse_rate("24")) < 0


class TestShots:
    def test_a_frame_is_of_one_shot_or_none(self):
        cut = a_cut(a_shot(fade_out=6), a_shot("SH020", 24, 12), a_shot("SH030", 48, 2))

        codes = [(shot := shot_at(cut, frame)) and shot.code for frame in range(51)]
        assert codes == ["SH010"] * 24 + ["SH020"] * 12 + [None] * 12 + ["SH030"] * 2 + [None]
        assert cut.length == 50

    def test_one_line_over_two_shots_is_heard_in_both(self):
        shots = (a_shot(), a_shot("SH020", 24, 24))
        one = a_placement(at=20, length=10)
        cut = a_cut(*shots, placements=(one,))

        assert [[(piece.first, piece.stop) for piece in pieces_in(cut, shot)] for shot in shots] == [
            [(20, 24)],
            [(0, 6)],
        ]

    def test_three_takes_in_one_shot_are_three_pieces_and_two_voices_may_speak_at_once(self):
        pieces = tuple(a_placement(at=at, length=8) for at in (2, 10, 14))
        cut = a_cut(a_shot(), placements=pieces)

        assert [(one.first, one.stop) for one in pieces_in(cut, cut.shots[0])] == [(2, 10), (10, 18), (14, 22)]

    def test_a_shot_without_a_word_has_no_pieces_and_what_fades_is_heard_to_its_end(self):
        shots = (a_shot(), a_shot("SH020", 24, 24), a_shot("SH030", 48, 4))
        cut = a_cut(*shots, placements=(a_placement(at=-6, length=30, fade_out=3),))

        assert [[(one.first, one.stop) for one in pieces_in(cut, shot)] for shot in shots] == [[(0, 24)], [(0, 3)], []]

    def test_under_a_dissolve_a_shot_hears_what_plays_there(self):
        cut = a_cut(a_shot(fade_out=6), a_shot("SH020", 24, 24), placements=(a_placement(at=26, length=9),))

        assert [(one.first, one.stop) for one in pieces_in(cut, cut.shots[0])] == [(26, 30)]

    @given(cuts(), st.data())
    def test_one_sweep_has_the_pieces_of_each_shot(self, cut, data):
        lengths, fades = st.sampled_from([1, 5, 90]), st.sampled_from([0, 12])
        heard = [replace(one, length=data.draw(lengths), fade_out=data.draw(fades)) for one in cut.placements]
        cut = replace(cut, placements=tuple(heard))

        assert pieces_by_shot(cut) == {shot.name: pieces_in(cut, shot) for shot in cut.shots}

    @given(cuts(fewest=1), st.data())
    def test_both_halves_of_a_shot_have_the_frames_that_the_whole_had(self, cut, data):
        """Cut in two, a shot has for every placement the same frames of the film, each in one of its halves."""
        cut = replace(cut, shots=tuple(replace(shot, fade_out=0) for shot in cut.shots))
        number = data.draw(st.integers(0, len(cut.shots) - 1))
        shot = cut.shots[number]
        length = data.draw(st.integers(1, shot.length))
        halves = [replace(shot, length=length)]
        if length < shot.length:
            halves.append(replace(shot, first=shot.first + length, length=shot.length - length, part=2))
        parted = replace(cut, shots=(*cut.shots[:number], *halves, *cut.shots[number + 1 :]))

        assert sorted(frames_heard(parted, halves)) == sorted(frames_heard(cut, [shot]))

    @given(cuts(), st.sampled_from(RATES))
    def test_lengths_and_gaps_sum_to_the_length_of_the_cut_in_frames_and_in_seconds(self, cut, rate):
        """The seconds are exact maths: nothing drifts at any rate of ST 12-1."""
        cut = replace(cut, rate=parse_rate(rate))
        stops = [0, *(shot.stop for shot in cut.shots)]
        gaps = [shot.first - stop for shot, stop in zip(cut.shots, stops, strict=False)]
        seconds = [Fraction(frames) / cut.rate.per_second for frames in (*gaps, *(shot.length for shot in cut.shots))]

        assert min(gaps, default=0) >= 0
        assert sum(gaps) + sum(shot.length for shot in cut.shots) == cut.length
        assert sum(seconds) == cut.length / cut.rate.per_second

    @given(cuts(), st.integers(-5, 130))
    def test_the_shot_of_a_frame_is_the_one_that_has_it(self, cut, frame):
        having = [shot for shot in cut.shots if frame in range(shot.first, shot.stop)]

        assert shot_at(cut, frame) == (having[0] if having else None)


def frames_heard(cut, shots):
    """Each frame of the film on which a placement is heard in some shots, with the place among the placements."""
    numbers = {id(one): number for number, one in enumerate(cut.placements)}
    for shot in shots:
        for piece in pieces_in(cut, shot):
            for frame in range(piece.first, piece.stop):
                yield numbers[id(piece.placement)], shot.first + frame


def test_what_is_made_by_hand_has_no_file_and_says_who():
    place = Place("", item="by hand, by TUM")

    assert (place.by_hand, str(place)) == (True, "by hand, by TUM")
    assert (HERE.by_hand, str(HERE), str(Place("a.otio", item="item 2"))) == (False, "tram.edl:1", "a.otio: item 2")


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: a_shot(code=" "), "a shot has a code"),
        (lambda: a_shot(part=0), "parts count from 1"),
        (lambda: a_shot(length=0), "SH010 has frames, not 0"),
        (lambda: a_shot(first=-1), "not 24 from -1"),
        (lambda: a_shot(fade_in=25), "fading in 25"),
        (lambda: Handles(-1, 0), "not -1 and 0"),
        (lambda: a_placement(length=0), "a placement has frames, not 0"),
        (lambda: replace(a_placement(), tracks=()), "lies on a track"),
        (lambda: a_placement(speed=Fraction(0)), "held still is not heard"),
        (lambda: a_placement(sound=None), "or neither"),
        (lambda: a_cut(a_shot(), a_shot("SH020", 23, 4)), "SH020 starts before the shot above it stops"),
        (lambda: a_cut(a_shot(), a_shot("SH010", 24, 4)), "SH010 is part 2 of SH010"),
        (
            lambda: a_cut(a_shot(), a_shot("SH010", 24, 4, part=2), a_shot("SH010 (part 2)", 28, 4)),
            "no two shots have one name",
        ),
        (lambda: a_cut(placements=(a_placement(at=2), a_placement(at=1))), "in the order of their first frames"),
        (lambda: KnownSound("x.wav", SOUND, 0, SOUND.length + 1), "x.wav is a part of its recording"),
        (lambda: Difference(DifferenceKind.HEAD, Fraction(1), None), "head: a frame differs"),
        (lambda: Difference(DifferenceKind.MOVED, Fraction(1), 0), "moved: no frame differs"),
        (lambda: Difference(DifferenceKind.SOUND_NEW, Fraction(0), 0), "has a placement"),
        (lambda: ShotChange(None, None), "a change is of a shot"),
        (lambda: ShotChange(None, a_shot(), (Difference(DifferenceKind.HEAD, Fraction(1), 0),)), "differs as a whole"),
    ],
)
def test_what_cannot_be_is_not_born(make, words):
    with pytest.raises(ValueError, match=words):
        make()
