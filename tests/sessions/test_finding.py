"""A session that a recogniser hears clearly is found as it was said: where, which line, how much of it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sessions.makers import (
    BRIDGE,
    LANTERN,
    LATE,
    ROOM,
    SPACING,
    STEP,
    STEP_MISS,
    TICKET,
    VOICE,
    a_session,
    heard_rows,
    is_in_order,
    knowing,
    phones_of,
    some_lines,
    utterances_after,
    words_of,
)
from trackread.core.session import Wholeness
from trackread.sessions.finding import LONG, Finder, fall_of, rest_around
from trackread.sessions.hearing import HOP, Hearing
from trackread.sessions.parting import Piece

SAID = [STEP_MISS, LANTERN, TICKET, BRIDGE]
LINES = some_lines(*SAID)
NUMBER = "W AH N | T UW | TH R IY"
SLATE = words_of(", ".join(["S IY N | SH AA T", *[NUMBER] * 4, "T EY K", NUMBER, NUMBER]))
FINDER = Finder(LINES, SLATE)
WHOLE, CUT_OFF, RESTARTED = Wholeness.WHOLE, Wholeness.CUT_OFF, Wholeness.RESTARTED


def listened(*parts):
    """A second opinion on a session of these parts: each string is where `a_session` puts it."""
    said, reached = [], 50
    for part in parts:
        length = part if isinstance(part, int) else SPACING * len(phones_of(part))
        if isinstance(part, str):
            said.append((reached, reached + length, part))
        reached += length
    return lambda start, stop: knowing(*(part for first, last, part in said if first >= start and last <= stop))


def spots_in(*parts, finder=FINDER):
    return tuple(finder.spots(a_session(*parts), listened(*parts)))


def bests(spots):
    return [(one.candidates[0].line.id, one.candidates[0].wholeness) for one in spots]


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(15, 100)), min_size=1, max_size=5))
@settings(max_examples=15, deadline=None)
def test_lines_in_any_order_are_found_one_by_one_whole_where_they_are_said(session) -> None:
    spots = spots_in(*(part for number, rest in session for part in (SAID[number], rest)))

    assert bests(spots) == [(LINES[number].id, WHOLE) for number, _ in session]
    assert [one.stop - one.start for one in spots] == [SPACING * len(phones_of(SAID[number])) for number, _ in session]
    assert is_in_order([(one.start, one.stop) for one in spots])


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        ((LANTERN,), [("L0102", WHOLE)]),
        (("HH OW L D DH AH L AE N T",), [("L0102", CUT_OFF)]),
        (("HH OW L D DH AH L AE N T", 7, LANTERN), [("L0102", RESTARTED)]),
        ((LANTERN, 7, LANTERN), [("L0102", RESTARTED)]),
        (("HH OW L D DH AH L AE N T", 40, LANTERN), [("L0102", CUT_OFF), ("L0102", WHOLE)]),
        ((LANTERN, 40, LANTERN), [("L0102", WHOLE), ("L0102", WHOLE)]),
        (("Y UH R T IH K AH T", 40, "P L IY Z"), [("L0103", WHOLE)]),
    ],
    ids=["whole", "cut short", "begun again", "twice", "cut short and again", "twice apart", "rested"],
)
def test_a_take_is_found_with_how_much_it_says(parts, expected) -> None:
    assert bests(spots_in(*parts)) == expected


def test_a_spot_has_what_is_heard_of_it_and_both_opinions() -> None:
    (spot,) = spots_in(TICKET)

    assert spot.heard == tuple(phones_of(TICKET))
    assert spot.opinion.fitness > 0
    assert spot.opinion.sound == 0
    assert spot.opinion.sound_apart > 0
    assert (spot.start, spot.stop) == (50, 50 + SPACING * len(phones_of(TICKET)))


def test_a_slate_is_explained_as_one_and_a_line_is_not() -> None:
    slate, line = spots_in("S IY N T UW T EY K TH R IY", 60, STEP_MISS)

    assert slate.slate == pytest.approx(0.7, abs=1e-4)
    assert line.slate < 0


def test_the_second_opinion_is_asked_about_the_sound_of_each_spot_that_is_like_a_line() -> None:
    asked = []

    def listen(start, stop):
        asked.append((start, stop))
        return knowing(STEP_MISS)

    spots = tuple(FINDER.spots(a_session(STEP_MISS, 60, LANTERN), listen))

    assert asked == [(one.start, one.stop) for one in spots]


def test_a_noise_in_which_no_phone_is_heard_is_like_no_line() -> None:
    levels = np.array([ROOM] * 50 + [VOICE] * 30 + [ROOM] * 50)
    (spot,) = FINDER.spots(Hearing(heard_rows([], len(levels)), levels, LATE), listened())

    assert (spot.candidates, spot.opinion, spot.heard) == ((), None, ())


@pytest.mark.parametrize("count", [0, 1, 200])
def test_nothing_is_found_where_nobody_speaks(count) -> None:
    assert tuple(FINDER.spots(Hearing(heard_rows([], count), np.full(count, ROOM), LATE), listened())) == ()


def test_what_is_said_where_no_line_may_be_is_like_none() -> None:
    (spot,) = spots_in(STEP, finder=Finder([], SLATE))

    assert spot.candidates == ()
    assert spot.heard == tuple(phones_of(STEP))


def test_what_is_said_up_to_both_edges_is_found() -> None:
    session = a_session(STEP_MISS, 60, LANTERN)
    first, last = 50 - 1, len(session.levels) - 50 + 8
    cut = Hearing(session.rows[first:last], session.levels[first:last], LATE)

    assert bests(FINDER.spots(cut, lambda *_: knowing(STEP_MISS, LANTERN))) == [("L0101", WHOLE), ("L0102", WHOLE)]


@pytest.mark.parametrize("value", [-np.inf, np.nan])
def test_a_row_without_a_number_costs_its_phone_and_not_the_take(value) -> None:
    session = a_session(STEP_MISS, 60, LANTERN)
    session.rows[52 + LATE] = value

    assert bests(FINDER.spots(session, listened(STEP_MISS, 60, LANTERN))) == [("L0101", WHOLE), ("L0102", WHOLE)]


def test_the_rest_around_a_piece_is_the_shorter_and_long_where_it_has_no_neighbour() -> None:
    utterances = utterances_after([20, 20, 20], [15, 30])

    assert rest_around(utterances, Piece(0, 1, ())) == 15 * HOP
    assert rest_around(utterances, Piece(1, 2, ())) == 15 * HOP
    assert rest_around(utterances, Piece(1, 3, ())) == 15 * HOP
    assert rest_around(utterances, Piece(2, 3, ())) == 30 * HOP
    assert rest_around(utterances, Piece(0, 3, ())) == LONG * HOP


@pytest.mark.parametrize(
    ("levels", "fall"),
    [([-20, -20, -20], 0), ([-20, -45, -45], 0.5), ([-20, -30, -50], 0.4), ([-20, -70, -70], 1), ([-20, -90, -90], 1)],
)
def test_a_voice_falls_by_how_far_its_end_is_down_towards_the_room(levels, fall) -> None:
    assert fall_of(np.array(levels, float), ROOM) == pytest.approx(fall)
