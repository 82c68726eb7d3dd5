"""Corrections laid over a reading: what each changes, what it leaves, and what is refused in plain words."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.editing.makers import corrections_of
from tests.makers import a_performance, a_reading, readings
from trackread.core.correction import (
    CutAt,
    Join,
    MoveCut,
    Note,
    PhoneAt,
    PinCut,
    Relabel,
    Reread,
    Respell,
    Right,
    SetStress,
    Side,
    Split,
    UnpinCut,
    WordAt,
)
from trackread.core.performance import Event, EventKind
from trackread.core.phones import PAUSE
from trackread.core.timebase import Sample
from trackread.editing.applying import Corrected, applied
from trackread.editing.places import cut_at, nucleus_of, phone_at, word_at
from trackread.editing.replay import corrected, pins_of

# Of LINE, each phone 1680 samples: SIL, Mind 1-4, the 5-6, step, 7-10, SIL 11, ticket! 12-16, SIL 17.
READING = a_performance()
LENGTH = 1680


def corrected_by(*corrections, reading=READING):
    found = corrected(reading, corrections)
    assert found.astray == ()
    return found


def refusal(correction, reading=READING):
    """Why a correction is not taken."""
    found = corrected(reading, [correction])
    assert found == replace(Corrected(reading), astray=found.astray)
    assert [one.correction for one in found.astray] == [correction]
    return found.astray[0].reason


def symbols(reading, part):
    return [phone.symbol for phone in reading.phones[part.first : part.stop]]


def test_without_corrections_a_reading_is_itself():
    assert corrected(READING, ()) == Corrected(READING)


def test_moving_a_cut_moves_the_word_boundary_with_it_and_nothing_else():
    found = corrected_by(MoveCut(cut_at(READING, 7), Sample(12000)))

    the, step = found.reading.words[1:3]
    assert found.reading.stop(the) == found.reading.start(step) == 12000
    assert [k for k, (a, b) in enumerate(zip(READING.cuts, found.reading.cuts, strict=True)) if a != b] == [7]


def test_a_moved_cut_is_pinned_and_sure_and_its_word_is_in_no_doubt():
    found = corrected_by(MoveCut(cut_at(READING, 1), Sample(1500)))

    assert found.pins == (1500,)
    assert found.reading.phones[1].confidence == 1
    assert [(word.doubt, bool(word.reasons)) for word in found.reading.words[:2]] == [(0, False), (0.1, False)]


def test_moving_a_cut_inside_a_word_leaves_the_doubt_of_its_start():
    found = corrected_by(MoveCut(cut_at(READING, 2), Sample(3000)))

    assert found.reading.words == READING.words


@pytest.mark.parametrize("to", [10 * LENGTH + 1, 12 * LENGTH - 1])
def test_a_cut_may_move_to_a_sample_short_of_its_neighbours(to):
    assert corrected_by(MoveCut(cut_at(READING, 11), Sample(to))).pins == (to,)


@pytest.mark.parametrize(("to", "there"), [(10 * LENGTH, "0.700 s"), (12 * LENGTH, "0.840 s")])
def test_a_cut_may_not_move_onto_its_neighbours(to, there):
    assert refusal(MoveCut(cut_at(READING, 11), Sample(to))) == (
        f"the end of 'step,' cannot lie at {there}: it may lie from 0.700 s to 0.840 s"
    )


def test_a_pinned_cut_stays_and_its_word_is_in_no_doubt():
    found = corrected_by(PinCut(cut_at(READING, 1)))

    assert found.pins == (LENGTH,)
    assert (found.reading.phones[1].confidence, found.reading.words[0].doubt) == (1, 0)
    assert found.reading.cuts == READING.cuts


def test_a_cut_that_is_not_pinned_cannot_be_unpinned():
    assert refusal(UnpinCut(cut_at(READING, 1), 0.5)) == "the start of 'Mind' is not pinned: it may move as it is"


def test_a_word_that_is_right_is_in_no_doubt_and_not_pinned():
    found = corrected_by(Right(word_at(READING, 0)))

    assert (found.reading.words[0].doubt, found.reading.words[0].reasons, found.pins) == (0, (), ())


def test_a_phone_is_called_otherwise():
    found = corrected_by(Relabel(phone_at(READING, 4), "T"))

    assert symbols(found.reading, found.reading.words[0]) == ["M", "AY", "N", "T"]


def test_a_vowel_that_carries_a_syllable_stays_a_vowel():
    assert corrected_by(Relabel(phone_at(READING, 2), "IY")).reading.phones[2].symbol == "IY"
    assert refusal(Relabel(phone_at(READING, 2), "T")) == (
        "the sound 'eye' of 'Mind' carries a syllable: it can be another vowel only"
    )


@pytest.mark.parametrize(("number", "symbol", "is_a"), [(0, "T", "pause"), (1, PAUSE, "sound")])
def test_a_pause_stays_a_pause_and_a_sound_a_sound(number, symbol, is_a):
    assert f"is a {is_a} and stays one: split a phone" in refusal(Relabel(phone_at(READING, number), symbol))


def test_a_word_is_written_otherwise():
    assert corrected_by(Respell(word_at(READING, 2), "gap,")).reading.words[2].text == "gap,"


def test_a_syllable_has_another_degree_of_stress():
    nucleus = phone_at(READING, 15)

    assert corrected_by(SetStress(nucleus, 2)).reading.syllables[4].stress == 2
    assert refusal(SetStress(phone_at(READING, 14), 2)) == (
        "the sound 'k' of 'ticket!' carries no syllable: name its vowel"
    )


def test_a_split_phone_leaves_word_and_syllable_with_both_parts():
    found = corrected_by(Split(phone_at(READING, 4), Sample(7500), "T"))

    mind, the = found.reading.words[:2]
    assert symbols(found.reading, mind) == ["M", "AY", "N", "D", "T"]
    assert symbols(found.reading, found.reading.syllables[0]) == ["M", "AY", "N", "D", "T"]
    assert symbols(found.reading, the) == ["DH", "AH"]
    assert found.pins == (7500,)


def test_a_pause_is_split_off_the_last_sound_of_a_word():
    pause = Split(phone_at(READING, 4), Sample(7500), PAUSE, Side.NEITHER, Side.NEITHER)

    found = corrected_by(pause)

    assert symbols(found.reading, found.reading.words[0]) == ["M", "AY", "N", "D"]
    assert found.reading.stop(found.reading.words[0]) == 7500
    assert found.reading.start(found.reading.words[1]) == READING.start(READING.words[1])


def test_a_sound_that_was_taken_for_a_pause_is_split_off_for_the_next_word():
    found = corrected_by(Split(phone_at(READING, 11), Sample(19000), "S", Side.NEXT, Side.NEXT))

    assert symbols(found.reading, found.reading.words[3]) == ["S", "T", "IH", "K", "AH", "T"]
    assert symbols(found.reading, found.reading.syllables[3]) == ["S", "T", "IH"]
    assert (found.reading.start(found.reading.words[3]), found.reading.words[3].doubt) == (19000, 0)


@pytest.mark.parametrize(
    ("split", "why"),
    [
        (Split(phone_at(READING, 4), Sample(9000), "T"), "it lasts from 0.280 s to 0.350 s"),
        (Split(phone_at(READING, 11), Sample(19000), "S"), "belongs to a word: let it belong to the next"),
        (Split(phone_at(READING, 4), Sample(7500), PAUSE), "a pause in the sound 'd' of 'Mind' belongs to no syllable"),
        (Split(phone_at(READING, 2), Sample(4000), "T", Side.NEXT), "lies within a word: it belongs to 'this'"),
        (Split(phone_at(READING, 17), Sample(29000), "T", Side.NEXT), "cannot belong to the next word: none starts"),
        (Split(phone_at(READING, 4), Sample(7500), "T", Side.THIS, Side.NEXT), "a syllable lies within one word"),
    ],
)
def test_a_split_that_cannot_be_is_refused_with_what_would_be_right(split, why):
    assert why in refusal(split)


def test_the_first_of_two_joined_phones_lasts_over_both():
    found = corrected_by(Join(phone_at(READING, 3), "D"))

    assert symbols(found.reading, found.reading.words[0]) == ["M", "AY", "N"]
    assert found.reading.stop(found.reading.words[0]) == READING.stop(READING.words[0])
    assert symbols(found.reading, found.reading.words[3]) == symbols(READING, READING.words[3])


def test_a_word_that_is_joined_with_the_pause_after_it_lasts_over_it():
    found = corrected_by(Join(phone_at(READING, 10), PAUSE))

    assert found.reading.stop(found.reading.words[2]) == found.reading.start(found.reading.words[3])


def test_a_pinned_cut_that_is_joined_away_is_pinned_no_more():
    assert corrected_by(PinCut(cut_at(READING, 4)), Join(phone_at(READING, 3), "D")).pins == ()


@pytest.mark.parametrize(
    ("join", "why"),
    [
        (
            Join(phone_at(READING, 1), "AY"),
            "the sound 'eye' of 'Mind' carries a syllable: join it with the sound after",
        ),
        (Join(phone_at(READING, 1), "EH"), "after the sound 'm' of 'Mind' comes the sound 'eye' of 'Mind', not"),
        (Join(phone_at(READING, 17), PAUSE), "comes the end of the take"),
    ],
)
def test_a_join_that_cannot_be_is_refused_with_what_would_be_right(join, why):
    assert why in refusal(join)


def test_no_word_is_left_without_a_sound():
    hush = a_reading(("Shh…", "SH"), ("né", "N EY2"))

    assert "is all the sound there is" in refusal(Join(phone_at(hush, 0), "SH"), hush)


def test_notes_stand_by_time_one_at_a_sample():
    notes = [Note(Sample(900), "blink"), Note(Sample(20), "look up"), Note(Sample(900), "frown")]

    assert corrected_by(*notes).notes == (notes[1], notes[2])
    assert corrected_by(*notes, Note(Sample(900), "")).notes == (notes[1],)


def test_a_note_stands_within_the_take():
    assert refusal(Note(READING.sound.length, "late")) == (
        "no note can stand at 1.260 s: the take lasts from 0.000 s to 1.260 s"
    )


def test_an_event_makes_room_for_a_word_that_is_moved_onto_it():
    breath = Event(EventKind.BREATH_IN, Sample(0), Sample(1600), 0.9)
    whisper = Event(EventKind.WHISPER, Sample(1000), Sample(9000), 0.9)
    reading = replace(READING, events=(breath, whisper))

    moved = corrected_by(MoveCut(cut_at(reading, 1), Sample(1200)), reading=reading)

    assert moved.reading.events == (replace(breath, stop=Sample(1200)), whisper)


def test_an_event_has_its_length_again_when_the_word_goes_back():
    out = MoveCut(cut_at(READING, 1), Sample(100))
    back = MoveCut(replace(cut_at(READING, 1), sample=Sample(100)), Sample(1680))
    breath = Event(EventKind.BREATH_IN, Sample(200), Sample(1600), 0.9)
    reading = replace(READING, events=(breath,))

    assert corrected_by(out, reading=reading).reading.events == ()
    assert corrected_by(out, back, reading=reading).reading.events == (breath,)


@given(readings(), st.data())
def test_any_corrections_leave_a_reading_that_holds_together(reading, data):
    found = corrected(reading, ())
    past = []
    for _ in range(6):
        past.append(data.draw(corrections_of(found)))
        found = corrected(reading, past)

    if not any(isinstance(one, Reread) for one in past):
        assert (len(found.reading.words), len(found.reading.syllables)) == (len(reading.words), len(reading.syllables))
    assert all(found.reading.phones[found.reading.cuts.index(pin)].confidence == 1 for pin in found.pins)
    assert all(
        phone.symbol == PAUSE or any(word.first <= k < word.stop for word in found.reading.words)
        for k, phone in enumerate(found.reading.phones)
    )
    assert all(a.nucleus < b.nucleus for a, b in pairwise(found.reading.syllables))
    assert all(one.first <= one.nucleus < one.stop for one in found.reading.syllables)


@given(readings(), st.data())
def test_corrections_one_by_one_are_corrections_all_at_once(reading, data):
    found, past = Corrected(reading), []
    for _ in range(4):
        one = data.draw(corrections_of(found))
        if corrected(reading, [*past, one]).astray:
            continue
        past.append(one)
        found = applied(found, one)

    assert replace(corrected(reading, past), reading=found.reading) == found


# A better engine: the same words, all 12 ms later, and no pause after step.
LATER = a_performance(lengths=[LENGTH + 288, *[LENGTH] * 9, 2 * LENGTH - 40, 40, *[LENGTH] * 5, LENGTH - 288])


def test_corrections_find_their_words_in_a_reading_made_later():
    past = (
        MoveCut(cut_at(READING, 7), Sample(12000)),
        Relabel(phone_at(READING, 4), "T"),
        SetStress(nucleus_of(READING, 4), 2),
        Right(word_at(READING, 0)),
    )

    found = corrected_by(*past, reading=LATER)

    assert found.reading.start(found.reading.words[2]) == 12000
    assert found.reading.phones[4].symbol == "T"
    assert found.reading.syllables[4].stress == 2


def test_a_cut_that_reading_again_has_where_it_was_moved_to_is_the_same_cut():
    moves = (MoveCut(cut_at(READING, 7), Sample(12000)),)
    again = corrected_by(*moves).reading

    assert corrected(again, moves) == corrected(READING, moves)


def test_a_move_that_a_later_reading_has_no_room_for_is_not_missed_if_the_cut_was_moved_on():
    out = MoveCut(cut_at(READING, 7), Sample(13000))
    on = MoveCut(replace(out.cut, sample=Sample(13000)), Sample(12000))
    narrow = a_performance(lengths=[LENGTH] * 7 + [LENGTH - 480, LENGTH + 480] + [LENGTH] * 9)

    assert corrected(narrow, (out,)).astray[0].correction == out
    assert corrected_by(out, on, reading=narrow).reading.cuts[7] == 12000


def test_what_a_later_reading_has_not_goes_astray_and_the_rest_is_applied():
    hat = Right(WordAt(Sample(1680), "hat"))
    ticket = Right(WordAt(Sample(200000), "ticket!"))
    vowel = Relabel(PhoneAt(Sample(3360), "IY", "Mind"), "IH")
    cut = MoveCut(CutAt(Sample(1680), PAUSE, "M", "Kind", 0, 0), Sample(1700))

    found = corrected(READING, (hat, ticket, vowel, cut, Right(word_at(READING, 1))))

    assert [one.correction for one in found.astray] == [hat, ticket, vowel, cut]
    assert [one.reason for one in found.astray] == [
        "'hat' is not near 0.070 s: the nearest word is 'Mind'",
        "'ticket!' is not near 8.333 s: the nearest word is 'ticket!'",
        "the sound 'ee' of 'Mind' is not near 0.140 s: the nearest word is 'Mind'",
        "the start of 'Kind' is not near 0.070 s: the nearest word is 'Mind'",
    ]
    assert found.reading.words[1].doubt == 0


def test_a_take_without_words_says_so():
    silent = replace(READING, words=(), syllables=(), phrases=(), departures=())

    assert refusal(Right(WordAt(Sample(0), "hat")), silent).endswith("no word is heard in this take")


def test_the_pins_of_a_corrected_reading_say_what_they_lie_between():
    found = corrected_by(PinCut(cut_at(READING, 15)), MoveCut(cut_at(READING, 11), Sample(18000)))

    assert pins_of(found) == (
        CutAt(Sample(18000), "P", PAUSE, "step,", phone=4, order=0),
        CutAt(Sample(15 * LENGTH), "K", "AH", "ticket!", phone=3, order=0),
    )


def test_a_word_said_twice_is_told_apart_by_its_time_and_its_order():
    reading = a_reading(("hat", "HH AE1 T"), "-", ("hat", "HH AE1 T"))

    assert [cut_at(reading, number).order for number in (1, 5)] == [0, 1]
    assert corrected_by(Right(word_at(reading, 1)), reading=reading).reading.words[0].doubt == 0.1
