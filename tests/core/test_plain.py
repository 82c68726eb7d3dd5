"""Readings as JSON, there and back."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given

from tests.makers import a_performance, a_reading, readings
from trackread.core.performance import Departure, DepartureKind
from trackread.core.plain import reading_from_plain, reading_to_plain
from trackread.core.reading import Match, Phone
from trackread.core.timebase import FrameRate, parse_rate
from trackread.errors import ReadingError

FILM = FrameRate(Fraction(24))


@given(readings())
def test_a_reading_comes_back_from_json_as_it_went(reading):
    text = json.dumps(reading_to_plain(reading, FILM), allow_nan=False)

    assert reading_from_plain(json.loads(text)) == reading


@given(readings())
def test_the_rate_changes_the_frames_alone(reading):
    ours, theirs = (reading_to_plain(reading, parse_rate(rate)) for rate in ("24", "29.97df"))

    assert (ours["rate"], theirs["rate"]) == ("24/1", "30000/1001df")
    assert reading_from_plain(ours) == reading_from_plain(theirs)


def test_a_reading_has_the_fields_other_programs_expect():
    plain = reading_to_plain(a_performance(sample_rate=48000), FILM)

    assert (plain["rate"], plain["sample_rate"], plain["samples"]) == ("24/1", 48000, 18 * 3360)
    assert (plain["match"], plain["says_line"], plain["engine"]) == (0.93, True, "by hand")
    # 0.07 s of pause: frame 1 begins at 0.0417 s.
    mind = {"text": "Mind", "start": 3360, "stop": 16800, "frame": 1, "doubt": 0.1, "source": "dictionary"}
    assert plain["words"][0] == mind | {"reasons": ["noise here"]}
    placed = {"text": "mind", "start": 3360, "stop": 16800, "nucleus": 6720, "frame": 1}
    assert plain["syllables"][0] == placed | {"lexical": 1, "stress": 2, "strength": 0.25, "pitch": "fall"}
    assert plain["phones"][1] == {"symbol": "M", "start": 3360, "stop": 6720, "frame": 1, "confidence": 0.9}
    assert plain["pitch"]["hop"] == 480
    assert plain["pitch"]["hertz"][:2] == [None, 101.0]
    assert plain["level"]["db"][:2] == [-20.0, -21.0]


def test_what_the_voice_does_beside_its_words_is_written_with_its_frames():
    plain = reading_to_plain(a_performance(sample_rate=48000), FILM)

    breath = {"kind": "breath in", "start": 0, "stop": 3000, "frame": 0, "confidence": 0.9, "hinted": False}
    assert plain["events"] == [breath]
    phrase = {"words": [0, 3], "start": 3360, "stop": 36960, "frame": 1}
    assert plain["phrases"] == [phrase | {"main": 0, "ending": "fall", "rate": 4.5}]
    swapped = {"kind": "swapped", "words": [2, 3], "frame": 11, "written": "gap,", "heard": "step,"}
    assert plain["departures"] == [swapped]
    first = {"frame": 1, "word": "Mind", "strength": 0.25, "stress": 2, "main": True, "pitch": "fall"}
    assert plain["beats"][0] == first
    assert [beat["word"] for beat in plain["beats"]] == ["Mind", "step,", "ticket!"]


def test_words_left_out_depart_where_the_word_before_them_ends():
    reading = a_reading(sample_rate=48000)
    dropped = [Departure(DepartureKind.DROPPED, at, at, "gap") for at in (0, 1)]
    plain = reading_to_plain(replace(reading, departures=tuple(dropped)), FILM)

    ends = [0, plain["words"][0]["stop"]]
    assert [each["frame"] for each in plain["departures"]] == [end * 24 // 48000 for end in ends]
    assert [each["heard"] for each in plain["departures"]] == ["", ""]


def test_the_phones_cover_the_sound_without_a_gap():
    phones = reading_to_plain(a_reading(), FILM)["phones"]

    assert phones[0]["start"] == 0
    assert [phone["stop"] for phone in phones[:-1]] == [phone["start"] for phone in phones[1:]]


def test_a_syllable_is_written_in_the_letters_of_its_word_where_it_is_the_only_one():
    said = (("Step,", "S T EH1 P"), ("ticket", "T IH1 K AH0 T"), ("don’t", "D OW1 N T"), ("&", "AE1 N D"))
    plain = reading_to_plain(a_reading(*said), FILM)

    assert [syllable["text"] for syllable in plain["syllables"]] == ["step", "tih", "kuht", "don’t", "and"]


def test_shares_are_rounded_to_a_thousandth_and_tracks_to_a_tenth():
    reading = a_reading()
    rough = replace(
        reading,
        phones=tuple(Phone(phone.symbol, 2 / 3) for phone in reading.phones),
        words=tuple(replace(word, doubt=1 / 3) for word in reading.words),
    )
    pitch, match = replace(reading.pitch, values=(123.456,)), Match(1 / 3, says_line=False)
    plain = reading_to_plain(replace(rough, pitch=pitch, match=match), FILM)

    assert (plain["words"][0]["doubt"], plain["phones"][0]["confidence"], plain["match"]) == (0.333, 0.667, 0.333)
    assert plain["pitch"]["hertz"] == [123.5]


def broken(change):
    plain = json.loads(json.dumps(reading_to_plain(a_reading(), FILM)))
    change(plain)
    return plain


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda plain: plain.pop("phones"), "'phones' is missing"),
        (lambda plain: plain["words"][0].update(start=7), "7 is missing, or lies where no phone starts or stops"),
        (lambda plain: plain["phones"][1].update(symbol="XX"), "'XX' is not a phone"),
        (lambda plain: plain["words"][0].update(source="rumour"), "'rumour' is not a valid Source"),
        (lambda plain: plain.update(words=3), "not iterable"),
    ],
)
def test_what_is_no_reading_is_refused_by_its_fault(change, words):
    with pytest.raises(ReadingError, match=f"^not a reading: .*{words}"):
        reading_from_plain(broken(change))
