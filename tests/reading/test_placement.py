"""Scored candidates become times: in order, at the peaks, with stops after pauses at their bursts."""

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from trackread.reading.aligner import Mark
from trackread.reading.boundaries import Candidates, boundaries_of, candidates
from trackread.reading.placement import LEAD, Placed, burst_in, decide

QUIET = np.zeros(3000, np.float32)


def marks(*rows: tuple[str, float, float]) -> list[Mark]:
    return [Mark(phone, start, stop, 0, k == 0) for k, (phone, start, stop) in enumerate(rows)]


MIND = marks(("M", 0.30, 0.40), ("AY1", 0.40, 0.60), ("N", 0.60, 0.70), ("D", 0.70, 0.76))


def peaked(found: Candidates, times: list[float], height: float = 1.0) -> np.ndarray:
    """Scores that fall off over 8 ms around a time for each boundary."""
    middle = found.per_boundary(times)
    return height * np.exp(-0.5 * ((found.time - middle) / 0.008) ** 2)


def edges(placed: tuple[Placed, ...]) -> list[float]:
    return [one.start for one in placed] + [placed[-1].stop]


def test_boundaries_go_to_the_peaks_between_the_candidates() -> None:
    found = candidates(boundaries_of(MIND))
    wanted = [0.312, 0.393, 0.621, 0.688, 0.771]

    placed = decide(MIND, found, peaked(found, wanted), QUIET)

    assert np.allclose(edges(placed), wanted, atol=0.001)


@given(st.lists(st.floats(-0.06, 0.06), min_size=5, max_size=5), st.integers(0, 99))
def test_phones_never_overlap_or_vanish_whatever_the_scores(shifts: list[float], seed: int) -> None:
    found = candidates(boundaries_of(MIND))
    wanted = [b.time + shift for b, shift in zip(found.boundaries, shifts, strict=True)]
    noise = np.random.default_rng(seed).random(len(found.time)) * 0.3

    placed = decide(MIND, found, np.clip(peaked(found, wanted) + noise, 0, 1), QUIET)

    times = edges(placed)
    assert all(a < b for a, b in pairwise(times))
    assert all(a.stop == b.start for a, b in pairwise(placed))


def test_a_sure_peak_gives_more_confidence_than_a_low_one() -> None:
    found = candidates(boundaries_of(MIND))
    times = [b.time for b in found.boundaries]

    sure, unsure = (decide(MIND, found, peaked(found, times, height), QUIET) for height in (0.9, 0.2))

    assert all(a.confidence > b.confidence for a, b in zip(sure, unsure, strict=True))
    assert all(0 <= one.confidence <= 1 for one in (*sure, *unsure))


def test_a_stop_after_a_pause_starts_just_before_its_burst() -> None:
    pip = marks(("P", 0.20, 0.42), ("IH1", 0.42, 0.60))
    burst = np.where(np.arange(3000) < 400, -60.0, -20.0).astype(np.float32)
    found = candidates(boundaries_of(pip))

    placed = decide(pip, found, peaked(found, [0.2, 0.42, 0.6]), burst)

    assert abs(placed[0].start - (0.400 - LEAD)) <= 0.003


def test_there_is_no_burst_where_there_is_no_room_for_one() -> None:
    assert burst_in(QUIET, 0.500, 0.501) is None
