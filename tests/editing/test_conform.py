"""One reading mapped onto another: exact where both say the same word, never going back, told in plain words."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

import numpy as np
import pytest
import soxr
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import LINE, a_reading, readings
from trackread.core.sound import Sound
from trackread.core.timebase import FrameRate, Sample, frame_at
from trackread.editing.conform import Rest, conform
from trackread.editing.remarks import remarks
from trackread.reading.sounds import RATE, Recording

FILM = FrameRate(Fraction(24))
PULLED_DOWN = FrameRate(Fraction(24000, 1001))
RATES = st.sampled_from([FILM, FrameRate(Fraction(25)), PULLED_DOWN, FrameRate(Fraction(60000, 1001))])
SPEEDS = st.fractions(Fraction(1, 2), 2, max_denominator=50)


def stretched(reading, speed, sample_rate=None):
    """A reading whose every cut lies `speed` times as late, to the nearest sample of a rate that may differ."""
    factor = speed * (sample_rate or reading.sound.sample_rate) / reading.sound.sample_rate
    cuts = [round(cut * factor) for cut in reading.cuts]
    cuts = tuple(max(cut, k) for k, cut in enumerate(cuts))  # a phone of five samples may become one
    sound = Sound("cd" * 32, sample_rate or reading.sound.sample_rate, Sample(cuts[-1]))
    return replace(reading, sound=sound, cuts=cuts, events=())


def said(*texts, lengths=None, **changes):
    """A reading of words of LINE, `-` a pause."""
    words = {text.strip(",!"): (text, sounds) for text, sounds in (one for one in LINE if one != "-")}
    return a_reading(*("-" if text == "-" else words[text] for text in texts), lengths=lengths, **changes)


@given(readings(), RATES, st.integers(-99, 999))
def test_a_reading_is_mapped_onto_itself_as_it_is(reading, rate, frame):
    same = conform(reading, reading, rate)

    assert remarks(same) == ()
    assert same.map_frame(frame) == frame or frame in {pair.before.frame for pair in same.pairs}
    assert all(same.map_sample(cut + extra) == cut + extra for cut in reading.cuts for extra in (-1, 0, 1))


@given(readings(), RATES, st.sampled_from([44100, 48000]))
def test_a_reading_at_another_sample_rate_is_on_the_same_frames(reading, rate, sample_rate):
    reading = replace(reading, sound=replace(reading.sound, sample_rate=96000))
    same = conform(reading, stretched(reading, Fraction(1), sample_rate), rate)

    assert all(abs(same.map_frame(frame) - frame) <= 1 for frame in range(40))


@given(readings(), RATES, SPEEDS, st.sampled_from([44100, 48000]))
def test_every_word_of_a_stretched_reading_is_mapped_where_it_is(reading, rate, speed, sample_rate):
    after = stretched(reading, speed, sample_rate)
    found = conform(reading, after, rate)

    assert len(found.pairs) == len(reading.words)
    for ours, theirs in zip(reading.words, after.words, strict=True):
        assert found.map_sample(reading.start(ours)) == after.start(theirs)
    for pair in found.pairs:
        exact = Fraction(pair.before.start) * speed * sample_rate / reading.sound.sample_rate
        assert abs(found.map_frame(pair.before.frame) - frame_at(round(exact), sample_rate, rate)) <= 1


@given(readings(), readings(), RATES)
def test_time_never_goes_back_in_any_two_readings(before, after, rate):
    found = conform(before, after, rate)
    length = before.sound.length
    samples = sorted({*range(-9, length, max(1, length // 99)), *before.cuts, length + 9})

    assert all(a <= b for a, b in pairwise(map(found.map_sample, samples)))
    assert all(a <= b for a, b in pairwise(map(found.map_frame, range(-3, 60))))


@given(readings(), SPEEDS)
def test_what_is_mapped_there_is_mapped_back(reading, speed):
    after = stretched(reading, speed)
    there, back = conform(reading, after, FILM), conform(after, reading, FILM)

    for cut in reading.cuts[1:-1]:
        assert abs(back.map_sample(there.map_sample(cut)) - cut) <= 1 + 1 / speed
    assert [(pair.after, pair.before) for pair in back.pairs] == [(pair.before, pair.after) for pair in there.pairs]


def test_sounds_inside_a_word_are_mapped_one_by_one():
    before = said("Mind", lengths=[1000] * 6)
    after = said("Mind", lengths=[1000, 1000, 5000, 1000, 1000, 1000])

    found = conform(before, after, FILM)

    assert [found.map_sample(sample) for sample in (2000, 2500, 3000)] == [2000, 4500, 7000]


def test_where_a_sound_differs_its_neighbours_run_evenly():
    before = said("Mind", lengths=[1000] * 6)
    after = replace(before, phones=(*before.phones[:3], replace(before.phones[3], symbol="NG"), *before.phones[4:]))
    moved = replace(after, cuts=(0, 1000, 2000, 3500, 4500, 5000, 6000))

    found = conform(before, moved, FILM)

    assert found.map_sample(2000) == 2000
    assert found.map_sample(3000) == 2000 + 1000


def test_before_the_first_word_and_after_the_last_time_is_as_far_from_them_as_it_was():
    before = said("Mind", lengths=[1000] * 6)
    after = said("Mind", lengths=[5000, *[2000] * 5], sample_rate=48000)

    found = conform(before, after, FILM)

    assert [found.map_sample(sample) for sample in (0, 500, 5000, 5500)] == [3000, 4000, 13000, 14000]
    assert conform(after, before, FILM).map_sample(0) == -1500


def test_readings_without_a_word_in_common_run_side_by_side():
    before, after = said("Mind"), said("the", sample_rate=48000)

    found = conform(before, after, FILM)

    assert (found.pairs, found.map_sample(100), found.map_frame(7)) == ((), 200, 7)


def test_a_pause_that_has_come_lies_between_the_words():
    before, after = said("Mind", "the"), said("Mind", "-", "the", lengths=[1680] * 5 + [9600] + [1680] * 3)

    found = conform(before, after, FILM)

    start = before.start(before.words[1])
    assert found.map_sample(start) == after.start(after.words[1])
    assert found.map_sample(start - 1) == after.stop(after.words[0]) - 1
    assert found.pairs[1].rest is Rest.NEW
    assert conform(after, before, FILM).pairs[1].rest is Rest.GONE


@pytest.mark.parametrize(("length", "rest"), [(3599, Rest.SAME), (3600, Rest.NEW)])
def test_a_pause_counts_from_fifteen_hundredths_of_a_second(length, rest):
    after = said("Mind", "-", "the", lengths=[1680] * 5 + [length] + [1680] * 3)

    assert conform(said("Mind", "the"), after, FILM).pairs[1].rest is rest


def test_an_animator_reads_what_has_changed():
    before = said("Mind", "the", "step", lengths=[31 * 1000, *[1000] * 10, 1000])
    after = said("Mind", "-", "step", "ticket", lengths=[36 * 1000, 1000, 10000, 1000, 1000, 4000, *[1000] * 10])

    assert remarks(conform(before, after, FILM)) == (
        "'Mind': what was frame 31 is now frame 36, 9 frames longer",
        "'the', which was on frame 35, has gone",
        "'step,': what was frame 37 is now frame 53",
        "'ticket!' is new, on frame 57",
    )


def test_frames_are_told_from_the_first_number_of_the_production():
    before, after = said("Mind", "-", "the", lengths=[5000] * 9), said("Mind", "the", lengths=[4900, *[5000] * 7])

    assert remarks(conform(before, after, FILM), first=1001) == (
        "'Mind': what was frame 1006 is now frame 1005, 1 frame longer",
        "the pause before 'the' has gone",
        "'the': what was frame 1031 is now frame 1025, 1 frame longer",
    )


def test_a_word_said_twice_in_one_and_once_in_the_other_is_matched_with_what_follows():
    before, after = said("Mind", "the", "Mind", "the", "step"), said("Mind", "the", "step")

    found = conform(before, after, FILM)

    assert [(pair.before.number, pair.after.number) for pair in found.pairs] == [(2, 0), (3, 1), (4, 2)]
    assert [(place.number, text) for place, text in found.gone] == [(0, "Mind"), (1, "the")]


def test_words_are_the_same_whatever_their_case_and_marks():
    before = a_reading(("Hat!", "HH AE1 T"), ("…", "AH0"))
    after = a_reading(("hat", "HH AE1 T"), ("…", "AH0"))

    assert [pair.text for pair in conform(before, after, FILM).pairs] == ["hat", "…"]


# The same take, played slower and faster: no mark is by hand, but how much later all is is known exactly.
def test_takes_played_at_another_speed_are_mapped_within_a_frame(reader, tram):
    off = []
    for name, speed in product(("05", "06", "09", "14"), (Fraction(11, 10), Fraction(10, 11))):
        recording, line = tram[name]
        signal = soxr.resample(recording.signal, RATE, RATE * float(speed)).astype(np.float32)
        played = Recording(Sound("ef" * 32, RATE, Sample(len(signal))), signal)
        before, after = reader.read(recording, line), reader.read(played, line)
        found = conform(before, after, FILM)
        assert [pair.before.number for pair in found.pairs] == list(range(len(before.words)))
        assert [found.map_sample(before.start(word)) for word in before.words] == list(map(after.start, after.words))
        assert [found.map_frame(pair.before.frame) for pair in found.pairs] == [p.after.frame for p in found.pairs]
        exact = [Fraction(pair.before.start) * speed * RATE / before.sound.sample_rate for pair in found.pairs]
        off += [pair.after.start - time for pair, time in zip(found.pairs, exact, strict=True)]

    # What is left is how far the engine puts a word elsewhere at another speed.
    assert len(off) == 48
    assert sum(abs(far) <= Fraction(RATE, 24) for far in off) >= 46
