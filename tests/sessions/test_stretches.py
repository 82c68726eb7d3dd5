"""Spots and verdicts as stretches of a recording, with the lines that each may be."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sessions.makers import BRIDGE, LANTERN, STEP, TICKET, a_candidate
from trackread.core.session import StretchKind, Wholeness
from trackread.sessions.deciding import Verdict
from trackread.sessions.finding import Spot
from trackread.sessions.stretches import GUESSES, MARGIN, Part, stretches_of

PART = Part(48_000, 48_000 * 61, 48_000)
HOP = 960  # samples of a row at 48 kHz
ALONE = {f"L010{number}": (f"L010{number}",) for number in range(1, 6)}
STEP_AGAIN = {**ALONE, "L0101": ("L0101", "L0107", "L0112", "L0130")}

rows = st.lists(st.integers(1, 200), min_size=2, max_size=24).map(
    lambda lengths: [sum(lengths[: k + 1]) for k in range(len(lengths) // 2 * 2)]
)


def a_spot(start=100, stop=200, *candidates, heard=("S", "T", "EH", "P")):
    return Spot(start, stop, candidates or (a_candidate(),), None, heard, slate=-5.0, rest=1.0, fall=0.9)


def a_verdict(kind=StretchKind.TAKE, likely=0.9, wholeness=Wholeness.WHOLE):
    return Verdict(kind, likely, 0.9, wholeness)


def stretches(*spots, verdicts=None, same=ALONE, part=PART):
    return tuple(stretches_of(spots, verdicts or [a_verdict()] * len(spots), same, part))


@given(rows, st.sampled_from([8000, 44_100, 48_000, 96_000]))
def test_stretches_hold_what_is_heard_and_never_overlap(edges, rate):
    part = Part(7 * rate, 7 * rate + edges[-1] * rate // 50, rate)
    spots = [a_spot(start, stop) for start, stop in zip(edges[::2], edges[1::2], strict=True)]
    found = stretches(*spots, part=part)

    assert all(one.stop <= other.start for one, other in pairwise(found))
    for spot, stretch in zip(spots, found, strict=True):
        assert part.start <= stretch.start <= part.sample(spot.start) < part.sample(spot.stop) <= stretch.stop
        assert stretch.stop <= part.stop
        assert part.sample(spot.start) - stretch.start <= MARGIN * rate // 50 + 1


def test_a_stretch_has_room_around_it_where_there_is_some():
    (found,) = stretches(a_spot(100, 200))

    assert (found.start, found.stop) == (48_000 + (100 - MARGIN) * HOP, 48_000 + (200 + MARGIN) * HOP)


def test_two_that_are_close_share_the_rest_between_them():
    one, other = stretches(a_spot(100, 200), a_spot(211, 300))

    assert one.stop == other.start == 48_000 + 205 * HOP


def test_the_room_ends_with_the_part():
    one, other = stretches(a_spot(3, 40), a_spot(2990, 3000))

    assert (one.start, other.stop) == (PART.start, PART.stop)


# 20 ms are 882 samples at 44.1 kHz and 960 at 48 kHz; a row begins with the last sample that is no later.
@pytest.mark.parametrize(
    ("rate", "row", "sample"),
    [(44_100, 1, 882), (44_100, 85, 74_970), (48_000, 85, 81_600), (11_025, 1, 220), (11_025, 2, 441)],
)
def test_rows_become_samples_of_the_recording(rate, row, sample):
    assert Part(1000, 10_000_000, rate).sample(row) == 1000 + sample


def test_a_take_is_of_its_best_line_as_likely_and_as_whole_as_the_verdict_has_it():
    spot = a_spot(100, 200, a_candidate(), a_candidate(TICKET, "L0102", whole=0.0, broken=2.0))
    (found,) = stretches(spot, verdicts=[a_verdict(likely=0.7, wholeness=Wholeness.CUT_OFF)])

    assert (found.kind, found.guesses[0].line, found.guesses[0].likely) == (StretchKind.TAKE, "L0101", 0.7)
    assert [guess.wholeness for guess in found.guesses] == [Wholeness.CUT_OFF, spot.candidates[1].wholeness]


def test_what_is_heard_is_told_in_plain_letters():
    assert stretches(a_spot())[0].heard == "s t eh p"


@pytest.mark.parametrize("kind", [StretchKind.SLATE, StretchKind.CHATTER])
def test_what_is_no_line_has_no_guesses(kind):
    (found,) = stretches(a_spot(), verdicts=[a_verdict(kind)])

    assert (found.kind, found.guesses) == (kind, ())


def test_what_is_like_no_line_has_no_guesses():
    spot = replace(a_spot(), candidates=())
    (found,) = stretches(spot, verdicts=[a_verdict(StretchKind.UNSURE)])

    assert (found.kind, found.guesses) == (StretchKind.UNSURE, ())


@given(
    st.floats(0, 1),
    st.lists(st.floats(-60, 8), max_size=4).map(lambda worths: sorted(worths, reverse=True)),
)
def test_the_next_lines_share_what_the_best_leaves_and_the_likelier_has_more(likely, worths):
    others = [
        a_candidate(said, f"L010{number}", whole=worth)
        for number, (worth, said) in enumerate(zip(worths, (TICKET, BRIDGE, LANTERN, STEP), strict=False), 2)
    ]
    (found,) = stretches(a_spot(100, 200, a_candidate(whole=60.0), *others), verdicts=[a_verdict(likely=likely)])
    shares = [guess.likely for guess in found.guesses]

    assert shares[0] == likely
    assert sum(shares) <= 1 + 1e-9
    assert len(shares) == min(GUESSES, 1 + len(others))
    order = [one.line.id for one in sorted(others, key=lambda one: -one.worth)]
    if others and order == [one.line.id for one in others]:
        assert shares[1:] == sorted(shares[1:], reverse=True)


def test_a_take_of_a_line_that_others_sound_like_is_for_a_person_who_sees_them_all():
    spot = a_spot(100, 200, a_candidate(), a_candidate(TICKET, "L0102"))
    (found,) = stretches(spot, same=STEP_AGAIN)

    assert found.kind is StretchKind.UNSURE
    assert {*STEP_AGAIN["L0101"]} <= {guess.line for guess in found.guesses}
    assert {guess.likely for guess in found.guesses if guess.line in STEP_AGAIN["L0101"]} == {0.9 / 4}


@pytest.mark.parametrize("kind", [StretchKind.UNSURE, StretchKind.CHATTER, StretchKind.SLATE])
def test_lines_that_sound_the_same_change_nothing_else(kind):
    (found,) = stretches(a_spot(), verdicts=[a_verdict(kind)], same=STEP_AGAIN)

    assert found.kind is kind
