"""Departures of courses made by hand: what is proposed, how it is weighed, and the line as it is written put back."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.makers import steps_saying
from tests.reading.test_stretches import heard_at
from trackread.core.performance import DepartureKind
from trackread.core.phones import PHONES
from trackread.reading.aligner import Aligner, Ways
from trackread.reading.course import Step, StepKind, course_of
from trackread.reading.departures import Said, as_written, rewritten, unmixed
from trackread.reading.evidence import Evidence, Piece, evidence_for, is_believed, probability, unlikeness, window
from trackread.reading.proposals import Proposal, can_be, proposals_of
from trackread.reading.recogniser import SYMBOLS
from trackread.reading.sounds import RATE
from trackread.reading.stretches import heard_phones

WORDS = ["L AE N T ER N", "T R AE M", "S T EH P", "HH AO T"]
WAYS = [(tuple(word.split()),) for word in WORDS]

symbols = st.lists(st.sampled_from(SYMBOLS), max_size=8)


def steps(said: str) -> tuple[Step, ...]:
    return steps_saying(said, WAYS)


def piece(course: tuple[Step, ...], words: int = 4, seconds: float = 8.0) -> Piece:
    """A piece in which the course is heard, with a signal that counts its own samples."""
    phones = [pair for step in course for pair in zip(step.times, step.phones, strict=True)]
    signal = np.arange(round(seconds * RATE), dtype=np.float64)
    return Piece(signal, heard_at(phones, seconds), WAYS[:words], narrow=False)


# What a course of the words 0 to 3 proposes: kind, steps `first` to `stop`, words `low` to `high`.
PROPOSED = [
    ("0 1 2 3", []),
    ("1 2 3", [("dropped", 0, 0, 0, 1)]),
    ("0 3", [("dropped", 1, 1, 1, 3)]),
    ("0 1 2", [("dropped", 3, 3, 3, 4)]),
    ("", [("dropped", 0, 0, 0, 4)]),
    ("? 0 1 2 3", [("added", 0, 1, 0, 0)]),
    ("0 1 ? 2 3", [("added", 2, 3, 2, 2)]),
    ("0 1 2 3 ?", [("added", 4, 5, 4, 4)]),
    ("0 1 1 2 3", [("repeated", 1, 2, 1, 1)]),
    ("0 1 2 0 1 2 3", [("repeated", 0, 3, 0, 0)]),
    ("0 1 2 3 3", [("repeated", 3, 4, 3, 3)]),
    ("0 1 1 1 2 3", [("repeated", 1, 3, 1, 1)]),
    ("0 ? 2 3", [("swapped", 1, 2, 1, 2)]),
    ("? 3", [("swapped", 0, 1, 0, 3)]),
    ("0 1 2 3-", [("swapped", 3, 4, 3, 4)]),
    ("?", [("swapped", 0, 1, 0, 4)]),
    ("0 1- 1 2 3", [("restart", 1, 2, 1, 1)]),
    ("0 1 2- 1 2 3", [("restart", 1, 3, 1, 1)]),
    ("0 1- ? 1 2 3", [("restart", 1, 3, 1, 1)]),
    ("? 1 1 3", [("swapped", 0, 2, 0, 1), ("dropped", 3, 3, 2, 3)]),
]


@pytest.mark.parametrize(("said", "proposed"), PROPOSED)
def test_a_course_proposes_what_is_not_its_line_in_order(said: str, proposed: list[tuple]) -> None:
    expected = tuple(Proposal(DepartureKind(kind), *span) for kind, *span in proposed)

    assert proposals_of(steps(said), 4) == expected


def test_every_kind_is_proposed_somewhere_above() -> None:
    assert {kind for _, proposed in PROPOSED for kind, *_ in proposed} == set(DepartureKind)


courses = st.lists(st.sampled_from("0 1 2 3 1- 2- ?".split()), max_size=9).map(" ".join).map(steps)


@given(courses)
def test_proposals_and_the_words_kept_between_them_are_the_line_once_in_order(course: tuple[Step, ...]) -> None:
    proposals = proposals_of(course, 4)
    proposed = {k for one in proposals for k in range(one.first, one.stop)}
    kept = [(k, step) for k, step in enumerate(course) if k not in proposed]
    missing = [word for one in proposals for word in range(one.low, one.high)]

    assert all(a.stop <= b.first and a.high <= b.low for a, b in pairwise(proposals))
    assert all(step.kind is StepKind.WORD for _, step in kept)
    assert [step.word for _, step in kept] == sorted({0, 1, 2, 3} - set(missing))
    assert sorted(missing) == missing
    assert all((one.first == one.stop) == (one.kind is DepartureKind.DROPPED) for one in proposals)


@given(symbols)
def test_a_string_of_phones_is_like_itself(phones: list[str]) -> None:
    assert unlikeness(phones, phones) == 0


@given(symbols, symbols)
def test_unlikeness_is_a_share_and_the_same_both_ways(heard: list[str], written: list[str]) -> None:
    found = unlikeness(heard, written)

    assert 0 <= found <= 1
    assert found == unlikeness(written, heard)
    assert (found == 0) == (heard == written or not heard or not written)


@given(st.data(), st.integers(1, 6), st.integers(1, 6))
def test_phones_that_are_all_of_other_kinds_are_wholly_unlike(data: st.DataObject, first: int, second: int) -> None:
    kinds = data.draw(st.permutations(sorted({kind for kind, _, _ in PHONES.values()})))
    some, others = ([s for s in SYMBOLS if PHONES[s][0] in group] for group in (kinds[:2], kinds[2:]))
    heard = data.draw(st.lists(st.sampled_from(some), min_size=first, max_size=first))
    written = data.draw(st.lists(st.sampled_from(others), min_size=second, max_size=second))

    assert unlikeness(heard, written) == 1


def test_a_phone_of_the_same_kind_is_less_unlike_than_one_of_another() -> None:
    step = ["S", "T", "EH", "P"]

    assert 0 < unlikeness(["S", "T", "EH", "T"], step) < unlikeness(["S", "T", "EH", "M"], step) == 0.25
    assert unlikeness(["S", "T", "EH"], step) == 0.25


shares = st.floats(0, 1)
nats = st.floats(-200, 200)


@given(st.sampled_from(DepartureKind), nats, nats, shares)
def test_a_probability_is_one_whatever_the_evidence(
    kind: DepartureKind, recogniser: float, aligner: float, unlike: float
) -> None:
    assert 0 < probability(kind, Evidence(recogniser, aligner, unlike)) < 1


@given(st.sampled_from(DepartureKind), st.floats(-15, 15), st.floats(-70, 70), st.floats(0, 0.9))
def test_each_opinion_for_a_departure_makes_it_likelier(
    kind: DepartureKind, recogniser: float, aligner: float, unlike: float
) -> None:
    before = probability(kind, Evidence(recogniser, aligner, unlike))

    assert probability(kind, Evidence(recogniser + 5, aligner, unlike)) > before
    assert probability(kind, Evidence(recogniser, aligner + 5, unlike)) > before
    assert probability(kind, Evidence(recogniser, aligner, unlike + 0.1)) > before


class Opinion(Aligner):
    """An aligner that finds given fits for the words with and without a departure, in this order."""

    def __init__(self, *fits: float | None) -> None:
        self.fits = list(fits)

    def fit(self, signal: np.ndarray, words: list[Ways]) -> float | None:  # noqa: ARG002
        return self.fits.pop(0)


def evidence(said: str, aligner: Aligner) -> Evidence:
    """The evidence for the only proposal of a course, heard as it is."""
    course = steps(said)
    heard = piece(course)
    (one,) = proposals_of(course, 4)
    return evidence_for(one, course, heard, aligner)


@pytest.mark.parametrize("said", ["0 1 3", "0 1 ? 2 3", "0 1 1 2 3", "0 ? 2 3", "0 1- 1 2 3"])
def test_the_recogniser_is_for_what_is_heard(said: str) -> None:
    assert evidence(said, Opinion(0, 0)).recogniser > 10


@pytest.mark.parametrize(("said", "unlike"), [("0 1 3", False), ("0 1 1 2 3", False), ("0 ? 2 3", True)])
def test_only_what_stands_for_something_else_is_unlike_it(said: str, unlike: bool) -> None:
    assert (evidence(said, Opinion(0, 0)).unlike > 0) == unlike


def test_the_recogniser_is_against_what_is_not_heard() -> None:
    claimed = steps("0 1 1 2 3")
    again = Proposal(DepartureKind.REPEATED, 1, 2, 1, 1)

    assert evidence_for(again, claimed, piece(steps("0 2 3")), Opinion(0, 0)).recogniser < -10


def test_the_aligner_is_for_the_words_that_it_finds_fit_better() -> None:
    better, worse, only, none = (
        evidence("0 1 1 2 3", Opinion(*fits)).aligner
        for fits in ((-100.0, -140.0), (-140.0, -100.0), (-100.0, None), (None, -100.0))
    )

    assert (better, worse) == (40, -40)
    assert only > 0 > none


@given(nats, nats, shares)
def test_a_likelier_departure_is_believed_sooner_and_one_through_a_narrow_line_later(
    recogniser: float, aligner: float, chance: float
) -> None:
    evidence = Evidence(recogniser, aligner, 0.5)
    wide, narrow = (is_believed(evidence, chance, doubtful=doubtful) for doubtful in (False, True))

    assert wide >= narrow
    assert is_believed(evidence, 1.0, doubtful=False) >= wide
    assert not is_believed(evidence, 0.0, doubtful=False)


def phones_of(some: tuple[Step, ...]) -> list[str]:
    return [phone for step in some for phone in step.phones]


def whole_words(some: tuple[Step, ...]) -> list[int | None]:
    return [step.word for step in some if step.kind is StepKind.WORD]


SEVERAL = "0 1- 1 ? 2 2"


@given(courses, st.sampled_from([8.0, 0.02]))
@settings(max_examples=40)
def test_as_written_every_word_of_the_line_is_said_once_in_order(course: tuple[Step, ...], seconds: float) -> None:
    part = piece(course)
    if seconds < 1:  # too short for its words
        part = Piece(part.signal[: round(seconds * RATE)], part.heard.part(0, 2), part.ways, narrow=False)
    written = as_written(Said(course, proposals_of(course, 4)), part)

    assert [(step.kind, step.word) for step in written.steps] == [(StepKind.WORD, k) for k in range(4)]
    assert all(len(step.phones) == len(step.times) > 0 for step in written.steps)
    assert not written.departures


@given(courses, st.randoms())
@settings(max_examples=40)
def test_what_is_not_believed_is_the_lines_words_and_what_is_believed_stays(course: tuple[Step, ...], chance) -> None:
    proposals = proposals_of(course, 4)
    believed = [one for one in proposals if chance.random() < 0.5]
    said = rewritten(course, proposals, believed, piece(course))

    assert [one.kind for one in said.departures] == [one.kind for one in believed]
    for now, then in zip(said.departures, believed, strict=True):
        stays, was = said.steps[now.first : now.stop], course[then.first : then.stop]
        assert phones_of(stays) == phones_of(was)
        assert whole_words(stays) == whole_words(was)
        assert (now.low, now.high) == (then.low, then.high)
    assert not as_written(said, piece(course)).departures


def test_the_pieces_of_another_word_are_one_word() -> None:
    course = steps("0 1- ? 3")
    (swapped,) = proposals = proposals_of(course, 4)

    found = rewritten(course, proposals, proposals, piece(course)).steps

    assert swapped.kind is DepartureKind.SWAPPED
    assert [(step.kind, step.word) for step in found] == [
        (StepKind.WORD, 0),
        (StepKind.OTHER, None),
        (StepKind.WORD, 3),
    ]
    assert found[1].times == course[1].times + course[2].times


def test_where_all_is_believed_the_steps_stay_as_they_were_heard() -> None:
    course = steps(SEVERAL)
    proposals = proposals_of(course, 3)

    assert rewritten(course, proposals, proposals, piece(course, 3)) == Said(course, proposals)


def test_a_word_put_back_gets_times_between_those_of_its_neighbours() -> None:
    course = steps("0 1 2 3")
    without = (course[0], course[1], course[3])
    (dropped,) = proposals_of(without, 4)

    said = rewritten(without, [dropped], [], piece(course))

    assert np.allclose([step.times[0] for step in said.steps], [step.times[0] for step in course], atol=0.011)


@pytest.mark.parametrize(("low", "high"), [(0, 6), (0, 2), (1, 3), (2, 5), (3, 6), (5, 6)])
def test_a_window_holds_the_phones_of_its_steps_and_no_others(low: int, high: int) -> None:
    course = steps(SEVERAL)
    part, signal = window(course, low, high, piece(course, 3))
    times = np.array([time for step in course[low:high] for time in step.times])
    outside = np.array([time for step in (*course[:low], *course[high:]) for time in step.times])

    assert [SYMBOLS[k] for k in heard_phones(part)[0]] == [phone for step in course[low:high] for phone in step.phones]
    assert signal[0] <= times.min() * RATE <= times.max() * RATE <= signal[-1]
    assert not any(signal[0] <= time * RATE <= signal[-1] for time in outside)


def test_the_window_of_all_steps_is_the_whole_piece() -> None:
    course = steps(SEVERAL)
    whole = piece(course, 3)
    part, signal = window(course, 0, len(course), whole)

    assert len(part.blank) == len(whole.heard.blank)
    assert len(signal) == len(whole.signal)


@pytest.mark.parametrize("said", ["0 1 2 3", "0 2 3", "0 1 1 2 3", "0 1 ? 2 3"])
def test_a_course_that_is_heard_proposes_what_was_said(said: str) -> None:
    course = steps(said)

    assert proposals_of(course_of(piece(course).heard, WAYS), 4) == proposals_of(course, 4)


def other(*phones: str) -> Step:
    return Step(StepKind.OTHER, None, phones, tuple(0.1 * k for k in range(len(phones))))


@pytest.mark.parametrize(
    ("heard", "kinds"),
    [
        ("T R AA M G OW L", [StepKind.WORD, StepKind.OTHER]),  # `tram` and something more
        ("G OW L T R AE N", [StepKind.OTHER, StepKind.WORD]),
        ("T R AA N", [StepKind.OTHER]),  # too little is left to be an addition
        ("B IY K AH S T", [StepKind.OTHER]),  # another word altogether
    ],
)
def test_a_word_with_something_added_is_told_apart_from_another_word(heard: str, kinds: list[StepKind]) -> None:
    said = (*steps("0"), other(*heard.split()), *steps("2 3"))
    found = unmixed(said, WAYS)

    assert [step.kind for step in found[1:-2]] == kinds
    assert [phone for step in found[1:-2] for phone in step.phones] == heard.split()
    assert (found[0], found[-2:]) == (said[0], said[-2:])


@pytest.mark.parametrize(("rest", "possible"), [(0.1, False), (0.5, True)])
def test_a_voice_that_breaks_a_word_off_rests_before_it_goes_on(rest: float, possible: bool) -> None:
    before, part, *after = steps("0 1- 2 3")
    later = [
        replace(step, times=tuple(part.times[-1] + rest + time - after[0].times[0] for time in step.times))
        for step in after
    ]
    course = (before, part, *later)
    (one,) = proposals_of(course, 4)

    assert can_be(one, course) is possible


def test_a_word_may_break_off_at_the_end_and_what_is_not_broken_off_needs_no_rest() -> None:
    for said in ("0 1 2 3-", "0 1- 1 2 3", "0 2 3", "0 ? 1 2 3", "0 1 1 2 3"):
        course = steps(said)

        assert all(can_be(one, course) for one in proposals_of(course, 4))


def test_departures_that_only_a_word_of_one_phone_parts_are_weighed_as_one() -> None:
    short = [*WAYS[:1], (("AY",),), *WAYS[1:]]
    course = steps_saying("? 1 ? 2 3 4", short)
    long = steps_saying("? 2 ? 3 4", short)

    assert proposals_of(course, 5) == (Proposal(DepartureKind.SWAPPED, 0, 3, 0, 2),)
    assert [one.kind for one in proposals_of(long, 5)] == [DepartureKind.SWAPPED, DepartureKind.ADDED]
