"""Where all lines could end, held against every way there is of laying a line over a few rows."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sessions.makers import LANTERN, STEP, TICKET, a_session, nats, routes, some_lines, utterances_after
from trackread.sessions.chains import AT_START, EACH, WITHIN, Chains
from trackread.sessions.hearing import COLUMNS, NEVER, utterances_in
from trackread.sessions.lines import Spoken

NONE = NEVER / 2


def courses(phones, length):
    """Every way through phone 0, the silence after it, phone 1, and so on, in so many rows, as states from 0."""
    if length == 1:
        yield (0,)
        return
    for course in courses(phones, length - 1):
        state = course[-1]
        yield (*course, state)
        if state + 1 < 2 * len(phones):
            yield (*course, state + 1)
        if state % 2 == 0 and state + 2 < 2 * len(phones) and phones[state // 2] != phones[state // 2 + 1]:
            yield (*course, state + 2)


def laid(phones, against, utterances):
    """Every way to lie over utterances to the end of the last: nats, where begun, phones said, whether that is all."""
    rows = [(number, row) for number, one in enumerate(utterances) for row in range(one.first, one.last)]
    for begin, (number, row) in enumerate(rows):
        cost = 0.0 if row < utterances[number].first + AT_START else WITHIN
        for course in courses(phones, len(rows) - begin):
            crossed = [
                state
                for state, (one, _), (other, _) in zip(course, rows[begin:], rows[begin + 1 :], strict=False)
                if one != other
            ]
            if any(state // 2 == len(phones) - 1 for state in crossed):
                continue
            scores = [
                against[row, 0 if state % 2 else COLUMNS[phones[state // 2]]]
                for state, (_, row) in zip(course, rows[begin:], strict=True)
            ]
            said = course[-1] // 2 + 1
            yield sum(scores) - cost, number, said, said == len(phones)


def check(ending, line, spoken, ways):
    """That one line ends as the best of all ways does."""
    best = max((way[0] for way in ways if way[3]), default=NEVER)
    # Broken off where it earns most, each phone counted.
    earned = max((way[0] + EACH * way[2] for way in ways if not way[3]), default=NEVER)
    best_broken = max((way[0] for way in ways if not way[3] and way[0] + EACH * way[2] >= earned - 1e-4), default=NEVER)

    assert ending.whole[line] == best if best > NONE else ending.whole[line] < NONE
    if best_broken > NONE:
        assert ending.broken[line] + EACH * ending.said[line] == pytest.approx(earned, abs=1e-3)
    else:
        assert ending.broken[line] < NONE
    if best > NONE:
        assert (best, ending.whole_from[line], len(spoken.phones), True) in ways
    if best_broken > NONE:
        assert (ending.broken[line], ending.broken_from[line], ending.said[line], False) in ways


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_each_line_ends_as_the_best_of_all_ways_to_say_it(data) -> None:
    lengths = data.draw(st.lists(st.integers(1, 5), min_size=1, max_size=3))
    utterances = utterances_after(lengths, [1] * (len(lengths) - 1))
    against = data.draw(nats(utterances[-1].stop))
    lines = [
        Spoken(f"L{k:04}", words[:2]) for k, words in enumerate(data.draw(st.lists(routes, min_size=1, max_size=3)))
    ]

    for number, ending in enumerate(Chains(lines).endings(against, utterances)):
        for place, line in enumerate(lines):
            check(ending, place, line, set(laid(line.phones, against, utterances[: number + 1])))


@given(nats(12), st.sampled_from(["T", "T AH", "T T"]))
@settings(max_examples=15, deadline=None)
def test_a_line_that_begins_within_an_utterance_pays_for_it(against, said) -> None:
    (line,), utterances = some_lines(said), utterances_after([12], [])
    (ending,) = Chains([line]).endings(against, utterances)

    check(ending, 0, line, set(laid(line.phones, against, utterances)))


def endings_of(lines, *parts):
    hearing = a_session(*parts)
    return list(Chains(lines).endings(hearing.against_any(), utterances_in(hearing)))


def test_the_line_that_is_said_ends_whole_where_it_ends_and_all_others_are_far_from_it() -> None:
    lines = some_lines(STEP, LANTERN, TICKET)

    for number, ending in enumerate(endings_of(lines, STEP, 40, LANTERN, 40, TICKET)):
        assert ending.whole.argmax() == number
        assert ending.whole[number] > 0 > ending.whole[number] - 20 > np.delete(ending.whole, number).max()
        assert ending.whole_from[number] == number


def test_a_line_with_a_rest_in_it_began_before_the_rest() -> None:
    first, second = endings_of(some_lines(STEP), "M AY N D DH AH", 40, "S T EH P")

    assert (first.said[0], first.broken_from[0]) == (6, 0)
    assert first.broken[0] > 0 > first.whole[0]
    assert (second.whole_from[0], second.whole[0] > 0) == (0, True)


def test_a_line_that_is_said_again_begins_anew() -> None:
    first, second, third = endings_of(some_lines(STEP), STEP, 40, STEP, 40, STEP)

    assert [ending.whole_from[0] for ending in (first, second, third)] == [0, 1, 2]
    assert first.whole == pytest.approx(second.whole)
    assert first.whole == pytest.approx(third.whole)


def test_a_line_begun_again_within_an_utterance_is_found_at_the_cost_of_beginning_there() -> None:
    (once,) = endings_of(some_lines(STEP), STEP)
    (again,) = endings_of(some_lines(STEP), "M AY N D", 7, STEP)

    assert again.whole[0] == pytest.approx(once.whole[0] - WITHIN)


def test_two_like_phones_in_a_row_want_a_silence_between_them() -> None:
    lines = some_lines("T EH N", "T EH N N")
    (once,), (twice,) = endings_of(lines, "T EH N"), endings_of(lines, "T EH N N")

    assert once.whole.argmax() == 0
    assert twice.whole.argmax() == 1


def test_a_line_of_one_phone_is_never_broken_off() -> None:
    (ending,) = endings_of(some_lines("AY"), "AY AY")

    assert ending.broken[0] < NONE
    assert ending.whole[0] > NONE


def test_no_utterances_no_lines_and_no_rows_are_no_trouble() -> None:
    against = a_session(STEP).against_any()
    (none,) = Chains([]).endings(against, utterances_after([20], []))
    (unheard,) = Chains(some_lines(STEP)).endings(against, utterances_after([0], []))

    assert list(Chains(some_lines(STEP)).endings(against, [])) == []
    assert none.whole.shape == none.broken.shape == none.said.shape == (0,)
    assert unheard.whole[0] < NONE
    assert unheard.broken[0] < NONE


def test_a_line_knows_where_it_began_after_more_utterances_than_16_bits_count() -> None:
    # Ten hours of an actor who speaks every second have more.
    count = 2**15 + 2
    lines, against = some_lines("T AH"), np.full((2, 40), -1, np.float32)
    *_, last = Chains(lines).endings(against, [utterances_after([2], [])[0]] * count)

    assert last.whole_from[0] == count - 1


@pytest.mark.parametrize("count", [1, 3000])
def test_a_line_ends_alike_among_few_lines_and_thousands(count) -> None:
    lines = [*some_lines(STEP), *some_lines(*[LANTERN, TICKET] * (count // 2))]
    (alone,), (among,) = endings_of(lines[:1], STEP), endings_of(lines, STEP)

    assert among.whole[0] == alone.whole[0]
    assert among.broken[0] == alone.broken[0]
    assert among.whole.argmax() == 0
