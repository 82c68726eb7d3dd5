"""Which mark answers to which: the laws of the alignment, and cases worked out by hand."""

from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from trackread.core.phones import PHONES
from trackread.labels.marks import Mark
from trackread.labels.pairs import MISSING, aligned, letters, phone_cost, phone_pairs, vowel_pairs, word_pairs


def marks(text, *, shared=()):
    """Marks of a tenth of a second each; those whose places are `shared` were marked with the one before."""
    return [Mark(each, k * 100_000, (k + 1) * 100_000, k in shared) for k, each in enumerate(text.split())]


def texts(pairs):
    return [f"{a.text}:{b.text}" for a, b in pairs]


few_phones = st.lists(st.sampled_from(["P", "T", "CH", "M", "N", "AA", "IY", "L"]), max_size=7).map(
    lambda symbols: marks(" ".join(symbols))
)
phones = st.lists(st.sampled_from(sorted(PHONES)), max_size=30).map(lambda symbols: marks(" ".join(symbols)))
words = st.lists(st.sampled_from(["mind", "the", "step", "Mind!", "42", "7"]), max_size=12).map(
    lambda symbols: marks(" ".join(symbols))
)


@given(phones, phones)
def test_pairs_keep_the_order_of_both_sides(reference, estimated):
    pairs = phone_pairs(reference, estimated)

    assert [a for a, _ in pairs] == sorted({a for a, _ in pairs}, key=lambda mark: mark.start)
    assert [b for _, b in pairs] == sorted({b for _, b in pairs}, key=lambda mark: mark.start)
    assert {a for a, _ in pairs} <= set(reference)
    assert {b for _, b in pairs} <= set(estimated)


@given(phones)
def test_a_sequence_pairs_fully_with_itself(reference):
    assert phone_pairs(reference, reference) == [(mark, mark) for mark in reference]


@given(few_phones, few_phones)
@example(marks("P T M M M P"), marks("N N T P P M"))  # has two cheapest alignments, of two and of three pairs
def test_the_two_sides_may_be_exchanged(one, other):
    assert len(phone_pairs(one, other)) == len(phone_pairs(other, one))


@given(words, words)
def test_the_two_sides_of_words_may_be_exchanged(one, other):
    assert len(word_pairs(one, other)) == len(word_pairs(other, one))


def cost_of(pairs, reference, estimated):
    return sum(phone_cost(a, b) for a, b in pairs) + MISSING * (len(reference) + len(estimated) - 2 * len(pairs))


def every_alignment(reference, estimated):
    for count in range(min(len(reference), len(estimated)) + 1):
        for left in combinations(reference, count):
            for right in combinations(estimated, count):
                yield list(zip(left, right, strict=True))


short = few_phones.map(lambda each: each[:5])


@given(short, short)
def test_no_alignment_is_cheaper_and_of_the_cheapest_none_has_more_likely_pairs(reference, estimated):
    def rank(pairs):
        return cost_of(pairs, reference, estimated), -sum(phone_cost(a, b) < MISSING for a, b in pairs)

    assert rank(aligned(reference, estimated, phone_cost)) == min(map(rank, every_alignment(reference, estimated)))


@pytest.mark.parametrize(
    ("reference", "estimated", "paired"),
    [
        ("T R AE M", "T R AE M", "T:T R:R AE:AE M:M"),
        # A phone that one of them left out.
        ("T R AE M", "T AE M", "T:T AE:AE M:M"),
        ("T AE M", "T R AE M", "T:T AE:AE M:M"),
        ("AE N D DH AH", "AE N DH AH", "AE:AE N:N DH:DH AH:AH"),
        # Another phone of the same kind is the same sound by another name.
        ("W AA T ER", "W AO D ER", "W:W AA:AO T:D ER:ER"),
        ("CH IH L", "SH IH L", "IH:IH L:L"),
        ("T SH IH L", "CH IH L", "T:CH IH:IH L:L"),
        # One of another kind is not.
        ("M AY N D", "M AY L D", "M:M AY:AY D:D"),
        ("AH", "S", ""),
        ("", "T R AE M", ""),
        ("T R AE M", "", ""),
        # Of two ways to pair, the one that leaves fewer alone.
        ("T IH K AH T", "T IH K", "T:T IH:IH K:K"),
        ("B AH D AH M", "D AH M", "D:D AH:AH M:M"),
    ],
)
def test_phones_pair_as_a_person_would_pair_them(reference, estimated, paired):
    assert texts(phone_pairs(marks(reference), marks(estimated))) == paired.split()


def test_a_phone_marked_with_the_one_before_takes_its_partner_but_is_not_scored():
    reference, estimated = marks("IH P T DH", shared=[2]), marks("IH P T DH")

    assert texts(phone_pairs(reference, estimated)) == ["IH:IH", "P:P", "DH:DH"]
    assert texts(phone_pairs(estimated, reference)) == ["IH:IH", "P:P", "DH:DH"]


def test_vowels_are_the_pairs_of_vowels():
    assert texts(vowel_pairs(phone_pairs(marks("W AA T ER"), marks("W AO D ER")))) == ["AA:AO", "ER:ER"]


@pytest.mark.parametrize(
    ("reference", "estimated", "paired"),
    [
        ("MIND the step", "“Mind the step!”", "MIND:“Mind the:the step:step!”"),
        ("mind the step", "mind that step", "mind:mind step:step"),
        ("um mind the the step", "mind the step", "mind:mind the:the step:step"),
        ("we're don't", "we’re dont", "we're:we’re don't:dont"),
        ("route 42 or 7", "route 7", "route:route 7:7"),
        ("two acorns", "too acorns", "acorns:acorns"),
    ],
)
def test_words_pair_if_they_are_spelt_alike_but_for_case_and_punctuation(reference, estimated, paired):
    assert texts(word_pairs(marks(reference), marks(estimated))) == paired.split()


def test_figures_are_part_of_a_word():
    assert [letters(word) for word in ("Route-42!", "7", "né")] == ["route42", "7", "né"]
