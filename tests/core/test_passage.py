"""A passage taken out of a reading and put in another place: what is round it stays, and nothing is lost on the way."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_performance, readings
from trackread.core.correction import Reread, WordAt
from trackread.core.passage import Passage, Place, passage_in, reach_of, with_passage
from trackread.core.performance import Departure, DepartureKind, Phrase
from trackread.core.plain_correction import Counting, correction_from_plain, correction_to_plain, words_of
from trackread.core.reading import Phone, Word
from trackread.core.timebase import Sample, parse_rate
from trackread.errors import CorrectionError

READING = a_performance()  # Mind the step, ticket!
COUNTING = Counting(READING.sound.sample_rate, parse_rate("24"), 1001)


def places(reading):
    count = len(reading.words)
    return st.integers(0, count).flatmap(
        lambda first: st.integers(first, count).map(lambda to: Place(reading, first, to))
    )


@given(readings(), st.data())
def test_what_is_put_back_where_it_was_changes_nothing(reading, data):
    place = data.draw(places(reading).filter(lambda one: one.phones[0] < one.phones[1]))

    assert with_passage(place, passage_in(place, reach_of(place))) == reading


def test_words_around_a_passage_stay_where_they_were():
    place = Place(READING, 1, 2)
    start, stop = place.span
    new = Passage(
        (Phone("AH", 0.5), Phone("SIL", 0.5), Phone("N", 0.5)),
        (start, Sample(start + 100), Sample(stop - 100), stop),
        (Word("a", 0, 1), Word("'n", 2, 3)),
    )
    found = with_passage(place, new)

    spans = {word.text: (found.start(word), found.stop(word)) for word in found.words}
    assert list(spans) == ["Mind", "a", "'n", "step,", "ticket!"]
    assert spans["a"] == (start, start + 100)
    for word in READING.words:
        if word.text != "the":
            assert spans[word.text] == (READING.start(word), READING.stop(word))
    assert len(found.phones) == len(READING.phones) + 1


def test_phrases_and_departures_after_it_count_on():
    reading = a_performance()
    place = Place(reading, 0, 1)
    start, stop = place.span
    half = Sample((start + stop) // 2)
    new = Passage(
        (Phone("AH", 0.5), Phone("N", 0.5)),
        (start, half, stop),
        (Word("a", 0, 1), Word("n", 1, 2)),
        phrases=(Phrase(0, 4, None, None, 2.0),),
        departures=(Departure(DepartureKind.ADDED, 0, 2, ""),),
        reach=reach_of(place),
    )
    found = with_passage(place, new)

    assert [(one.first, one.stop) for one in found.phrases] == [
        (0, 4),
        *((p.first + 1, p.stop + 1) for p in reading.phrases[1:]),
    ]
    assert found.departures[0] == Departure(DepartureKind.ADDED, 0, 2, "")


def test_a_passage_that_has_no_room_is_refused():
    place = Place(READING, 1, 2)
    start, stop = place.span
    new = Passage(
        (Phone("AH", 0.5), Phone("N", 0.5)), (start, Sample(stop + 10), Sample(stop + 20)), (Word("a", 0, 2),)
    )

    with pytest.raises(ValueError, match="no room"):
        with_passage(place, new)


@given(readings(), st.data())
def test_what_is_heard_again_is_kept_as_json_and_read_back(reading, data):
    place = data.draw(places(reading).filter(lambda one: one.phones[0] < one.phones[1]))
    again = Reread(None, WordAt(Sample(3), "né"), place.text, passage_in(place, reach_of(place)))

    assert correction_from_plain(json.loads(json.dumps(correction_to_plain(again, COUNTING)))) == again


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"phones": "none"}, "phones are a list"),
        ({"phones": [3]}, "phones are groups of values"),
        ({"cuts": [0, "1"]}, "cuts are whole numbers"),
        ({"reach": [-1, 0]}, "reaches over"),
        ({"cuts": [0, 1]}, "cannot have"),
        ({"words": [{"text": 3}]}, "missing"),
    ],
)
def test_what_is_no_passage_is_refused_in_words(change, why):
    place = Place(READING, 1, 2)
    again = Reread(None, None, "", passage_in(place, (0, 0)))
    plain = json.loads(json.dumps(correction_to_plain(again, COUNTING)))

    with pytest.raises(CorrectionError, match=why):
        correction_from_plain({**plain, "passage": {**plain["passage"], **change}})


def test_it_is_told_in_words():
    place = Place(READING, 1, 2)
    passage = passage_in(place, (0, 0))
    nothing = Passage((Phone("SIL", 1.0),), place.span)

    assert words_of(Reread(None, None, "a", passage), COUNTING) == "'the' is said on frames 1009 to 1012, not 'a'"
    assert words_of(Reread(None, None, "the", nothing), COUNTING).startswith("nothing is said on frames")
    assert words_of(Reread(None, None, "", passage), COUNTING).endswith("where no word was heard")
