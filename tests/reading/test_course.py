"""The course through a line follows what is said: words in order, missed, met again, broken off, and others."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reading.test_stretches import heard_at
from trackread.reading.course import StepKind, course_of, fit_of
from trackread.reading.recogniser import HOP, Posteriors

LANTERN, TRAM, STEP, HAT = WAYS = [
    (("L", "AE1", "N", "T", "ER0", "N"),),
    (("T", "R", "AE1", "M"), ("T", "R", "EH1", "M")),
    (("S", "T", "EH1", "P"),),
    (("HH", "AO1", "T"),),
]
SPOKEN = ["L AE N T ER N", "T R AE M", "S T EH P", "HH AO T"]
SPACING = 0.1  # seconds a phone
START = 0.51  # seconds of silence before the first: in the middle between two rows, were it 0.5

WORD, PART, OTHER = StepKind.WORD, StepKind.PART, StepKind.OTHER


def heard(said: str) -> Posteriors:
    """What is heard of a take that says these phones, a row each."""
    phones = said.split()
    times = [(START + SPACING * k, phone) for k, phone in enumerate(phones)]
    return heard_at(times, 2 * START + SPACING * len(phones))


def met(said: str, ways=WAYS, **how: bool) -> list[tuple[StepKind, int | None, str]]:
    return [(step.kind, step.word, " ".join(step.phones)) for step in course_of(heard(said), ways, **how)]


def words(*numbers: int) -> list[tuple[StepKind, int | None, str]]:
    """Steps that say these words of the line whole."""
    return [(WORD, number, SPOKEN[number]) for number in numbers]


def saying(*numbers: int) -> str:
    return " ".join(SPOKEN[number] for number in numbers)


def test_a_line_said_as_written_has_its_words_in_order() -> None:
    assert met(saying(0, 1, 2, 3)) == words(0, 1, 2, 3)


@given(st.lists(st.sampled_from(range(4)), min_size=1, max_size=6))
@settings(max_examples=25)
def test_any_line_said_as_written_has_its_words_in_order_and_nothing_else(line: list[int]) -> None:
    found = met(saying(*line), [WAYS[number] for number in line])

    assert found == [(WORD, place, SPOKEN[number]) for place, number in enumerate(line)]


@pytest.mark.parametrize("missing", range(4))
def test_a_word_that_is_missing_is_skipped(missing: int) -> None:
    rest = [number for number in range(4) if number != missing]

    assert met(saying(*rest)) == words(*rest)


@pytest.mark.parametrize("again", range(4))
def test_a_word_said_twice_is_met_twice(again: int) -> None:
    said = sorted([0, 1, 2, 3, again])

    assert met(saying(*said)) == words(*said)


def test_words_may_be_said_again_together() -> None:
    assert met(saying(0, 1, 0, 1, 2, 3)) == words(0, 1, 0, 1, 2, 3)


@pytest.mark.parametrize("place", range(5))
def test_phones_of_no_word_are_other_wherever_they_come(place: int) -> None:
    said = [*SPOKEN[:place], "G UW V", *SPOKEN[place:]]
    expected = words(0, 1, 2, 3)
    expected.insert(place, (OTHER, None, "G UW V"))

    assert met(" ".join(said)) == expected


def test_a_word_broken_off_and_begun_again_is_a_part_and_then_a_word() -> None:
    assert met(f"{SPOKEN[3]} L AE N T ER {saying(0, 1)}", [HAT, LANTERN, TRAM]) == [
        (WORD, 0, SPOKEN[3]),
        (PART, 1, "L AE N T ER"),
        (WORD, 1, SPOKEN[0]),
        (WORD, 2, SPOKEN[1]),
    ]


def test_a_step_has_the_phones_of_the_way_that_is_said() -> None:
    assert met("L AE N T ER N T R EH M S T EH P HH AO T")[1] == (WORD, 1, "T R EH M")


def test_neighbours_that_share_a_phone_are_told_apart_by_the_silence_between() -> None:
    assert met("HH AO T T R AE M", [HAT, TRAM]) == [(WORD, 0, "HH AO T"), (WORD, 1, "T R AE M")]


@pytest.mark.parametrize("said", [(0, 1, 2, 3), (0, 2, 3), (0, 1, 1, 2, 3), (3, 2)])
def test_a_strict_course_says_each_word_once_whatever_is_heard(said: tuple[int, ...]) -> None:
    found = course_of(heard(saying(*said)), WAYS, strict=True)

    assert [(step.kind, step.word) for step in found] == [(WORD, k) for k in range(4)]
    assert all(
        step.phones in [tuple(phone.rstrip("012") for phone in way) for way in WAYS[step.word]] for step in found
    )


def test_a_strict_course_of_too_few_rows_is_empty() -> None:
    assert course_of(heard(saying(0)).part(0, 8), WAYS, strict=True) == ()


def test_phones_are_met_when_they_are_heard() -> None:
    said = f"{saying(0, 1)} G UW V {saying(1, 3)}"
    found = course_of(heard(said), WAYS)
    times = [time for step in found for time in step.times]

    assert np.allclose(times, START + SPACING * np.arange(len(said.split())))
    assert [step.kind for step in found] == [WORD, WORD, OTHER, WORD, WORD]
    assert all(len(step.times) == len(step.phones) for step in found)


def test_phones_may_follow_one_another_without_silence() -> None:
    phones = saying(0, 1, 3).split()
    close = heard_at([(START + HOP * k, phone) for k, phone in enumerate(phones)], 2.0)

    assert [(step.word, " ".join(step.phones)) for step in course_of(close, WAYS)] == [
        (number, SPOKEN[number]) for number in (0, 1, 3)
    ]


def test_a_phone_that_sounds_for_many_rows_is_met_at_its_first() -> None:
    long = heard_at([(0.51, "HH"), *((0.61 + HOP * k, "AO") for k in range(10)), (0.91, "T")], 1.5)
    (step,) = course_of(long, [HAT])

    assert np.allclose(step.times, [0.51, 0.61, 0.91])


def test_a_take_without_rows_or_without_a_sound_has_no_course() -> None:
    assert course_of(heard_at([], 2.0).part(0, 0), WAYS) == ()
    assert course_of(heard_at([], 2.0), WAYS) == ()


def test_the_words_that_are_said_fit_better_than_any_others() -> None:
    said = heard(saying(0, 1, 2))
    right = fit_of(said, WAYS[:3])

    for others in (
        [],
        [LANTERN],
        [LANTERN, TRAM],
        [TRAM, LANTERN, STEP],
        [LANTERN, TRAM, HAT],
        WAYS,
        [*WAYS[:3], STEP],
    ):
        assert fit_of(said, others) < right


@given(st.permutations(range(4)).filter(lambda order: order != [0, 1, 2, 3]))
@settings(max_examples=15)
def test_words_in_another_order_fit_worse(order: list[int]) -> None:
    said = heard(saying(0, 1, 2, 3))

    assert fit_of(said, [WAYS[number] for number in order]) < fit_of(said, WAYS)


def test_silence_fits_no_words_best() -> None:
    silence = heard_at([], 2.0)

    assert fit_of(silence, []) == 0
    assert fit_of(silence, [HAT]) < 0
