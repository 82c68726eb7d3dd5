"""What the measure of pitch is made of: voices that have the pitch they claim, and errors counted as it says."""

import numpy as np
import pytest
import scipy.signal

from tests.scripts.loading import script
from trackread.reading.sounds import RATE

PITCH = script("measure-pitch")


def speaker(body: str = "man", seed: int = 0):
    return PITCH.Speaker(PITCH.BODIES[body], np.random.default_rng(seed))


@pytest.mark.parametrize(
    ("body", "hertz"), [("man", 60), ("man", 110), ("woman", 300), ("child", 650), ("squeak", 990)]
)
def test_all_that_sounds_lies_at_the_harmonics_of_the_pitch(body: str, hertz: float) -> None:
    signal = speaker(body).says(PITCH.steady(hertz, 1.0), jitter=0.0).signal
    power = np.abs(np.fft.rfft(signal * np.hanning(len(signal)))) ** 2
    bins = np.arange(len(power)) * RATE / len(signal)
    number = np.maximum(np.round(bins / hertz), 1)
    harmonic = np.abs(bins - number * hertz) < 4

    assert power[harmonic].sum() > 0.98 * power.sum()
    assert power[harmonic & (number % 2 == 1)].sum() > 0.01 * power.sum()  # or it would sound an octave higher


@pytest.mark.parametrize("turns", [0.0, 0.08])
def test_creak_strikes_as_often_as_its_truth_says(turns: float) -> None:
    hertz = PITCH.glide(80, 40, 2.0)
    take = speaker().says(hertz, opened=0.3, jitter=0.02, turns=turns)
    envelope = scipy.signal.sosfilt(scipy.signal.butter(2, 150, fs=RATE, output="sos"), np.abs(take.signal))
    pulses, _ = scipy.signal.find_peaks(envelope, distance=RATE // 130, prominence=0.2 * envelope.max())

    assert len(pulses) == pytest.approx(hertz.sum() / RATE, abs=3)


def test_a_leap_is_an_octave_held_for_a_fifth_of_a_second_or_more() -> None:
    take = PITCH.leaps(speaker("woman"))
    voiced = take.hertz[take.hertz > 0]
    middle = voiced[0]

    assert 0.2 * RATE - 1 <= (voiced == 2 * middle).sum() <= 0.6 * RATE
    assert 0.2 * RATE - 1 <= (voiced == middle / 2).sum() <= 0.6 * RATE


@pytest.mark.parametrize("noise", [name for name in PITCH.NOISES if name != "clean"])
def test_noise_is_as_far_below_the_voice_as_it_says(noise: str) -> None:
    take = PITCH.tones(speaker())
    added = PITCH.in_noise(take, PITCH.NOISES[noise], np.random.default_rng(0)) - take.signal
    ratio = (take.signal[take.hertz > 0] ** 2).mean() / (added**2).mean()

    assert 10 * np.log10(ratio) == pytest.approx(PITCH.NOISES[noise][1], abs=0.01)


def test_the_same_seed_gives_the_same_targets() -> None:
    first, again, other = (next(take for _, take in PITCH.takes_of(seed)).signal for seed in (1, 1, 2))

    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


@pytest.mark.parametrize(
    ("heard", "wrong"),
    [
        (100.0, [0, 0, 0, 0, 36]),
        (119.0, [0, 0, 0, 0, 36]),
        (121.0, [50, 0, 0, 0, 36]),
        (205.0, [50, 50, 0, 0, 36]),
        (48.0, [50, 0, 50, 0, 36]),
        (np.nan, [0, 0, 0, 46, 0]),
    ],
)
def test_errors_are_counted_by_how_far_off_they_are(heard: float, wrong: list[int]) -> None:
    # Half a second of voice in half a second of nothing; two frames on either side of an edge are not asked for voice.
    voice = PITCH.Take(np.zeros(RATE // 2), np.full(RATE // 2, 100.0), np.ones(RATE // 2, bool))
    take = PITCH.joined([PITCH.rest(0.2), voice, PITCH.rest(0.2)])

    assert PITCH.tally(take, np.full(90, heard))[:, 0].tolist() == wrong


def test_no_pitch_is_right_where_creak_is_slower_than_anybody_looks() -> None:
    slow = PITCH.Take(np.zeros(RATE), np.full(RATE, 50.0), np.ones(RATE, bool))
    silent, doubled = (PITCH.tally(slow, np.full(100, hertz))[:, 0].tolist() for hertz in (np.nan, 100.0))

    assert silent == [0, 0, 0, 0, 0]
    assert doubled == [100, 100, 0, 0, 0]
