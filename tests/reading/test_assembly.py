"""Laws of the parts of a reading, on phones placed anyhow: in order or not, in the sound or beside it."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading
from trackread.core.performance import MANNERS, EventKind
from trackread.core.phones import PAUSE, PHONES, VOWELS
from trackread.core.reading import Match, Reading, Source, Track
from trackread.core.sound import Sound
from trackread.core.timebase import Sample, sample_at_seconds
from trackread.reading.aligner import Mark
from trackread.reading.assembly import (
    SHORTEST_EVENT,
    SHORTEST_PAUSE,
    events_of,
    outside_words,
    syllables_of,
    timeline,
    words_of,
)
from trackread.reading.events import Found
from trackread.reading.placement import Placed

phones = st.sampled_from(sorted(PHONES)).flatmap(
    lambda phone: st.sampled_from([f"{phone}{digit}" for digit in "012"]) if phone in VOWELS else st.just(phone)
)
lines = st.lists(st.lists(phones, min_size=1, max_size=4), min_size=1, max_size=4)
shares = st.floats(0, 1)
rates = st.sampled_from([8000, 11025, 44100, 48000, 192000])


def laid(line, times):
    """The words of a line, lists of phones, placed at (start, stop) times, sure by turns of 0.2 and 0.8."""
    marks = [(phone, number, k == 0) for number, word in enumerate(line) for k, phone in enumerate(word)]
    return [
        Placed(Mark(phone, start, stop, number, opens), start, stop, (0.2, 0.8)[k % 2], 0.4)
        for k, ((phone, number, opens), (start, stop)) in enumerate(zip(marks, times, strict=True))
    ]


@st.composite
def placed_anyhow(draw):
    """Phones at any times, and a sound that has a sample for each of them."""
    line = draw(lines)
    count = sum(map(len, line))
    times = draw(st.lists(st.tuples(st.floats(-1, 9), st.floats(-1, 9)), min_size=count, max_size=count))
    return laid(line, times), a_sound(draw(st.integers(count, 90000)), draw(rates)), line


@st.composite
def placed_in_order(draw):
    """Phones of 10 ms and more, end to end or with pauses between that are long enough to be some."""
    line = draw(lines)
    reached, times = draw(st.sampled_from([0.0, 0.1])), []
    for _ in range(sum(map(len, line))):
        start = reached + draw(st.sampled_from([0.0, 0.0, 0.03, 0.4]))
        reached = start + draw(st.floats(0.01, 0.3))
        times.append((start, reached))
    rate = draw(rates)
    return laid(line, times), a_sound(sample_at_seconds(reached + draw(st.sampled_from([0.0, 0.3])), rate), rate), line


def a_sound(length, rate=16000):
    return Sound("ab" * 32, rate, Sample(length))


def symbols_between(found, first, stop):
    return [phone.symbol for phone in found.phones[first:stop] if phone.symbol != PAUSE]


def assembled(placed, sound, owner):
    """A Reading, which checks itself, of placed phones whose spoken words make the written words of `owner`."""
    found = timeline(placed, sound)
    return Reading(
        sound=sound,
        phones=found.phones,
        cuts=found.cuts,
        words=words_of(placed, found.places, owner, [(f"word {k}", Source.GUESS) for k in range(len(owner))]),
        syllables=syllables_of(placed, found.places),
        pitch=Track(160, ()),
        level=Track(160, ()),
        match=Match(1.0, says_line=True),
        engine="by hand",
    )


@given(placed_anyhow())
def test_phones_cover_the_whole_sound_and_each_has_a_sample(example):
    placed, sound, _ = example
    found = timeline(placed, sound)

    assert (found.cuts[0], found.cuts[-1]) == (0, sound.length)
    assert len(found.cuts) == len(found.phones) + 1
    assert all(a < b for a, b in pairwise(found.cuts))


@given(placed_anyhow())
def test_every_placed_phone_has_its_place_in_order_and_all_others_are_pauses(example):
    placed, sound, line = example
    found = timeline(placed, sound)

    assert all(a < b for a, b in pairwise(found.places))
    assert [found.phones[place].symbol for place in found.places] == [p.rstrip("012") for word in line for p in word]
    assert [found.phones[place].confidence for place in found.places] == [one.confidence for one in placed]
    assert {phone.symbol for k, phone in enumerate(found.phones) if k not in found.places} <= {PAUSE}


@given(placed_anyhow())
def test_pauses_stand_alone_and_are_long_enough(example):
    placed, sound, _ = example
    found = timeline(placed, sound)
    pauses = [k for k, phone in enumerate(found.phones) if phone.symbol == PAUSE]
    lengths = [found.cuts[k + 1] - found.cuts[k] for k in pauses]

    assert all(b - a > 1 for a, b in pairwise(pauses))
    assert all(length >= sample_at_seconds(SHORTEST_PAUSE, sound.sample_rate) for length in lengths)


@given(placed_in_order())
def test_phones_in_order_start_and_stop_on_the_nearest_samples(example):
    placed, sound, _ = example
    found = timeline(placed, sound)
    at = [(found.cuts[place], found.cuts[place + 1]) for place in found.places]

    assert at == [tuple(sample_at_seconds(time, sound.sample_rate) for time in (one.start, one.stop)) for one in placed]


@given(placed_in_order())
def test_a_pause_is_as_sure_as_the_stop_of_the_phone_before_it(example):
    placed, sound, _ = example
    found = timeline(placed, sound)
    pauses = {k: phone.confidence for k, phone in enumerate(found.phones) if phone.symbol == PAUSE}

    assert pauses.pop(0, 1.0) == 1.0
    assert set(pauses.values()) <= {0.4}


@given(placed_anyhow(), st.data())
def test_written_words_hold_the_phones_of_their_spoken_ones(example, data):
    placed, sound, line = example
    starts = [0, *(data.draw(st.integers(0, 1)) for _ in line[1:])]
    owner = [sum(starts[: k + 1]) for k in range(len(line))]
    reading = assembled(placed, sound, owner)
    wanted = [[p.rstrip("012") for k, word in enumerate(line) if owner[k] == number for p in word] for number in owner]

    assert len(reading.words) == len(set(owner))
    assert [(word.text, word.source) for word in reading.words] == [
        (f"word {k}", Source.GUESS) for k in sorted({*owner})
    ]
    for number, word in enumerate(reading.words):
        assert symbols_between(reading, word.first, word.stop) == wanted[owner.index(number)]
        assert PAUSE not in (reading.phones[word.first].symbol, reading.phones[word.stop - 1].symbol)


@given(placed_anyhow())
def test_syllables_share_out_the_phones_of_every_spoken_word(example):
    placed, sound, line = example
    reading = assembled(placed, sound, list(range(len(line))))
    for word, said in zip(reading.words, line, strict=True):
        parts = [part for part in reading.syllables if word.first <= part.first and part.stop <= word.stop]
        together = [symbol for part in parts for symbol in symbols_between(reading, part.first, part.stop)]

        assert together == [phone.rstrip("012") for phone in said]
        assert len(parts) == max(1, sum(symbol in VOWELS for symbol in together))
        assert all(part.first <= part.nucleus < part.stop for part in parts)
        assert [part.lexical for part in parts] == ([int(p[-1]) for p in said if p[-1].isdigit()] or [0])


def test_a_gap_too_short_for_a_pause_goes_to_the_phone_that_follows():
    placed = laid([["T", "AH1"], ["M"]], [(0.015, 0.1), (0.1, 0.2), (0.215, 0.3)])
    found = timeline(placed, a_sound(5000))

    assert [phone.symbol for phone in found.phones] == ["T", "AH", "M"]
    assert found.cuts == (0, 1600, 3200, 5000)


def test_as_many_phones_as_samples_have_one_each():
    found = timeline(laid([["T", "AH1", "M"]], [(0.5, 0.6)] * 3), a_sound(3))

    assert found.cuts == (0, 1, 2, 3)


READING = a_reading(sample_rate=16000)
LENGTH = READING.sound.length
BETWEEN_WORDS = sorted(set(EventKind) - MANNERS)
# Samples that lie in a word, one by one.
SPOKEN = {at for word in READING.words for at in range(READING.start(word), READING.stop(word))}
spans = st.tuples(st.integers(0, LENGTH), st.integers(0, LENGTH)).map(sorted)


def seconds_of(span):
    return span[0] / 16000, span[1] / 16000


@given(spans)
def test_the_parts_of_a_span_outside_words_are_all_of_it_that_is_in_none(span):
    parts = list(outside_words(tuple(span), READING))

    assert [at for start, stop in parts for at in range(start, stop)] == sorted(set(range(*span)) - SPOKEN)
    assert all(start < stop for start, stop in parts)
    assert all(a < b for (_, a), (b, _) in pairwise(parts))


@given(spans, st.sampled_from(BETWEEN_WORDS))
def test_events_between_words_keep_out_of_them_and_what_is_left_is_long_enough(span, kind):
    events = events_of([Found(kind, *seconds_of(span), 0.9)], READING)
    wanted = [part for part in outside_words(tuple(span), READING) if part[1] - part[0] >= SHORTEST_EVENT * 16000]

    assert [(event.start, event.stop) for event in events] == wanted
    assert {event.kind for event in events} <= {kind}


@pytest.mark.parametrize("kind", BETWEEN_WORDS)
def test_a_word_cuts_an_event_in_two_that_are_alike(kind):
    reading = a_reading(lengths=[16000] * len(READING.phones), sample_rate=16000)
    word = reading.words[3]
    first, stop = reading.start(word) - 8000, reading.stop(word) + 8000
    events = events_of([Found(kind, first / 16000, stop / 16000, 0.6, hinted=True)], reading)

    assert [(event.start, event.stop) for event in events] == [
        (first, reading.start(word)),
        (reading.stop(word), stop),
    ]
    assert all((event.kind, event.confidence, event.hinted) == (kind, 0.6, True) for event in events)


@pytest.mark.parametrize("kind", sorted(MANNERS))
def test_a_manner_may_lie_over_words(kind):
    (event,) = events_of([Found(kind, 0.0, LENGTH / 16000, 0.9)], READING)

    assert (event.kind, event.start, event.stop) == (kind, 0, LENGTH)


@pytest.mark.parametrize("kind", EventKind)
def test_an_event_at_the_end_of_the_sound_ends_with_it(kind):
    reading = a_reading(lengths=[16000] * len(READING.phones), sample_rate=16000)
    seconds = reading.sound.length / 16000
    (event,) = events_of([Found(kind, seconds - 0.5, seconds + 0.01, 0.9)], reading)

    assert event.stop == reading.sound.length


def test_events_stand_in_the_order_of_their_starts():
    breath = Found(EventKind.BREATH_IN, 1.7, 1.8, 0.9)
    whisper = Found(EventKind.WHISPER, 0.0, 1.1, 0.9)
    at_sixteen = a_reading(lengths=[1600] * len(READING.phones), sample_rate=16000)
    starts = [event.start for event in events_of([breath, whisper], at_sixteen)]

    assert len(starts) == 2
    assert starts == sorted(starts)
