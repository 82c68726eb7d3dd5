"""What the fit is given: copies that are as long as they say, and the labelled time of each boundary."""

import numpy as np
import pytest

from tests.scripts.loading import script
from trackread.labels.marks import Mark, Marks
from trackread.reading.aligner import Mark as Found
from trackread.reading.boundaries import boundaries_of
from trackread.reading.sounds import RATE

FIT = script("fit-boundaries")

FOUND = [
    Found("S", 0.20, 0.30, 0, opens_word=True),
    Found("T", 0.30, 0.36, 0, opens_word=False),
    Found("EH1", 0.36, 0.50, 0, opens_word=False),
]
LABELS = Marks(
    (Mark("set", 210_000, 520_000),),
    (Mark("S", 210_000, 310_000), Mark("T", 310_000, 350_000), Mark("EH", 350_000, 520_000)),
)


@pytest.mark.parametrize("kind", [*FIT.LEARNT, *FIT.ROUGH])
def test_a_copy_is_as_much_longer_as_it_says(kind: str) -> None:
    signal = np.random.default_rng(0).normal(0, 0.1, RATE)

    copy, longer = FIT.copy_of(signal, kind, "seed")

    assert abs(len(copy) - RATE * longer) <= 1
    assert np.isfinite(copy).all()


def test_noise_is_as_far_below_the_voice_as_it_says() -> None:
    signal = np.sin(np.arange(RATE) / 10)

    noise = FIT.copy_of(signal, "noise 20", "seed")[0] - signal

    assert abs(10 * np.log10((signal**2).mean() / (noise**2).mean()) - 20) < 0.3


def test_each_boundary_is_wanted_where_people_marked_it() -> None:
    times = FIT.true_times(LABELS, FOUND, boundaries_of(FOUND), 1.0)

    assert np.allclose(times, [0.21, 0.31, 0.35, 0.52])


def test_times_stretch_with_the_copy() -> None:
    slow = [Found(m.phone, m.start * 1.25, m.stop * 1.25, m.word, m.opens_word) for m in FOUND]

    times = FIT.true_times(LABELS, slow, boundaries_of(slow), 1.25)

    assert np.allclose(times, np.array([0.21, 0.31, 0.35, 0.52]) * 1.25)


def test_a_phone_marked_together_with_the_one_before_has_no_time_to_learn() -> None:
    shared = Marks((), (LABELS.phones[0], Mark("T", 210_000, 350_000, shared=True), LABELS.phones[2]))

    times = FIT.true_times(shared, FOUND, boundaries_of(FOUND), 1.0)

    assert np.isnan(times[1])
    assert np.isfinite([times[0], times[2]]).all()


def test_better_marks_lie_near_the_labels_and_stay_in_order() -> None:
    near = FIT.nearer(FOUND, LABELS, 1.0)

    starts = [mark.start for mark in near]
    assert starts == sorted(starts)
    assert np.allclose(starts, [0.21, 0.31, 0.35], atol=0.05)
