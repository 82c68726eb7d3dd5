"""Corrections as JSON, there and back, and in the words of one person to another."""

import json
from fractions import Fraction
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.correction import (
    Correction,
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
    Unsure,
    WordAt,
)
from trackread.core.passage import Passage
from trackread.core.performance import Reason
from trackread.core.phones import PAUSE, PHONES
from trackread.core.plain_correction import KINDS, Counting, correction_from_plain, correction_to_plain, words_of
from trackread.core.reading import Phone, Word
from trackread.core.timebase import FrameRate
from trackread.errors import CorrectionError

FILM = Counting(48000, FrameRate(Fraction(24)))  # 2000 samples a frame
STEP = WordAt(62000, "step")
VOWEL = PhoneAt(66000, "EH", "step")
START = CutAt(62000, PAUSE, "S", "step", phone=0, order=0)
INSIDE = CutAt(64000, "S", "T", "step", phone=1, order=0)
END = CutAt(70000, "P", PAUSE, "step", phone=4, order=0)

samples = st.integers(0, 10**9)
shares = st.floats(0, 1)
symbols = st.sampled_from([*PHONES, PAUSE])
texts = st.text(max_size=9)
phones = st.builds(PhoneAt, samples, symbols, texts)
cuts = st.builds(CutAt, samples, symbols, symbols, texts, st.integers(0, 9), st.integers(0, 9))
words = st.builds(WordAt, samples, texts)
passages = st.builds(lambda one, share: Passage((Phone(one, share),), (3, 9), (Word("a", 0, 1),)), symbols, shares)
CORRECTIONS = {
    MoveCut: st.builds(MoveCut, cuts, samples),
    Relabel: st.builds(Relabel, phones, symbols),
    Respell: st.builds(Respell, words, texts.filter(str.strip)),
    Split: st.builds(Split, phones, samples, symbols, st.sampled_from(Side), st.sampled_from(Side)),
    Join: st.builds(Join, phones, symbols),
    SetStress: st.builds(SetStress, phones, st.integers(0, 2)),
    PinCut: st.builds(PinCut, cuts),
    UnpinCut: st.builds(UnpinCut, cuts, shares),
    Note: st.builds(Note, samples, texts),
    Right: st.builds(Right, words),
    Unsure: st.builds(Unsure, words, shares, st.lists(st.sampled_from(Reason), max_size=2).map(tuple)),
    Reread: st.builds(Reread, st.none() | words, st.none() | words, texts, passages),
}


def test_every_kind_has_a_name():
    assert set(KINDS.values()) == set(get_args(Correction)) == set(CORRECTIONS)


@given(st.one_of(*CORRECTIONS.values()))
def test_a_correction_comes_back_from_json_as_it_went(correction):
    text = json.dumps(correction_to_plain(correction, FILM), allow_nan=False)

    assert correction_from_plain(json.loads(text)) == correction


@given(st.one_of(*CORRECTIONS.values()))
def test_the_words_of_a_correction_are_written_with_it_and_not_read_back(correction):
    plain = correction_to_plain(correction, FILM)

    assert plain.pop("words") == words_of(correction, FILM)
    assert correction_from_plain(plain | {"words": "as you like"}) == correction


@pytest.mark.parametrize(
    ("correction", "told"),
    [
        (MoveCut(START, 68000), "the start of 'step' moved from frame 31 to 34"),
        (MoveCut(END, 74000), "the end of 'step' moved from frame 35 to 37"),
        (
            PinCut(INSIDE),
            "the cut between the sound 's' and the sound 't' of 'step' is right on frame 32 and stays there",
        ),
        (UnpinCut(START, 0.5), "the start of 'step' on frame 31 may move again"),
        (Relabel(VOWEL, "IH"), "the sound 'eh' of 'step' on frame 33 is the sound 'ih'"),
        (Respell(STEP, "stop"), "'step' on frame 31 is written 'stop'"),
        (Split(VOWEL, 68000, PAUSE), "the sound 'eh' of 'step' split on frame 34: the pause starts there"),
        (Join(VOWEL, "P"), "the sound 'eh' of 'step' on frame 33 lasts over the sound 'p' after it"),
        (SetStress(VOWEL, 2), "the syllable of the sound 'eh' of 'step' on frame 33 is strong"),
        (Note(62000, "she looks up"), "note on frame 31: she looks up"),
        (Note(62000, ""), "the note on frame 31 is gone"),
        (Right(STEP), "'step' on frame 31 is right"),
        (Unsure(STEP, 0.5, ()), "'step' on frame 31 is in doubt"),
        (PinCut(CutAt(4000, PAUSE, PAUSE, "", 0, 0)), "the cut between two pauses is right on frame 2 and stays there"),
    ],
)
def test_a_correction_is_told_in_plain_words(correction, told):
    assert words_of(correction, FILM) == told


def test_frames_are_told_from_the_first_number_of_the_production():
    counting = Counting(48000, FrameRate(Fraction(24)), first=1001)

    assert words_of(MoveCut(START, 68000), counting) == "the start of 'step' moved from frame 1032 to 1035"


def broken(correction, **changes):
    return json.loads(json.dumps(correction_to_plain(correction, FILM))) | changes


@pytest.mark.parametrize(
    ("plain", "fault"),
    [
        ({}, "'kind' is missing"),
        ({"kind": "wish"}, "'wish' is no kind of correction: use one of move, relabel"),
        ({"kind": "right"}, "'word' is missing"),
        (broken(Right(STEP), word="step"), "word is a group of values, not 'step'"),
        (broken(MoveCut(START, 68000), to=68000.0), "to is a whole number, not 68000.0"),
        (broken(MoveCut(START, 68000), to=True), "to is a whole number, not True"),
        (broken(Relabel(VOWEL, "IH"), symbol="Q"), "'Q' is not a phone: use one of AA"),
        (broken(Relabel(VOWEL, "IH"), symbol=3), "symbol is a text, not 3"),
        (broken(Respell(STEP, "stop"), text=" "), "a word is written with a letter at least"),
        (broken(SetStress(VOWEL, 1), degree=3), "a stress is 0, 1 or 2, not 3"),
        (broken(UnpinCut(START, 0.5), confidence=1.5), "a share lies from 0 to 1, not 1.5"),
        (broken(UnpinCut(START, 0.5), confidence="1"), "confidence is a number, not '1'"),
        (broken(Unsure(STEP, 0.5, ()), reasons="noise here"), "reasons are a list"),
        (broken(Unsure(STEP, 0.5, ()), reasons=["rumour"]), "'rumour' is not a valid Reason"),
        (broken(Split(VOWEL, 68000, "P"), syllable="last"), "'last' is not a valid Side"),
    ],
)
def test_what_is_no_correction_is_refused_by_its_fault(plain, fault):
    with pytest.raises(CorrectionError, match=f"^not a correction: {fault}"):
        correction_from_plain(plain)
