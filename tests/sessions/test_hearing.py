"""What is heard is compared with any phones at all, and cut where the voice rests, by rows and levels made by hand."""

import re
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tests.sessions.makers import LATE, ROOM, SPACING, STEP, VOICE, a_session, heard_rows, is_in_order, phones_of
from trackread.core.phones import PHONES
from trackread.sessions.hearing import (
    BELOW_LOUDEST,
    COLUMNS,
    FLOOR,
    NEW_PHONE,
    REST,
    Hearing,
    begins,
    spoken_runs,
    utterances_in,
)

SILENT = np.zeros(0)
some_rows = st.integers(0, 12).flatmap(lambda count: arrays(np.float32, (count, 40), elements=st.integers(-20, 0)))
some_levels = st.lists(st.sampled_from([ROOM, VOICE]), max_size=80).map(np.array)


def hearing_of(levels, count=None):
    count = len(levels) if count is None else count
    return Hearing(heard_rows([], count), np.array(levels), LATE)


def best_by_hand(rows):
    """The score of each row of the explanation that always takes the likeliest, phone by phone as it is defined."""
    scores, before = [], None
    for row in rows.tolist():
        floored = [max(value, FLOOR) for value in row]
        best = floored.index(max(floored))  # silence is the first, so it is taken where a phone is no likelier
        phone = list(PHONES)[best - 1] if best else None
        scores.append(floored[best] - (NEW_PHONE if phone and phone != before else 0.0))
        before = phone
    return scores


def test_silence_and_39_phones_each_have_a_column() -> None:
    # ARPAbet as the CMU dictionary has it: 39 phones.
    assert sorted(COLUMNS.values()) == list(range(1, 40))


@given(some_rows)
def test_rows_are_beside_the_likeliest_of_each_which_pays_for_every_new_phone(rows) -> None:
    found = Hearing(rows, SILENT, LATE).against_any()
    expected = np.maximum(rows, FLOOR) - np.reshape(best_by_hand(rows), (-1, 1))

    assert found.dtype == np.float32
    assert np.allclose(found, expected, atol=1e-5)


@given(some_rows, st.integers(0, 12), st.integers(0, 12))
def test_phones_heard_are_those_that_begin_in_the_best_explanation(rows, one, other) -> None:
    first, stop = sorted((one, other))
    part = rows[first:stop]
    scores = best_by_hand(part)
    paid = [row for row in range(len(part)) if scores[row] < max(np.maximum(part[row], FLOOR)) - NEW_PHONE / 2]

    found = Hearing(rows, SILENT, LATE).phones_in(first, stop)

    assert found == tuple(list(PHONES)[int(np.maximum(part[row], FLOOR).argmax()) - 1] for row in paid)


def test_a_phone_that_sounds_on_is_heard_once_and_after_a_silence_again() -> None:
    hearing = Hearing(heard_rows([(2, "M"), (3, "M"), (5, "M"), (6, "AY")], 9), SILENT, LATE)

    assert hearing.phones_in(0, 9) == ("M", "M", "AY")
    assert hearing.phones_in(3, 6) == ("M", "M")
    assert hearing.phones_in(4, 4) == ()


@pytest.mark.parametrize("value", [-np.inf, np.nan])
def test_a_row_in_which_nothing_is_likely_is_silence_and_is_for_no_phone(value) -> None:
    rows = heard_rows([(1, "M")], 3)
    rows[1] = value
    hearing = Hearing(rows, SILENT, LATE)

    assert np.array_equal(hearing.against_any()[1], np.zeros(40))
    assert hearing.phones_in(0, 3) == ()


def test_no_rows_are_beside_nothing() -> None:
    assert Hearing(heard_rows([], 0), SILENT, LATE).against_any().shape == (0, 40)


@pytest.mark.parametrize(("rest", "count"), [(1, 1), (REST - 1, 1), (REST, 2), (60, 2)])
def test_only_a_rest_of_a_fifth_of_a_second_parts_utterances(rest, count) -> None:
    found = utterances_in(a_session(STEP, rest, STEP))
    length = SPACING * len(phones_of(STEP))
    spans = [(50, 50 + length), (50 + length + rest, 50 + 2 * length + rest)]

    assert len(found) == count
    assert [(one.start, one.stop) for one in found] == (spans if count == 2 else [(50, spans[1][1])])


@pytest.mark.parametrize(("length", "count"), [(1, 0), (2, 0), (3, 1)])
def test_a_click_is_no_utterance(length, count) -> None:
    assert len(utterances_in(hearing_of([ROOM] * 50 + [VOICE] * length + [ROOM] * 50))) == count


@pytest.mark.parametrize("levels", [[], [VOICE], [VOICE] * 200, [ROOM] * 200], ids=["none", "one", "loud", "quiet"])
def test_nobody_speaks_where_all_is_equally_loud(levels) -> None:
    assert utterances_in(hearing_of(levels)) == ()


def test_what_is_far_below_the_loudest_is_room_even_in_digital_silence() -> None:
    faint = VOICE - BELOW_LOUDEST - 1
    levels = [-180.0] * 50 + [VOICE] * 20 + [-180.0] * 50 + [faint] * 20 + [-180.0] * 50

    assert [(one.start, one.stop) for one in utterances_in(hearing_of(levels))] == [(50, 70)]


@given(some_levels, st.integers(0, 90))
def test_the_recognisers_rows_of_utterances_are_in_order_and_never_shared(levels, count) -> None:
    found = utterances_in(hearing_of(levels, count))

    assert is_in_order([(one.start, one.stop) for one in found])
    assert all(0 <= one.first <= one.last <= count for one in found)
    assert all(one.last <= other.first for one, other in pairwise(found))


@given(st.text("vr", max_size=80))
def test_runs_are_voices_with_short_rests_between_them_and_no_clicks(text) -> None:
    text = "r" * 40 + text
    expected = [found.span() for found in re.finditer(f"v(?:r{{0,{REST - 1}}}v)*", text) if len(found[0]) > 2]

    assert spoken_runs(np.array([VOICE if letter == "v" else ROOM for letter in text])) == expected


def test_an_utterance_has_the_recognisers_rows_a_little_before_and_after_it_as_late_as_those_come() -> None:
    (found,) = utterances_in(a_session(STEP))

    assert found.first - LATE < found.start < found.stop < found.last - LATE
    assert a_session(STEP).phones_in(found.first, found.last) == tuple(phones_of(STEP))


def test_an_utterance_at_the_edges_has_the_rows_that_there_are() -> None:
    levels = [VOICE] * 30 + [ROOM] * 60 + [VOICE] * 30
    first, last = utterances_in(hearing_of(levels))

    assert (first.start, first.first) == (0, LATE)
    assert (last.stop, last.last) == (120, 120)


def test_phones_begin_where_another_or_silence_was_before() -> None:
    assert begins(np.array([0, 5, 5, 0, 5, 6, 0])).tolist() == [False, True, False, False, True, True, False]
