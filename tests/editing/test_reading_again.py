"""What people corrected outlasts the engine: a take read again around their pins takes the same corrections again."""

from dataclasses import replace

import pytest

from trackread.core.correction import MoveCut, Note, PinCut, Respell, Right, SetStress
from trackread.core.timebase import Sample
from trackread.editing.places import cut_at, nucleus_of, word_at
from trackread.editing.replay import corrected, pins_of
from trackread.editing.undo import inverse
from trackread.reading.pins import left_out


@pytest.fixture(scope="module")
def first(reader, tram):
    return reader.read(*tram["14"])


@pytest.fixture(scope="module")
def past(first):
    """Corrections of four words: one moved 62 ms and 10 more, one right as it is, one respelt, one stressed."""
    hat = cut_at(first, first.words[3].first)
    moved = replace(hat, sample=Sample(hat.sample + 1500))
    return (
        MoveCut(hat, moved.sample),
        MoveCut(moved, Sample(moved.sample + 240)),
        PinCut(cut_at(first, first.words[2].first)),
        Right(word_at(first, 1)),
        SetStress(nucleus_of(first, 0), 0),
        Respell(word_at(first, 0), "Sit,"),
        Note(Sample(40), "she looks away"),
    )


def test_corrections_laid_over_a_take_read_again_are_all_there(reader, tram, first, past):
    found = corrected(first, past)

    again = reader.read(*tram["14"], pins=pins_of(found))
    after = corrected(again, past)

    assert left_out(again, pins_of(found)) == ()
    assert after.astray == ()
    assert (after.pins, after.notes) == (found.pins, found.notes)
    assert [word.text for word in after.reading.words] == [word.text for word in found.reading.words]
    assert after.reading.start(after.reading.words[3]) == first.start(first.words[3]) + 1740
    assert after.reading.syllables[0].stress == 0


def test_what_was_undone_is_read_again_as_if_it_had_never_been(reader, tram, first, past):
    before = corrected(first, past[2:])
    undone = corrected(first, (*past[2:], past[0], *inverse(before, past[0])))

    assert undone == before
    assert reader.read(*tram["14"], pins=pins_of(undone)) == reader.read(*tram["14"], pins=pins_of(before))
