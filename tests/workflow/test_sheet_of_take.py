"""What stands on which frame of a take's sheet."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading, readings
from trackread.core.reading import Match
from trackread.core.sheet import Cell, Heading
from trackread.core.timebase import Frame, Sample, first_sample_of, frame_at, frames_covering, parse_rate
from trackread.workflow.sheet_of_take import Terms, sheet_of_take, sound_cells, word_cells
from trackread.workflow.sheet_said import said_of_take
from trackread.workflow.sheet_voice import beats

RATES = ("23.976", "24", "25", "29.97df", "30", "50", "60")
rates = st.sampled_from(RATES).map(parse_rate)


def a_sheet(reading, rate="24", own_rate=None, **changes):
    terms = replace(Terms(parse_rate(rate)), **changes)
    return sheet_of_take(reading, terms, character="BRACK", heading=Heading(take="1"), own_rate=own_rate)


def columns(voice):
    return (voice.words, voice.sounds, voice.beats)


@given(readings(), rates)
def test_no_frame_has_two_words_two_sounds_or_two_beats(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices

    for column in columns(voice):
        frames = [frame for one in column for frame in range(one.first, one.stop)]
        assert len(frames) == len(set(frames))
        assert frames == sorted(frames)


@given(readings(), rates)
def test_every_word_stands_on_the_frame_where_the_reading_starts_it(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    written = {cell.first: cell.text for cell in voice.words}
    heard = {}
    for word in reading.words:
        heard.setdefault(frame_at(reading.start(word), reading.sound.sample_rate, rate), []).append(word.text)

    assert written == {first: " ".join(texts) for first, texts in heard.items()}


@given(readings(), rates)
def test_a_word_holds_to_its_last_sample_or_gives_way_to_the_next(reading, rate):
    (voice,) = a_sheet(reading, str(rate)).voices
    firsts = [cell.first for cell in voice.words]
    for word in reading.words:
        first = frame_at(reading.start(word), reading.sound.sample_rate, rate)
        last = frame_at(reading.stop(word) - 1, reading.sound.sample_rate, rate)
        (cell,) = [cell for cell in voice.words if cell.first <= first < cell.stop]

        assert cell.stop > last or cell.stop in firsts


@given(readings(), rates, st.integers(0, 50))
def test_shifting_the_sound_by_whole_frames_shifts_the_rows(reading, rate, frames):
    sample_rate = reading.sound.sample_rate
    # Where a frame is no whole number of samples, a shift by many whole seconds of 1001 is one all the same.
    by = frames * first_sample_of(rate.per_second.numerator, sample_rate, rate)
    steps = frames * rate.per_second.numerator
    moved = replace(
        reading,
        sound=replace(reading.sound, length=Sample(reading.sound.length + by)),
        cuts=(Sample(0), *(Sample(cut + by) for cut in reading.cuts[1:])),
    )
    saids = [said_of_take(one, rate) for one in (reading, moved)]
    here, there = ((word_cells(one), sound_cells(one, Terms(rate)), beats(one)) for one in saids)

    for ours, theirs in zip(here, there, strict=True):
        assert [replace(one, first=one.first + steps, stop=one.stop + steps) for one in ours] == list(theirs)


@given(readings(), rates)
def test_a_sheet_covers_the_whole_sound(reading, rate):
    sheet = a_sheet(reading, str(rate))

    assert sheet.length == frames_covering(reading.sound.length, reading.sound.sample_rate, rate)
    last = frame_at(reading.sound.length - 1, reading.sound.sample_rate, rate)
    assert sheet.length == last + 1


# At 24 fps and 24 kHz a frame has 1000 samples.
def test_two_words_that_start_on_one_frame_share_its_cell():
    said = (("I", "AY1"), ("am", "AE1 M"), ("wet", "W EH1 T"))
    (voice,) = a_sheet(a_reading(*said, lengths=[2100, 500, 200, 900, 1000, 1000, 1000, 900])).voices

    assert voice.words == (a_cell(2, 3, "I am"), a_cell(3, 7, "wet"))
    assert voice.sounds[:2] == (a_cell(2, 3, "eyeam"), a_cell(3, 4, "w"))


def test_a_pause_leaves_its_frames_blank():
    said = (("Mind", "M AY1 N D"), "-", ("it", "IH1 T"))
    (voice,) = a_sheet(a_reading(*said, lengths=[2000, 1000, 1000, 1000, 1000, 3000, 1000, 1000, 500])).voices

    assert voice.words == (a_cell(2, 6, "Mind"), a_cell(9, 11, "it"))
    assert [cell.text for cell in voice.sounds] == ["m", "eye", "n", "d", "ih", "t"]


def test_of_syllables_on_one_frame_the_strongest_is_the_beat():
    said = (("away", "AH0 W EY1"),)
    (voice,) = a_sheet(a_reading(*said, lengths=[2000, 200, 200, 1800, 500])).voices

    assert [(beat.first, beat.stop, beat.degree) for beat in voice.beats] == [(2, 5, 2)]


def test_ipa_writes_the_reduced_vowel_where_the_dictionary_has_no_stress():
    (voice,) = a_sheet(a_reading(("upper", "AH1 P ER0"), ("the", "DH AH0")), as_ipa=True).voices

    assert [cell.text for cell in voice.sounds] == ["ʌ", "p", "ɚ", "ð", "ə"]


def test_only_the_first_number_is_the_productions():
    sheet = a_sheet(a_reading(), first_number=1001)

    assert sheet.first_number == 1001
    assert sheet.voices == a_sheet(a_reading()).voices


def test_a_take_that_does_not_say_its_line_is_warned_of_in_capitals_with_its_score():
    reading = a_reading(match=Match(0.314, says_line=False))
    warning = a_sheet(reading).heading.warning

    assert warning == "TAKE DOES NOT SAY THIS LINE (MATCH 0.31): DO NOT SHOOT"
    assert a_sheet(a_reading()).heading.warning == ""


@pytest.mark.parametrize("rate", RATES)
def test_a_sound_of_one_sample_has_a_frame(rate):
    reading = a_reading(("Shh", "SH"), lengths=[1, 1, 1])

    assert a_sheet(reading, rate).length == 1
    assert a_sheet(reading, rate).voices[0].words == (a_cell(0, 1, "Shh"),)


def a_cell(first, stop, text):
    return Cell(Frame(first), Frame(stop), text)
