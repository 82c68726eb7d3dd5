"""Pieces of recordings mixed: each where it begins, as fast as it runs, softer where it fades."""

from fractions import Fraction

import numpy as np
import pytest

from trackread.core.timebase import NAMED_RATES, FrameRate
from trackread.film.mixing import Part, mixed
from trackread.film.sound import RATE

FILM = FrameRate(Fraction(24))
FRAME = RATE // 24


def click(at, length=RATE, sample_rate=RATE):
    """Silence with a click of two milliseconds at a sample."""
    samples = np.zeros(length, np.float32)
    samples[at : at + sample_rate // 500] = 0.5
    return samples


def heard_at(track):
    """The sample in the middle of what is heard."""
    loud = np.flatnonzero(np.abs(track.samples) > 0.1)
    return (loud[0] + loud[-1]) // 2


@pytest.mark.parametrize("sample_rate", [44_100, 48_000, 96_000])
@pytest.mark.parametrize("rate", [FrameRate(rate) for rate in NAMED_RATES.values()], ids=lambda rate: rate.name)
def test_a_part_is_heard_from_its_frame_on_at_every_rate(rate, sample_rate):
    part = Part(click(sample_rate // 10, sample_rate, sample_rate), sample_rate, 5, 5 + rate.base)
    begins = 5 / rate.per_second + Fraction(1, 10) + Fraction(1, 1000)

    assert abs(Fraction(int(heard_at(mixed([part], 3 * rate.base, rate))), RATE) - begins) < Fraction(1, 4000)


def test_what_plays_is_the_recording_itself_sample_for_sample():
    noise = np.random.default_rng(1).uniform(-0.5, 0.5, 10 * FRAME).astype(np.float32)
    track = mixed([Part(noise, RATE, 3, 13)], 20, FILM)

    np.testing.assert_array_equal(track.samples[3 * FRAME : 13 * FRAME], noise)
    assert not track.samples[: 3 * FRAME].any()
    assert not track.samples[13 * FRAME :].any()


@pytest.mark.parametrize(
    ("speed", "middle"), [(Fraction(2), 12_000), (Fraction(1, 2), 48_000), (Fraction(25, 24), 23_040)]
)
def test_what_is_sped_up_is_heard_sooner(speed, middle):
    track = mixed([Part(click(24_000 - 48), RATE, 0, 24, speed=speed)], 48, FILM)

    assert abs(heard_at(track) - middle) < 60


def test_backwards_the_end_is_heard_first():
    track = mixed([Part(click(6_000 - 48), RATE, 0, 24, speed=Fraction(-1))], 24, FILM)

    assert abs(heard_at(track) - 42_000) < 60


def test_what_is_missing_of_a_recording_is_silence_before_it():
    track = mixed([Part(click(4_000 - 48), RATE, 0, 24, missing=8_000)], 24, FILM)

    assert abs(heard_at(track) - 12_000) < 60


def test_a_part_goes_on_for_no_longer_than_its_frames():
    track = mixed([Part(np.full(RATE, 0.5, np.float32), RATE, 2, 4)], 10, FILM)

    assert np.flatnonzero(track.samples).tolist() == list(range(2 * FRAME, 4 * FRAME))


def test_a_fade_runs_straight_from_nothing_to_full_and_back():
    part = Part(np.full(RATE, 0.5, np.float32), RATE, 0, 24, fade_in=(0, 4), fade_out=(20, 24))
    samples = mixed([part], 24, FILM).samples
    levels = [float(samples[k * FRAME]) for k in (0, 2, 4, 12, 20, 22)]

    np.testing.assert_allclose(levels, [0, 0.25, 0.5, 0.5, 0.5, 0.25], atol=1e-3)


def test_a_fade_that_began_before_the_shot_is_heard_in_part():
    part = Part(np.full(RATE, 0.5, np.float32), RATE, 0, 24, fade_in=(-2, 2))

    assert mixed([part], 24, FILM).samples[0] == pytest.approx(0.25, abs=1e-3)


def test_two_at_once_are_summed_and_the_whole_is_softer_where_that_is_too_loud():
    parts = [Part(np.full(RATE, level, np.float32), RATE, first, 24) for level, first in ((0.8, 0), (0.8, 12))]
    samples = mixed(parts, 24, FILM).samples

    assert float(np.abs(samples).max()) == pytest.approx(1.0)
    assert samples[0] == pytest.approx(0.5, abs=1e-3)


def test_nothing_is_made_louder_and_nobody_is_silence():
    quiet = mixed([Part(np.full(RATE, 0.01, np.float32), RATE, 0, 24)], 24, FILM)

    assert float(quiet.samples.max()) == pytest.approx(0.01)
    assert mixed([], 24, FILM).samples.shape == (RATE,)


def test_a_part_that_plays_on_no_frame_is_refused():
    with pytest.raises(ValueError, match="plays on frames"):
        Part(np.zeros(9, np.float32), RATE, 4, 4)
