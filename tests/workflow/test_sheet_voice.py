"""What a voice does beside its words, on the frames of a take's sheet."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading, readings
from tests.workflow.test_sheet_of_take import a_cell, a_sheet, rates
from trackread.core.performance import Departure, DepartureKind, Event, EventKind, Phrase, Tone
from trackread.core.sheet import Beat
from trackread.core.timebase import Frame, Sample, frame_at, frames_covering
from trackread.workflow.sheet_between import LEAST_PAUSE
from trackread.workflow.sheet_of_take import word_cells
from trackread.workflow.sheet_said import said_of_take
from trackread.workflow.sheet_voice import departure_cells


@st.composite
def performances(draw):
    """Readings with events anywhere, and phrases that part their words, each with a main beat if it has a syllable."""
    reading = draw(readings())
    edges = sorted(draw(st.lists(st.integers(0, reading.sound.length), max_size=10, unique=True)))
    spans = zip(edges[::2], edges[1::2], strict=False)
    events = tuple(Event(draw(st.sampled_from(EventKind)), Sample(a), Sample(b), 0.5) for a, b in spans)
    parts = sorted({0, len(reading.words), *draw(st.lists(st.integers(0, len(reading.words)), max_size=3))})
    phrases = []
    for first, stop in pairwise(parts):
        low, high = reading.words[first].first, reading.words[stop - 1].stop
        inside = [n for n, part in enumerate(reading.syllables) if low <= part.first < high]
        main = draw(st.sampled_from(inside)) if inside else None
        phrases.append(Phrase(first, stop, main, draw(st.sampled_from([None, *Tone])), draw(st.floats(0, 9))))
    return replace(reading, events=events, phrases=tuple(phrases))


@given(performances(), rates)
def test_a_main_beat_stands_on_the_row_where_its_syllable_starts(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    starts = [reading.start(reading.syllables[phrase.main]) for phrase in reading.phrases if phrase.main is not None]

    mains = [beat.first for beat in voice.beats if beat.main]
    assert mains == sorted({frame_at(start, reading.sound.sample_rate, rate) for start in starts})


@given(performances(), rates)
def test_no_event_covers_a_row_in_which_a_word_begins_nor_any_row_of_another_event(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    firsts = {word.first for word in voice.words}
    frames = [frame for event in voice.events for frame in range(event.first, event.stop)]

    assert not firsts & set(frames)
    assert len(frames) == len(set(frames))


@given(performances(), rates)
def test_an_event_covers_rows_of_a_word_only_if_it_has_no_others(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    held = {frame for word in voice.words for frame in range(word.first, word.stop)}
    for event in voice.events:
        frames = set(range(event.first, event.stop))

        assert frames <= held or not frames & held


@given(readings(), rates)
def test_pauses_and_words_and_gaps_too_short_to_name_add_up_to_the_whole(reading, rate):
    sheet = a_sheet(replace(reading, events=()), str(rate))
    (voice,) = sheet.voices
    said = sum(word.stop - word.first for word in voice.words)
    edges = [0, *(edge for word in voice.words for edge in (word.first, word.stop)), sheet.length]
    short = [b - a for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a < LEAST_PAUSE]

    assert said + sum(int(pause.text) for pause in voice.pauses) + sum(short) == sheet.length
    assert all(int(pause.text) == pause.stop - pause.first >= LEAST_PAUSE for pause in voice.pauses)


@given(performances(), rates)
def test_a_part_of_a_pause_has_its_own_length_and_shares_no_row_with_a_word_or_an_event(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    heard = {frame for cell in (*voice.words, *voice.events) for frame in range(cell.first, cell.stop)}
    paused = [frame for pause in voice.pauses for frame in range(pause.first, pause.stop)]
    lengths = [(pause.stop - pause.first, pause.text) for pause in voice.pauses]

    assert not heard & set(paused)
    assert all(text == (str(length) if length >= LEAST_PAUSE else "") for length, text in lengths)


# Frames 0-9 blank, Mind 10-14, the 14-16, a pause to 28, ticket 28-34, 6 blank.
LENGTHS = [10000, 1000, 1000, 1000, 1000, 1000, 1000, 12000, 1000, 1000, 1000, 1000, 2000, 6000]
SAID = (("Mind", "M AY1 N D"), ("the", "DH AH0"), "-", ("ticket?", "T IH1 K AH0 T"))


def acted(**changes):
    return a_reading(*SAID, lengths=LENGTHS, **changes)


def an_event(kind, first, stop):
    return Event(kind, Sample(1000 * first), Sample(1000 * stop), 0.9)


def test_a_breath_parts_a_pause_and_each_part_has_its_own_length():
    (voice,) = a_sheet(acted(events=(an_event(EventKind.BREATH_IN, 18, 22),))).voices

    assert voice.events == (a_cell(18, 22, "breath in"),)
    assert voice.pauses == (
        a_cell(0, 10, "10"),
        a_cell(16, 18, ""),
        a_cell(22, 28, "6"),
        a_cell(34, 40, "6"),
    )


def test_an_event_gives_way_to_words_and_keeps_the_longest_part_that_is_left():
    events = (an_event(EventKind.COUGH, 10, 14), an_event(EventKind.LAUGH, 15, 30))
    (voice,) = a_sheet(acted(events=events)).voices

    assert voice.events == (a_cell(11, 14, "cough"), a_cell(16, 28, "laugh"))


def test_a_whisper_and_a_shout_lie_over_words_as_manners():
    events = (an_event(EventKind.SHOUT, 10, 14), an_event(EventKind.WHISPER, 28, 34))
    (voice,) = a_sheet(acted(events=events)).voices

    assert voice.manners == (a_cell(10, 14, "shouted"), a_cell(28, 34, "whispered"))
    assert voice.events == ()


def test_a_beat_has_the_turn_and_the_main_mark_of_its_phrase():
    reading = acted(phrases=(Phrase(0, 2, 0, Tone.FALL, 4.0), Phrase(2, 3, 2, Tone.RISE, 4.0)))
    turning = tuple(replace(part, tone=Tone.PEAK) for part in reading.syllables)
    (voice,) = a_sheet(replace(reading, syllables=turning)).voices

    assert voice.beats[0] == Beat(Frame(10), Frame(14), 2, Tone.PEAK, main=True)
    assert [beat.main for beat in voice.beats] == [True, False, True, False]


def test_of_syllables_on_one_frame_the_strongest_counts_and_a_main_mark_stays():
    said = (("away", "AH0 W EY1"),)
    reading = a_reading(*said, lengths=[2000, 200, 200, 1800, 500], phrases=(Phrase(0, 1, 0, None, 4.0),))
    weak, strong = reading.syllables
    (voice,) = a_sheet(replace(reading, syllables=(weak, replace(strong, tone=Tone.FALL)))).voices

    assert voice.beats == (Beat(Frame(2), Frame(5), 2, Tone.FALL, main=True),)


def test_a_phrase_holds_from_its_first_word_to_the_end_of_its_last():
    (voice,) = a_sheet(acted(phrases=(Phrase(0, 2, 0, Tone.FALL, 4.0), Phrase(2, 3, 2, Tone.RISE, 4.0)))).voices

    assert [(phrase.first, phrase.stop, phrase.ending) for phrase in voice.phrases] == [
        (10, 16, Tone.FALL),
        (28, 34, Tone.RISE),
    ]


@pytest.mark.parametrize(
    ("rates", "own", "paces"),
    [
        ((4.0, 5.0, 3.2), 4.0, ["", "quick", "slow"]),
        ((4.0, 4.9, 3.3), 4.0, ["", "", ""]),
        # Without the character's own rate the take's median serves, which is 4 here.
        ((4.0, 5.0, 3.2), None, ["", "quick", "slow"]),
        # Two phrases with syllables do not say what is usual.
        ((9.0, 2.0, 0.0), None, ["", "", ""]),
        ((9.0, 2.0, 0.0), 4.0, ["quick", "slow", ""]),
    ],
)
def test_a_phrase_is_quick_or_slow_a_quarter_off_the_usual_rate(rates, own, paces):
    said = tuple(Phrase(n, n + 1, None, None, rate) for n, rate in enumerate(rates))
    (voice,) = a_sheet(acted(phrases=said), own_rate=own).voices

    assert [phrase.pace for phrase in voice.phrases] == paces


@pytest.mark.parametrize(
    ("departure", "cell"),
    [
        ((DepartureKind.DROPPED, 1, 1, "very"), (14, 15, 'script has "very"')),
        # On the row after the words before it where a pause follows, on the last one at the end.
        ((DepartureKind.DROPPED, 2, 2, "wet step"), (16, 17, 'script has "wet step"')),
        ((DepartureKind.DROPPED, 3, 3, "please"), (34, 35, 'script has "please"')),
        ((DepartureKind.DROPPED, 0, 0, "Now"), (0, 1, 'script has "Now"')),
        ((DepartureKind.ADDED, 0, 2, ""), (10, 16, "not in script")),
        ((DepartureKind.REPEATED, 1, 2, ""), (14, 16, "said again")),
        ((DepartureKind.SWAPPED, 2, 3, "tickets"), (28, 34, 'script: "tickets"')),
        ((DepartureKind.RESTART, 0, 1, ""), (10, 14, "broken off")),
    ],
)
def test_a_departure_says_what_the_script_has_on_the_rows_of_what_is_said(departure, cell):
    (voice,) = a_sheet(acted(departures=(Departure(*departure),))).voices

    dropped = departure[0] is DepartureKind.DROPPED
    assert (voice.missing if dropped else voice.departures) == (a_cell(*cell),)
    assert (voice.departures if dropped else voice.missing) == ()


@given(readings(), rates, st.data())
def test_every_departure_lies_on_the_sheet_and_on_the_rows_of_its_words(reading, rate, data):
    first = data.draw(st.integers(0, len(reading.words)))
    stop = data.draw(st.integers(first, len(reading.words)))
    kind = DepartureKind.DROPPED if first == stop else DepartureKind.SWAPPED
    said = said_of_take(reading, rate)
    words = word_cells(said)
    (cell,) = departure_cells((Departure(kind, first, stop, "tram"),), said, words)

    assert 0 <= cell.first < cell.stop <= frames_covering(reading.sound.length, reading.sound.sample_rate, rate)
    if first < stop:
        assert {cell.first} <= {word.first for word in words}
        assert {cell.stop} <= {word.stop for word in words}
