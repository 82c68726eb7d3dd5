"""What cannot be a reading, or a part of one, is refused at birth."""

from dataclasses import replace

import pytest

from tests.makers import a_reading
from trackread.core.performance import Departure, DepartureKind, Event, EventKind, Phrase
from trackread.core.reading import Phone, Word
from trackread.core.timebase import Sample

LAUGH = Event(EventKind.LAUGH, Sample(100), Sample(900), 0.9)


@pytest.mark.parametrize(("start", "stop"), [(-1, 5), (5, 5), (6, 5)])
def test_an_event_lasts_at_least_a_sample(start, stop):
    with pytest.raises(ValueError, match="lasts at least a sample"):
        Event(EventKind.LAUGH, Sample(start), Sample(stop), 0.5)


@pytest.mark.parametrize("share", [-0.1, 1.1])
def test_confidence_and_doubt_are_shares(share):
    with pytest.raises(ValueError, match="confidence lies from 0 to 1"):
        Event(EventKind.LAUGH, Sample(0), Sample(5), share)
    with pytest.raises(ValueError, match="confidence lies from 0 to 1"):
        Phone("AA", share)
    with pytest.raises(ValueError, match="doubt lies from 0 to 1"):
        Word("tram", 0, 1, doubt=share)


def test_a_phone_is_of_the_table():
    with pytest.raises(ValueError, match="'Q' is not a phone"):
        Phone("Q", 1.0)


@pytest.mark.parametrize(
    ("kind", "stop"), [(DepartureKind.DROPPED, 3), (DepartureKind.ADDED, 2), (DepartureKind.RESTART, 2)]
)
def test_only_words_left_out_depart_without_words(kind, stop):
    with pytest.raises(ValueError, match="cannot be"):
        Departure(kind, 2, stop, "gap")


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"cuts": (Sample(0),)}, "phones have"),
        ({"phrases": (Phrase(0, 9, None, None, 4.0),)}, "out of order, empty or missing"),
        ({"phrases": (Phrase(1, 2, None, None, 4.0), Phrase(0, 1, None, None, 4.0))}, "out of order"),
        ({"events": (LAUGH, replace(LAUGH, start=Sample(500), stop=Sample(950)))}, "out of order"),
        ({"events": (Event(EventKind.WHISPER, Sample(0), Sample(10**9), 0.9),)}, "lies within the sound"),
        ({"departures": (Departure(DepartureKind.ADDED, 7, 8, ""),)}, "of words of the reading"),
    ],
)
def test_a_reading_holds_together(changes, problem):
    with pytest.raises(ValueError, match=problem):
        replace(a_reading(), **changes)


def test_the_phones_of_a_reading_cover_its_sound_one_after_another():
    reading = a_reading()
    first, second, *rest = reading.cuts

    with pytest.raises(ValueError, match="cover the whole sound"):
        replace(reading, cuts=(Sample(1), second, *rest))
    with pytest.raises(ValueError, match="at least a sample"):
        replace(reading, cuts=(first, rest[0], *rest))


def test_a_whisper_may_lie_over_another_event():
    whisper = Event(EventKind.WHISPER, Sample(0), Sample(5000), 0.9)

    assert replace(a_reading(), events=(whisper, LAUGH)).events == (whisper, LAUGH)
