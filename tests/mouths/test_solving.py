"""The mouths of least cost, against all that there could be."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trackread.mouths.solving import Problem, cost_of, solved

FEW = st.integers(0, 9)


@st.composite
def problems(draw, most_frames=6, most_mouths=4):
    """Short stretches with few mouths, and every combination of the rules."""
    frames, mouths = draw(st.integers(1, most_frames)), draw(st.integers(1, most_mouths))

    def table(*shape, of=FEW):
        return np.array(draw(st.lists(of, min_size=int(np.prod(shape)), max_size=int(np.prod(shape))))).reshape(shape)

    return Problem(
        misfit=table(frames, mouths),
        allowed=table(frames, mouths, of=st.booleans()),
        jumps=table(mouths, mouths),
        beats=table(frames, of=st.booleans()),
        hold=draw(st.integers(1, 4)),
        flash=draw(st.sampled_from([0, 3, 100])),
        off_beat=draw(st.sampled_from([0, 3, 100])),
        unmet=draw(st.sampled_from([0, 3, 1000])),
    )


@settings(max_examples=1500, deadline=None)
@given(problems())
def test_no_other_sequence_costs_less(problem):
    frames, mouths = problem.misfit.shape
    least = min(cost_of(problem, list(each)) for each in product(range(mouths), repeat=frames))

    assert cost_of(problem, solved(problem)) == least


@given(problems(most_frames=40, most_mouths=8))
def test_the_same_problem_has_the_same_mouths_twice(problem):
    assert solved(problem) == solved(problem)


def plain(misfit, **changes):
    """A problem in which a change costs 1 and everything else is allowed."""
    misfit = np.array(misfit)
    frames, mouths = misfit.shape
    rules = {"hold": 1, "flash": 0, "off_beat": 0, "unmet": 0, **changes}
    every = np.ones((frames, mouths), dtype=bool)
    tables = {"allowed": every, "jumps": np.ones((mouths, mouths), dtype=int), "beats": every[:, 0], **changes}
    return Problem(misfit, **{**rules, **tables})


def test_a_mouth_that_fits_for_one_frame_only_is_left_out_where_that_would_be_a_flash():
    misfit = [[0, 9], [0, 9], [9, 0], [0, 9], [0, 9]]

    assert solved(plain(misfit)) == [0, 0, 1, 0, 0]
    assert solved(plain(misfit, hold=2, flash=100)) == [0, 0, 0, 0, 0]


def test_mouths_change_on_the_beat_if_they_may_wait_for_it():
    misfit = [[0, 9], [0, 9], [0, 9], [9, 0], [9, 0], [9, 0]]
    twos = np.array([True, False] * 3)

    assert solved(plain(misfit)) == [0, 0, 0, 1, 1, 1]
    assert solved(plain(misfit, beats=twos, off_beat=100)) in ([0, 0, 1, 1, 1, 1], [0, 0, 0, 0, 1, 1])


def test_what_must_be_seen_is_seen_whatever_else_it_costs():
    allowed = np.array([[True, True], [True, True], [False, True], [True, True]])

    assert solved(plain([[0, 9]] * 4, allowed=allowed, unmet=1000))[2] == 1


@pytest.mark.parametrize(
    "spoilt", [{"hold": 0}, {"beats": np.ones(3, dtype=bool)}, {"jumps": np.ones((3, 3), dtype=int)}]
)
def test_tables_that_do_not_belong_together_are_our_own_mistake(spoilt):
    with pytest.raises(ValueError, match=r"hold|belong together"):
        plain([[0, 9]] * 4, **spoilt)
