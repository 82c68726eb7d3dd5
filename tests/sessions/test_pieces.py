"""Long sessions are cut into pieces in their longest rests."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.reading import long_recordings
from trackread.sessions.pieces import LEAST, MOST, ROWS, piece_edges

VOICE, ROOM = 0.1, 0.0005  # of full scale

blocks = st.lists(
    st.tuples(st.sampled_from([0.0, ROOM, 0.01, VOICE, 1.0]), st.integers(1, 60 * ROWS)), min_size=1, max_size=30
)


def talk(seconds, *rests):
    """Talk of so long, quiet from one second to another."""
    loudness = np.full(seconds * ROWS, VOICE)
    # Everybody breathes: some of it is soft, though for a row only.
    loudness[:: 4 * ROWS] = ROOM
    for first, stop in rests:
        loudness[round(first * ROWS) : round(stop * ROWS)] = ROOM
    return loudness


@given(blocks)
def test_pieces_cover_all_in_order_and_none_is_too_long_or_too_short(parts):
    loudness = np.concatenate([np.full(count, level) for level, count in parts])
    edges = piece_edges(loudness)
    lengths = [stop - first for first, stop in pairwise(edges)]

    assert (edges[0], edges[-1]) == (0, len(loudness))
    assert all(0 < length <= MOST for length in lengths)
    assert all(length >= LEAST for length in lengths[:-1])


def test_a_session_that_is_no_longer_than_a_piece_is_not_cut():
    assert piece_edges(talk(MOST // ROWS)) == [0, MOST]


def test_a_piece_ends_in_the_middle_of_the_longest_rest_within_reach():
    # The longest rest of all is too early, the second longest too late.
    edges = piece_edges(talk(120, (10, 20), (33, 34), (50, 53), (60, 61), (90, 98)))

    assert edges[1] == 51.5 * ROWS


@pytest.mark.parametrize("first", [30, 31, 52, 73])
def test_a_rest_is_found_wherever_it_lies_within_reach(first):
    assert piece_edges(talk(100, (first, first + 1.6)))[1] == (first + 0.8) * ROWS


def test_talk_without_any_rest_is_cut_where_it_is_softest():
    loudness = talk(120)
    loudness[loudness == ROOM] = VOICE
    loudness[:200] = ROOM
    loudness[44 * ROWS] = VOICE / 1.5

    assert piece_edges(loudness)[1] == 44 * ROWS


@pytest.mark.parametrize("loudness", [np.zeros(500 * ROWS), np.full(500 * ROWS, ROOM)])
def test_silence_and_a_steady_noise_are_one_rest(loudness):
    edges = piece_edges(loudness)

    assert edges[1:3] == [(LEAST + MOST) // 2, LEAST + MOST]


def test_the_rooms_own_noise_is_a_rest_however_it_flickers():
    chance = np.random.default_rng(1)
    loudness = talk(120)
    loudness[50 * ROWS : 53 * ROWS] = ROOM * chance.uniform(0.5, 1.5, 3 * ROWS)

    assert piece_edges(loudness)[1] == 51.5 * ROWS


def test_rows_are_those_in_which_the_reading_counts_levels():
    # Two rooms that may not import each other.
    assert ROWS == long_recordings.ROWS
