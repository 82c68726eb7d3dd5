"""Candidates come with how much of them is said, and two opinions say how much speaks for the best of them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sessions.makers import (
    LANTERN,
    STEP,
    STEP_MISS,
    TICKET,
    a_candidate,
    knowing,
    phones_of,
    rows_of,
    some_lines,
    spellings,
    words_of,
)
from trackread.core.session import Wholeness
from trackread.sessions.hearing import NEVER
from trackread.sessions.opinions import (
    CUT_OFF,
    NONE_LIKE_IT,
    SURELY_APART,
    UNHEARD,
    bounded,
    candidates_of,
    likelihood,
    opinion_on,
    ranked,
)

LINES = some_lines(STEP, LANTERN, TICKET, STEP_MISS)
ALIKE = some_lines(STEP, "M AY N D, DH AH, S T AA P")


def found_in(*parts, lines=LINES):
    return candidates_of(lines, rows_of(*parts))


def opinion_of(*parts, lines=LINES, second=None):
    heard = tuple(phone for part in parts if isinstance(part, str) for phone in phones_of(part))
    return opinion_on(found_in(*parts, lines=lines), ((heard,),), second or knowing(*parts))


@pytest.mark.parametrize("number", range(4))
def test_the_line_that_is_said_is_the_first_and_whole(number) -> None:
    best, *others = found_in([STEP, LANTERN, TICKET, STEP_MISS][number])

    assert best.line is LINES[number]
    assert best.wholeness is Wholeness.WHOLE
    assert all(one.worth < best.worth for one in others)


@pytest.mark.parametrize(
    ("heard", "beginning"),
    [("HH OW L D DH AH L AE N", "HH OW L D, DH AH, L AE N"), ("HH OW L D DH AH", "HH OW L D, DH AH")],
)
def test_a_line_that_is_cut_short_is_the_first_and_broken_where_it_ends(heard, beginning) -> None:
    best = found_in(heard)[0]

    assert best.line.id == "L0102"
    assert best.is_broken
    assert best.wholeness is Wholeness.CUT_OFF
    assert best.beginning == words_of(beginning)
    assert best.said == len(phones_of(heard))


@pytest.mark.parametrize("broken", ["HH OW L D DH", "HH OW L D DH AH L AE N T ER N", LANTERN])
@pytest.mark.parametrize("rest", [0, 7])
def test_a_line_that_is_said_again_after_a_short_rest_is_restarted(broken, rest) -> None:
    best = found_in(broken, rest, LANTERN)[0]

    assert (best.line.id, best.wholeness) == ("L0102", Wholeness.RESTARTED)


def test_lines_of_no_rows_and_no_lines_are_no_candidates() -> None:
    assert candidates_of([], rows_of(STEP)) == ()
    assert candidates_of(LINES, rows_of(STEP)[:0]) == ()


def test_a_word_that_is_cut_off_has_the_beginnings_of_all_its_ways_once_each() -> None:
    words = "T UW, AE D V ER T | AE D V AH R T | AH D V ER T"

    assert a_candidate(words, words=1, phones=3).beginning == words_of("T UW, AE D V | AH D V")
    assert a_candidate(words, words=1, phones=0).beginning == words_of("T UW")
    assert a_candidate(words, words=1, phones=3).said == 5


def test_a_whole_line_and_the_line_that_begins_with_it_are_told_apart_by_what_is_heard() -> None:
    assert found_in(STEP)[0].line.id == "L0101"
    assert found_in(STEP_MISS)[0].line.id == "L0104"
    assert {one.line.id for one in found_in(STEP)[:2]} == {"L0101", "L0104"}


@pytest.mark.parametrize("parts", [(STEP_MISS,), (LANTERN,), ("HH OW L D DH AH L AE N T",), (TICKET,)])
def test_both_opinions_are_for_a_line_that_is_clearly_said(parts) -> None:
    opinion = opinion_of(*parts)

    assert opinion.fitness == pytest.approx(0.7, abs=0.01)
    assert opinion.apart > 0
    assert opinion.sound == 0
    assert opinion.sound_apart > 0
    assert opinion.short == pytest.approx(1 / len(phones_of(parts[0])))


def test_whole_lines_are_complete_to_both_opinions_and_cut_off_ones_are_not() -> None:
    whole, cut_off = opinion_of(LANTERN), opinion_of("HH OW L D DH AH L AE N T")

    assert whole.complete > 0 > cut_off.complete
    assert whole.sound_complete > 0 > cut_off.sound_complete


def test_a_line_sounds_like_a_longer_one_that_is_cut_off_after_as_much_but_is_worth_more() -> None:
    opinion = opinion_of(STEP)

    assert opinion.sound_apart == 0
    assert opinion.apart == pytest.approx(CUT_OFF)


def test_lines_cut_off_before_they_differ_are_not_apart_at_all() -> None:
    opinion = opinion_of("M AY N D DH AH", lines=ALIKE)

    assert (opinion.apart, opinion.sound_apart) == (0, 0)


def test_the_second_opinion_may_be_against_the_first() -> None:
    opinion = opinion_of(STEP, lines=ALIKE, second=knowing("M AY N D DH AH S T AA P"))

    assert opinion.apart > 0 > opinion.sound_apart


def test_a_second_opinion_that_cannot_say_the_words_is_as_bad_as_can_be() -> None:
    opinion = opinion_of(STEP, lines=ALIKE, second=lambda words: None if words == words_of(STEP) else -10.0)

    assert opinion.sound_apart == -UNHEARD
    assert opinion.sound == pytest.approx(-UNHEARD / 10)


def test_a_second_opinion_that_can_say_nothing_speaks_for_no_line() -> None:
    assert opinion_of(STEP, lines=ALIKE, second=lambda _: None).sound_apart == 0


def test_the_second_opinion_puts_a_line_first_that_is_hardly_behind() -> None:
    first, close = a_candidate(STEP, whole=8.0), a_candidate(LANTERN, "L0102", whole=5.0)
    far = a_candidate(TICKET, "L0103", whole=8.0 - 2 * SURELY_APART, broken=8.0 - 2 * SURELY_APART)
    order = ranked((first, close, far), lambda words: 0.0 if words == words_of(LANTERN) else -400.0)

    assert order == (close, first, far)
    assert opinion_on(order, words_of("T UW"), lambda _: 0.0).apart == close.worth - first.worth


def test_the_second_opinion_moves_no_line_that_is_far_behind_and_none_where_it_can_say_nothing() -> None:
    first, far = a_candidate(STEP, whole=60.0, broken=55.0), a_candidate(LANTERN, "L0102", whole=0.0, broken=-5.0)
    close = a_candidate(TICKET, "L0103", whole=58.0)

    assert ranked((first, far), knowing(LANTERN)) == (first, far)
    assert ranked((first, close), lambda _: None) == (first, close)
    assert ranked((first,), knowing(STEP)) == (first,)


def test_where_there_is_no_next_line_there_is_nothing_like_it() -> None:
    opinion = opinion_of(STEP, lines=LINES[:1])

    assert (opinion.apart, opinion.sound_apart) == (NONE_LIKE_IT, UNHEARD)


def test_the_second_opinion_is_not_asked_about_lines_that_are_far_behind() -> None:
    asked = []

    def second(words):
        asked.append(words)
        return 0.0

    far = (a_candidate(STEP, whole=60.0, broken=55.0), a_candidate(LANTERN, "L0102", whole=0.0, broken=-5.0))
    opinion = opinion_on(far, words_of("T UW"), second)

    assert far[0].worth - far[1].worth > SURELY_APART
    assert words_of(LANTERN) not in asked
    assert asked
    assert opinion.sound_apart == UNHEARD


def test_a_line_of_one_phone_has_no_beginning_to_be_compared_with() -> None:
    opinion = opinion_of("AY", lines=some_lines("AY", STEP))

    assert opinion.sound_complete == UNHEARD
    assert opinion.short == 1


def test_nothing_can_be_likely_of_words_that_are_none() -> None:
    assert [likelihood(words, lambda _: 0.0) for words in ((), ((),), (((),),))] == [-math.inf] * 3
    assert likelihood(words_of(STEP), lambda _: None) == -math.inf


@given(st.floats())
def test_what_speaks_for_a_line_is_a_number_within_bounds(nats) -> None:
    found = bounded(nats)

    assert -UNHEARD <= found <= UNHEARD
    assert found == nats or not -UNHEARD <= nats <= UNHEARD


def test_a_line_fits_no_worse_if_it_may_be_begun_again() -> None:
    for one in found_in("M AY N D DH AH M AY N D T UW"):
        assert one.again.whole >= one.fit.whole > NEVER / 2
        assert spellings(one.line.words) == [list(one.line.phones)]
