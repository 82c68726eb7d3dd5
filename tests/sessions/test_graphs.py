"""How well a route fits, held against every way there is of saying it in a few rows."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sessions.makers import LANTERN, STEP, TICKET, nats, phones_of, routes, rows_of, words_of
from trackread.sessions.graphs import AGAIN, Graph, Route
from trackread.sessions.hearing import COLUMNS, NEVER

BEFORE = None  # the silence before a route


def openings(route, after):
    """The first phones of the words that may come after a word: all those up to the first that must be said."""
    for word in range(after + 1, len(route.words)):
        yield from ((word, way, 0, False) for way in range(len(route.words[word])))
        if word not in route.optional:
            return


def moves(route, state):
    """Where one may be a row after a state (word, way, place, whether in the silence after it), and what that costs."""
    yield state, 0.0
    if state is BEFORE:
        yield from ((opening, 0.0) for opening in openings(route, -1))
        return
    word, way, place, silent = state
    phones = route.words[word][way]
    if not silent:
        yield (word, way, place, True), 0.0
    if place + 1 == len(phones):
        yield from ((opening, 0.0) for opening in openings(route, word))
    elif silent or phones[place] != phones[place + 1]:
        yield (word, way, place + 1, False), 0.0
    if route.again:
        yield from ((opening, AGAIN) for opening in openings(route, -1))


def score(route, state, row):
    if state is BEFORE or state[3]:
        return float(row[0])
    return float(row[COLUMNS[route.words[state[0]][state[1]][state[2]]]])


def ways_through(route, against):
    """Nats and last state of every way of saying some of a route in these rows."""
    ways = [(score(route, state, against[0]), state) for state, _ in moves(route, BEFORE)]
    for row in against[1:]:
        ways = list(
            {(nats + score(route, to, row) - cost, to) for nats, state in ways for to, cost in moves(route, state)}
        )
    return [way for way in ways if way[1] is not BEFORE]


def check(fit, route, against):
    must = max(set(range(len(route.words))) - route.optional)
    whole, broken = [], set()
    for earned, (word, way, place, _) in ways_through(route, against):
        last = place + 1 == len(route.words[word][way])
        if last and word >= must:
            whole.append(earned)
        else:
            broken.add((earned, word + last, 0 if last else place + 1))
    best = max((way[0] for way in broken), default=NEVER)

    assert fit.whole == max(whole) if whole else fit.whole < NEVER / 2
    assert (fit.broken, fit.words, fit.phones) in broken if broken else fit.broken < NEVER / 2
    assert not broken or fit.broken == best


@st.composite
def some_routes(draw):
    words = draw(routes)
    optional = draw(st.sets(st.sampled_from(range(len(words))), max_size=len(words) - 1))
    return Route(words, frozenset(optional), again=draw(st.booleans()))


@given(st.lists(some_routes(), min_size=1, max_size=3), st.integers(1, 5).flatmap(nats))
@settings(max_examples=150, deadline=None)
def test_each_route_fits_as_the_best_of_all_ways_to_say_it(several, against) -> None:
    fits = Graph(several).fits(against)

    assert len(fits) == len(several)
    for fit, route in zip(fits, several, strict=True):
        check(fit, route, against)


def fit_of(said, *heard, **how):
    return Graph([Route(words_of(said), **how)]).fits(rows_of(*heard))[0]


@pytest.mark.parametrize("said", [STEP, LANTERN, TICKET])
def test_a_route_that_is_said_earns_what_a_new_phone_costs_any_phones(said) -> None:
    against = rows_of(said)
    fit = fit_of(said, said)

    assert fit.whole == pytest.approx(sum(against.max(1)), abs=1e-4)
    assert fit.whole == pytest.approx(0.7 * len(phones_of(said)), abs=1e-4)


@pytest.mark.parametrize(
    ("heard", "words", "phones"),
    [("M AY N D", 1, 0), ("M AY N D DH AH", 2, 0), ("M AY N D DH AH S T", 2, 2), ("M", 0, 1)],
)
def test_a_route_is_broken_off_where_it_is_no_longer_heard(heard, words, phones) -> None:
    fit = fit_of(STEP, heard)

    assert (fit.words, fit.phones) == (words, phones)
    assert fit.broken > 0 > fit.whole


def test_a_word_may_be_said_in_any_of_its_ways_and_of_no_two_at_once() -> None:
    said = "T R AE M | T R EH M"

    assert fit_of(said, "T R AE M").whole == pytest.approx(fit_of(said, "T R EH M").whole)
    assert fit_of("T AH S | AH T", "T AH T").whole < 0


@pytest.mark.parametrize("heard", ["T EY K T UW", "T EY K T W EH N T IY T UW", "S IY N T EY K T UW"])
def test_words_that_may_be_left_out_are_said_or_left_out_at_no_cost(heard) -> None:
    said = "S IY N, T EY K, T UW | T W EH N T IY, T UW"
    fit = fit_of(said, heard, optional=frozenset({0, 3}))

    assert fit.whole == pytest.approx(0.7 * len(phones_of(heard)), abs=1e-4)


@pytest.mark.parametrize("rest", [0, 7, 60])
def test_a_route_that_is_broken_off_and_begun_again_is_better_explained_by_that_wherever_it_stands(rest) -> None:
    words = [words_of(said) for said in (LANTERN, STEP, TICKET)]
    plain = Graph([Route(one) for one in words]).fits(rows_of("M AY N D DH AH", rest, STEP))
    again = Graph([Route(one, again=True) for one in words]).fits(rows_of("M AY N D DH AH", rest, STEP))

    assert again[1].whole > plain[1].whole + 20
    assert all(again[other].whole < again[1].whole - 20 for other in (0, 2))


@given(st.lists(routes, min_size=2, max_size=4), nats(5))
@settings(max_examples=25)
def test_a_route_fits_alike_alone_and_among_others(several, against) -> None:
    all_routes = [Route(words, again=bool(k % 2)) for k, words in enumerate(several)]

    assert Graph(all_routes).fits(against) == tuple(Graph([route]).fits(against)[0] for route in all_routes)


def test_a_route_of_one_phone_is_said_or_not_but_never_broken_off() -> None:
    fit = fit_of("AY", "AY")

    assert (fit.broken < NEVER / 2, fit.words, fit.phones) == (True, 0, 0)
    assert fit.whole > 0


def test_a_route_that_nothing_is_a_beginning_of_does_not_take_that_of_another() -> None:
    routes = [Route(words_of(STEP)), Route(words_of("AY, N OW"), frozenset({1}))]
    first, second = Graph(routes).fits(rows_of("M")[50:51])

    assert first.broken > NEVER / 2 > second.broken
    assert second.whole > NEVER / 2


def test_no_rows_are_none_of_a_route() -> None:
    (fit,) = Graph([Route(words_of(STEP))]).fits(np.zeros((0, 40)))

    assert fit.whole < NEVER / 2
    assert fit.broken < NEVER / 2


@pytest.mark.parametrize("words", [(), ((),), (((),),)])
def test_a_route_without_words_or_sounds_is_refused(words) -> None:
    with pytest.raises(ValueError, match="each of them phones"):
        Route(words)


@pytest.mark.parametrize("optional", [{0, 1, 2}, {3}, {-1}])
def test_a_route_of_which_all_may_be_left_out_or_what_it_has_not_is_refused(optional) -> None:
    with pytest.raises(ValueError, match="never all of it"):
        Route(words_of(STEP), frozenset(optional))
