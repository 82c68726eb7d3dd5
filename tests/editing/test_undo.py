"""Every correction has an inverse, which is appended like any other and leaves no trace in the reading."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.editing.makers import corrections_of
from tests.makers import a_performance, readings
from trackread.core.correction import Join, MoveCut, PinCut, Right, Split, UnpinCut, Unsure, WordAt
from trackread.core.phones import PAUSE
from trackread.editing.applying import applied
from trackread.editing.places import cut_at, phone_at, word_at
from trackread.editing.replay import corrected
from trackread.editing.undo import inverse
from trackread.errors import CorrectionError


def taken(state, correction):
    """What becomes of a corrected reading, None if it cannot take the correction."""
    try:
        return applied(state, correction)
    except CorrectionError:
        return None


@given(readings(), st.data())
@settings(max_examples=300)
def test_a_correction_and_its_inverse_leave_everything_as_it_was(reading, data):
    past = []
    for _ in range(data.draw(st.integers(0, 5))):
        before = corrected(reading, past)
        one = data.draw(corrections_of(before))
        past += [one] if taken(before, one) else []
    before = corrected(reading, past)
    last = data.draw(corrections_of(before).filter(lambda one: taken(before, one)))

    undone = corrected(reading, (*past, last, *inverse(before, last)))

    assert undone == before


@given(readings(), st.data())
def test_what_was_undone_may_be_done_again(reading, data):
    before = corrected(reading, ())
    one = data.draw(corrections_of(before).filter(lambda one: taken(before, one)))

    again = corrected(reading, (one, *inverse(before, one), one))

    assert again == corrected(reading, (one,))


@given(st.data())
def test_many_corrections_are_undone_the_last_first(data):
    reading = a_performance()
    past, back = [], []
    for _ in range(8):
        before = corrected(reading, past)
        one = data.draw(corrections_of(before))
        if taken(before, one):
            back = [*inverse(before, one), *back]
            past.append(one)

    assert corrected(reading, (*past, *back)) == corrected(reading, ())


def test_the_drawn_corrections_are_of_every_kind_and_most_can_be_taken():
    reading = corrected(a_performance(), (PinCut(cut_at(a_performance(), 1)),))
    counts = Counter()

    @given(st.data())
    @settings(max_examples=300)
    def draw(data):
        one = data.draw(corrections_of(reading))
        counts[type(one), bool(taken(reading, one))] += 1

    draw()

    assert len({kind for kind, fits in counts if fits}) == 12
    assert sum(count for (_, fits), count in counts.items() if fits) > 100


def test_undoing_a_moved_cut_unpins_it_and_gives_the_word_its_doubt_again():
    reading = a_performance()
    move = MoveCut(cut_at(reading, 1), 1500)

    back = inverse(corrected(reading, ()), move)

    cut = replace(cut_at(reading, 1), sample=1500)
    first = reading.words[0]
    assert back == (
        MoveCut(cut, reading.cuts[1]),
        UnpinCut(cut_at(reading, 1), 0.9),
        Unsure(word_at(reading, 0), first.doubt, first.reasons),
    )


def test_undoing_the_move_of_a_pinned_cut_leaves_it_pinned():
    reading = a_performance()
    before = corrected(reading, (PinCut(cut_at(reading, 1)),))
    move = MoveCut(cut_at(before.reading, 1), 1500)

    assert [type(one) for one in inverse(before, move)] == [MoveCut]


def test_undoing_a_join_of_two_words_gives_the_second_its_sound_again():
    reading = a_performance()
    join = Join(phone_at(reading, 4), "DH")  # the last of Mind and the first of the

    back = inverse(corrected(reading, ()), join)

    assert isinstance(back[0], Split)
    assert (back[0].at, back[0].symbol, back[0].word, back[0].syllable) == (reading.cuts[5], "DH", "next", "next")


def test_what_cannot_be_applied_has_no_inverse():
    reading = a_performance()

    with pytest.raises(CorrectionError, match="'hat' is not near"):
        inverse(corrected(reading, ()), Right(WordAt(0, "hat")))
    with pytest.raises(CorrectionError, match="after the pause comes"):
        inverse(corrected(reading, ()), Join(phone_at(reading, 0), PAUSE))
