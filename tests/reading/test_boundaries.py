"""Boundaries come from marks, candidates lie around them, and each candidate has one row of finite numbers."""

import numpy as np
import pytest

from trackread.core.phones import PAUSE
from trackread.reading.aligner import Mark
from trackread.reading.boundaries import (
    AFTER_PAUSE,
    REACH,
    boundaries_of,
    candidates,
    pause_between,
)
from trackread.reading.forest import shipped
from trackread.reading.recogniser import posteriors
from trackread.reading.spectra import analyse
from trackread.reading.views import GROUPS, Stretch, describe


def marks(*rows: tuple[str, float, float]) -> list[Mark]:
    """Phones with their times, all of one word."""
    return [Mark(phone, start, stop, 0, k == 0) for k, (phone, start, stop) in enumerate(rows)]


STEP = marks(("S", 0.20, 0.30), ("T", 0.30, 0.36), ("EH1", 0.36, 0.50), ("P", 0.70, 0.80))


def test_a_pause_has_a_boundary_on_each_side() -> None:
    sides = [(b.left, b.right) for b in boundaries_of(STEP)]

    assert sides == [(PAUSE, "S"), ("S", "T"), ("T", "EH"), ("EH", PAUSE), (PAUSE, "P"), ("P", PAUSE)]


def test_marks_that_touch_have_no_pause_between_them() -> None:
    assert not pause_between(STEP[0], STEP[1])
    assert pause_between(STEP[2], STEP[3])


def test_candidates_reach_as_far_as_stated_around_each_mark() -> None:
    found = candidates(boundaries_of(STEP))

    for boundary, times in zip(found.boundaries, found.of_each(found.time), strict=True):
        reach = AFTER_PAUSE if PAUSE in (boundary.left, boundary.right) else REACH
        assert abs(times - boundary.time).max() <= reach + 0.005
        assert (np.diff(times) > 0).all()
        assert times[0] < boundary.time < times[-1] + 0.005


@pytest.mark.parametrize("kind", ["noise", "silence", "tone"])
def test_every_candidate_of_any_sound_has_one_finite_row(kind: str) -> None:
    time = np.arange(16000) / 16000
    signal = {
        "noise": np.random.default_rng(0).normal(0, 0.1, 16000),
        "silence": np.zeros(16000),
        "tone": 0.5 * np.sin(2 * np.pi * 200 * time),
    }[kind].astype(np.float32)
    found = candidates(boundaries_of(STEP))

    rows = describe(Stretch(analyse(signal), posteriors(signal)), found)

    assert rows.shape[0] == len(found.time)
    assert np.isfinite(rows).all()
    assert shipped().feature.max() < rows.shape[1]


def test_groups_stand_side_by_side_in_a_row() -> None:
    signal = np.random.default_rng(0).normal(0, 0.1, 16000).astype(np.float32)
    stretch, found = Stretch(analyse(signal), posteriors(signal)), candidates(boundaries_of(STEP))

    each = [describe(stretch, found, [name]) for name in GROUPS]

    assert np.array_equal(np.concatenate(each, 1), describe(stretch, found))
