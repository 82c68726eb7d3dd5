"""Utterances are gathered into pieces as the best of all ways to part them has it."""

from itertools import combinations, pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sessions.makers import LANTERN, STEP, STEP_MISS, TICKET, a_session, some_lines, utterances_after
from trackread.sessions.chains import Chains, Ending
from trackread.sessions.hearing import HOP, utterances_in
from trackread.sessions.parting import BROKEN, CANDIDATES, EACH, LONGEST_REST, POOREST, WHOLE, Piece, parted

LINES = some_lines("T AH", "S T EH P", "AY")
CHAINS = Chains(LINES)
TOO_LONG = int(LONGEST_REST / HOP) + 1
half_nats = st.lists(st.integers(-30, 10).map(lambda value: value / 2), min_size=len(LINES), max_size=len(LINES))


@st.composite
def some_endings(draw):
    """Utterances, and what might be found for each: any nats, begun in it or in one before."""
    count = draw(st.integers(0, 5))
    rests = draw(st.lists(st.sampled_from([10, TOO_LONG - 1, TOO_LONG]), min_size=max(0, count - 1), max_size=count))
    endings = []
    for number in range(count):
        begun = st.lists(st.integers(0, number), min_size=len(LINES), max_size=len(LINES)).map(np.array)
        said = np.array([draw(st.integers(1, count)) for count in CHAINS.counts.tolist()])
        whole, broken = np.array(draw(half_nats)), np.array(draw(half_nats))
        endings.append(Ending(whole, draw(begun), broken, draw(begun), said))
    return utterances_after([20] * count, rests[: max(0, count - 1)]) if count else [], endings


def takes(first, stop, utterances, endings):
    """What each line earns as a take of these utterances, for each way that is open to it."""
    rests = [(other.start - one.stop) * HOP for one, other in pairwise(utterances[first:stop])]
    if any(rest > LONGEST_REST for rest in rests):
        return {}
    ending, earned = endings[stop - 1], {}
    for line in range(len(LINES)):
        ways = []
        if ending.whole_from[line] == first:
            ways.append(ending.whole[line] + EACH * len(LINES[line].phones) - WHOLE)
        if ending.broken_from[line] == first:
            ways.append(ending.broken[line] + EACH * ending.said[line] - BROKEN)
        if ways:
            earned[line] = max(ways)
    return earned


def worth(first, stop, utterances, endings):
    """What a piece earns: as a take, or as none, which only a single utterance can be."""
    return max(
        [*takes(first, stop, utterances, endings).values(), *([0.0] if stop - first == 1 else [])], default=-np.inf
    )


@given(some_endings())
@settings(max_examples=60)
def test_the_pieces_earn_as_much_as_the_best_of_all_partings(case) -> None:
    utterances, endings = case
    count = len(utterances)
    found = parted(utterances, CHAINS, endings)
    partings = [
        list(pairwise([0, *cuts, count])) for some in range(count) for cuts in combinations(range(1, count), some)
    ]
    best = max((sum(worth(*piece, *case) for piece in parting) for parting in partings), default=0.0)
    edges = [0, *(piece.stop for piece in found)]

    assert [piece.first for piece in found] == edges[:-1]
    assert edges[-1] == count
    assert sum(worth(piece.first, piece.stop, *case) for piece in found) == best


@given(some_endings())
def test_a_pieces_candidates_are_its_lines_the_best_first_and_no_poor_ones(case) -> None:
    for piece in parted(case[0], CHAINS, case[1]):
        earned = takes(piece.first, piece.stop, *case)
        ranked = sorted((value for value in earned.values() if value > POOREST), reverse=True)

        assert [earned[line] for line in piece.candidates] == ranked[:CANDIDATES]


def pieces_of(lines, *parts):
    hearing = a_session(*parts)
    utterances, chains = utterances_in(hearing), Chains(lines)
    found = parted(utterances, chains, list(chains.endings(hearing.against_any(), utterances)))
    return [(piece.first, piece.stop, piece.candidates[:1]) for piece in found]


def test_takes_one_after_another_are_pieces_of_their_own_and_a_rest_within_one_is_none() -> None:
    lines = some_lines(STEP, LANTERN, TICKET)

    assert pieces_of(lines, STEP, 20, STEP, 20, LANTERN, 20, "Y UH R T IH K AH T", 60, "P L IY Z") == [
        (0, 1, (0,)),
        (1, 2, (0,)),
        (2, 3, (1,)),
        (3, 5, (2,)),
    ]


def test_a_rest_longer_than_any_within_a_take_parts_it() -> None:
    parts = ("M AY N D DH AH", TOO_LONG, "S T EH P M IH S P EH L")

    assert [piece[:2] for piece in pieces_of(some_lines(STEP_MISS), *parts)] == [(0, 1), (1, 2)]


def test_a_take_that_is_cut_off_and_said_again_in_the_next_utterance_is_two() -> None:
    assert pieces_of(some_lines(STEP_MISS), "M AY N D DH AH S T EH P", 30, STEP_MISS) == [(0, 1, (0,)), (1, 2, (0,))]


def test_talk_that_is_no_line_is_in_pieces_of_one_utterance() -> None:
    found = pieces_of(some_lines(STEP, LANTERN), "G UW V", 20, "W AW Z OY", 20, "SH UH F")

    assert [piece[:2] for piece in found] == [(0, 1), (1, 2), (2, 3)]


def test_nothing_said_is_in_no_pieces_and_without_lines_nothing_is_like_any() -> None:
    assert parted([], CHAINS, []) == ()
    assert pieces_of([], STEP, 20, STEP) == [(0, 1, ()), (1, 2, ())]


def test_an_hour_of_short_rests_is_parted_as_it_is_said() -> None:
    said = [part for _ in range(300) for part in (STEP, 20)]
    found = pieces_of(some_lines(STEP, LANTERN), *said)

    assert found == [(number, number + 1, (0,)) for number in range(300)]


def test_a_piece_is_made_of_its_utterances() -> None:
    (piece,) = parted(utterances_after([20], []), Chains([]), [Ending(*[np.zeros(0)] * 5)])

    assert piece == Piece(0, 1, ())
