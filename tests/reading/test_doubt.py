"""Laws of the doubt about a word's start, whatever the weights are."""

import math
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.performance import Reason
from trackread.core.phones import PHONES
from trackread.reading.doubt import CALLED, REASONS_AT_MOST, USUAL, WEIGHTS, Signs, cues_of, doubt_of, reasons_of

# Each sign that speaks for doubt, from good to bad.
WORSE: dict[str, tuple[float | str, ...]] = {
    "kind": ("nasal", "stop"),
    "apart": (0.0, 0.005, 0.02, 0.5),
    "between": (USUAL["nasal"], 0.09, 0.12, 2.0),
    "heard": (0.05, 0.08, 0.12, 2.0),
    "above_room": (60.0, 25.0, 10.0, -5.0),
    "narrow": (False, True),
    "guessed": (False, True),
    "departs": (False, True),
}
SURE = Signs(**{one.name: WORSE.get(one.name, (False,))[0] for one in fields(Signs)})
ANY = {float: st.floats(-20, 120), bool: st.booleans(), str: st.sampled_from(sorted(USUAL))}
ranges = {"apart": st.floats(0, 5), "heard": st.floats(-5, 5), "between": st.floats(-5, 5)}
signs = st.builds(Signs, **{one.name: ranges.get(one.name, ANY[one.type]) for one in fields(Signs)})
# A stop is usually heard later than a nasal, so where it lies can be worse for a nasal: kinds apart.
laws = st.sampled_from(sorted(WORSE.keys() - {"kind"}))
nasals = signs.map(lambda one: replace(one, kind="nasal", after_pause=False))
shares = st.dictionaries(st.sampled_from(sorted(CALLED)), st.floats(-9, 9))


def called(reasons_wanted: dict[str, float]) -> dict[Reason, float]:
    """What each reason adds to a doubt."""
    return {
        reason: math.fsum(share for name, share in reasons_wanted.items() if CALLED[name] is reason)
        for reason in {CALLED[name] for name in reasons_wanted}
    }


def test_every_cue_is_moved_by_a_sign() -> None:
    worst = replace(SURE, **{name: values[-1] for name, values in WORSE.items()})
    good, bad = cues_of(SURE), cues_of(worst)

    assert {name for name in good if bad[name] > good[name]} == set(WEIGHTS)


@given(signs)
def test_a_doubt_is_a_probability(one: Signs) -> None:
    doubt, reasons = doubt_of(one)

    assert 0 <= doubt <= 1
    assert len(reasons) == len(set(reasons)) <= REASONS_AT_MOST


@given(nasals, laws)
def test_the_worse_a_sign_the_more_speaks_for_doubt(one: Signs, name: str) -> None:
    sums = [sum(cues_of(replace(one, **{name: value})).values()) for value in WORSE[name]]

    assert sums == sorted(sums)
    assert sums[0] < sums[-1]


@given(signs)
def test_cues_bear_the_names_of_the_weights_and_are_never_below_zero(one: Signs) -> None:
    cues = cues_of(one)

    assert set(cues) == set(WEIGHTS) == set(CALLED)
    assert all(0 <= cue <= 4 for cue in cues.values())


@given(nasals, laws)
def test_a_doubt_never_falls_as_a_sign_gets_worse(one: Signs, name: str) -> None:
    doubts = [doubt_of(replace(one, **{name: value}))[0] for value in WORSE[name]]

    assert doubts == sorted(doubts)


def test_a_word_without_a_bad_sign_is_least_in_doubt_and_has_no_reasons() -> None:
    doubt, reasons = doubt_of(SURE)
    worst = replace(SURE, **{name: values[-1] for name, values in WORSE.items()})

    assert reasons == ()
    assert doubt < doubt_of(worst)[0]


@pytest.mark.parametrize(("name", "reason"), [("guessed", Reason.GUESSED), ("departs", Reason.DEPARTS)])
def test_a_guessed_word_and_one_that_departs_say_so(name: str, reason: Reason) -> None:
    doubt, reasons = doubt_of(replace(SURE, **{name: True}))

    assert reasons == (reason,)
    assert doubt > doubt_of(SURE)[0]


def test_a_phone_heard_much_too_early_is_as_bad_as_one_heard_much_too_late() -> None:
    early, late = (cues_of(replace(SURE, heard=heard))["unheard"] for heard in (-1.0, 1.0))

    assert early == late > cues_of(SURE)["unheard"]


def test_where_a_pause_parts_two_words_nothing_between_them_speaks_for_doubt() -> None:
    far = replace(SURE, between=9.0, kind="stop")
    cues = cues_of(replace(far, after_pause=True))

    assert cues_of(far)["off"] > cues["off"] == 0
    assert cues_of(far)["stop"] > cues["stop"] == 0


def test_every_kind_of_phone_has_its_usual_place() -> None:
    assert set(USUAL) == {kind for kind, _, _ in PHONES.values()}


@given(shares)
def test_reasons_are_the_weightiest_first_and_each_adds_to_the_doubt(some: dict[str, float]) -> None:
    weights = called(some)
    reasons = reasons_of(some)
    told = [weights[reason] for reason in reasons]
    untold = [weight for reason, weight in weights.items() if reason not in reasons and weight > 1e-9]

    assert told == sorted(told, reverse=True)
    assert all(weight > 0 for weight in told)
    assert len(reasons) == min(REASONS_AT_MOST, len(reasons) + len(untold))
    assert max(untold, default=0.0) <= min(told, default=math.inf) + 1e-9


def test_cues_of_one_name_are_weighed_together() -> None:
    together = {name: 1.0 for name, reason in CALLED.items() if reason is Reason.TWO_READINGS}

    assert len(together) > 1
    assert reasons_of({**together, "room": 1.5})[0] is Reason.TWO_READINGS
    assert reasons_of({**together, "room": 0.5 + len(together)})[0] is Reason.NOISE


def test_every_reason_is_given_for_something_and_has_words() -> None:
    assert set(CALLED.values()) == set(Reason)
    assert all(reason.value.strip() and len(reason.value.split()) > 1 for reason in Reason)
