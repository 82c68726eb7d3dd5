"""The face on each frame, held against the formula of Cohen & Massaro 1993 (from memory) and what follows from it."""

import math
from dataclasses import astuple, replace
from fractions import Fraction
from itertools import accumulate
from time import process_time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.mouth import PARTS
from trackread.core.phones import PAUSE, PHONES
from trackread.core.timebase import FrameRate
from trackread.mouths.faces import FACES, GLIDES, STRENGTHS, fading
from trackread.mouths.targets import Sound, targets_on, with_pauses

FILM = FrameRate(Fraction(24))
FAST = FrameRate(Fraction(1000))  # a frame is a millisecond
OPENING, WIDTH, ROUNDING, BITE, TONGUE = range(len(PARTS))
lengths = st.fractions(min_value=Fraction(1, 2), max_value=8, max_denominator=1000)


def said(text, *, start=0, length=70, stress=2, loud=1.0):
    """Sounds one after the other from `start`, each `length` frames; `AA:150` is 150 long."""
    words = [one.split(":") for one in text.split()]
    spans = [Fraction(rest[0]) if rest else Fraction(length) for _, *rest in words]
    edges = list(accumulate(spans, initial=Fraction(start)))
    return [
        Sound(symbol, first, stop, stress, loud)
        for (symbol, *_), first, stop in zip(words, edges, edges[1:], strict=False)
    ]


@st.composite
def takes(draw):
    """Sounds of random lengths, some with silence between them."""
    symbols = draw(st.lists(st.sampled_from([*PHONES, PAUSE]), min_size=1, max_size=15))
    time, sounds = draw(st.fractions(-4, 4, max_denominator=48)), []
    for symbol in symbols:
        stop = time + draw(lengths)
        loud, stress = draw(st.floats(0, 1)), draw(st.sampled_from([0, 1, 2]))
        sounds.append(Sound(symbol, time, stop, stress, loud))
        time = stop + draw(st.sampled_from([0, 0, 0, 3]))
    return sounds


def printed(sounds, part, time):
    """The formula with c = 1 (from memory): F(t) = sum of D T / sum of D, D(t) = strength exp(-fading |t - m|)."""
    above = below = 0.0
    for sound in sounds:
        distance = float(time - (sound.start + sound.stop) / 2)
        ahead, after = fading(sound.symbol)
        rate = ahead[part] if distance < 0 else after[part]
        dominance = STRENGTHS[sound.symbol][part] * math.exp(-rate * abs(distance))
        above += dominance * astuple(FACES[sound.symbol])[part]
        below += dominance
    return above / below


@pytest.mark.parametrize("text", ["K AA T", "S UW N", "B IY F EH R", "TH AH L W"])
def test_of_short_sounds_the_face_is_what_the_printed_formula_gives(text):
    sounds = said(text)
    frames = range(int(sounds[-1].stop))
    expected = [[printed(sounds, part, k + Fraction(1, 2)) for part in range(len(PARTS))] for k in frames]

    assert targets_on(sounds, frames, FAST) == pytest.approx(np.array(expected), abs=1e-12)


@pytest.mark.parametrize("symbol", sorted({*FACES} - {*GLIDES}))
def test_a_sound_alone_has_its_own_face(symbol):
    faces = targets_on(said(f"{symbol}:9"), range(9), FILM)

    assert faces == pytest.approx(np.array([astuple(FACES[symbol])] * 9), abs=1e-12)


def test_between_two_sounds_that_ask_alike_the_face_is_the_mean():
    assert STRENGTHS["AA"] == STRENGTHS["AE"]

    middle = targets_on(said("AA:121/2 AE:121/2"), range(60, 61), FAST)[0]  # as far from one as from the other
    mean = (np.array(astuple(FACES["AA"])) + astuple(FACES["AE"])) / 2

    assert middle[[OPENING, WIDTH, BITE, TONGUE]] == pytest.approx(mean[[OPENING, WIDTH, BITE, TONGUE]], abs=1e-12)


@given(takes(), st.integers(-5000, 5000), st.integers(1, 40))
def test_a_shot_that_moves_by_whole_frames_keeps_its_faces(sounds, shift, length):
    moved = [replace(sound, start=sound.start + shift, stop=sound.stop + shift) for sound in sounds]

    assert np.array_equal(
        targets_on(sounds, range(length), FILM), targets_on(moved, range(shift, shift + length), FILM)
    )


@given(takes(), st.integers(-20, 20), st.integers(1, 40))
def test_a_face_is_within_what_is_asked_for(sounds, first, length):
    faces = targets_on(sounds, range(first, first + length), FILM)
    asked = np.array([astuple(table[symbol]) for table in (FACES, GLIDES) for symbol in table])

    assert faces.shape == (length, len(PARTS))
    assert (faces >= 0).all()
    assert (faces <= 1).all()
    assert (faces[:, 1:] >= asked[:, 1:].min(axis=0) - 1e-12).all()
    assert (faces <= asked.max(axis=0) + 1e-12).all()


@given(takes())
def test_part_of_a_shot_has_the_faces_of_the_whole(sounds):
    silence = Sound(PAUSE, Fraction(-9), sounds[0].start), Sound(PAUSE, sounds[-1].stop, Fraction(400))
    sounds, frames = [silence[0], *sounds, silence[1]], range(90)

    assert targets_on(sounds, frames[20:60], FILM) == pytest.approx(targets_on(sounds, frames, FILM)[20:60], abs=1e-9)


@given(takes())
def test_a_face_does_not_depend_on_the_rate_at_which_it_is_looked_at(sounds):
    """Of three frames at 72 a second the second has the same middle as one frame at 24."""
    thrice = [replace(sound, start=sound.start * 3, stop=sound.stop * 3) for sound in sounds]
    at_film = targets_on(sounds, range(30), FILM)
    faster = targets_on(thrice, range(90), FrameRate(Fraction(72)))

    assert faster[1::3] == pytest.approx(at_film, abs=1e-9)


@pytest.mark.parametrize("symbol", "P B M".split())
@pytest.mark.parametrize("vowel", "AA AE AO IY".split())
def test_a_closure_is_nearly_not_moved_by_vowels(symbol, vowel):
    faces = targets_on(said(f"{vowel}:130 {symbol}:70 {vowel}:130"), range(165, 166), FAST)

    assert faces[0, OPENING] < 0.05 * FACES[vowel].opening


@pytest.mark.parametrize("consonant", "K G NG T D N".split())
def test_a_consonant_made_inside_takes_the_lips_of_its_vowel(consonant):
    """Owens & Blazek 1985: classes change beside /u/."""
    round_, spread = (
        targets_on(said(f"{vowel}:130 {consonant}:70 {vowel}:130"), range(165, 166), FAST)[0] for vowel in ("UW", "IY")
    )

    assert round_[ROUNDING] > 0.5 * FACES["UW"].rounding
    assert round_[WIDTH] < FACES[consonant].width < spread[WIDTH]


def test_rounding_begins_some_hundred_milliseconds_before_its_vowel_and_not_three_hundred():
    """Lips round through the consonants before a rounded vowel (textbooks of phonetics); the figure is from memory."""
    rounding = targets_on(said("IY:120 S:100 T:70 UW:130"), range(420), FAST)[:, ROUNDING]
    most = FACES["UW"].rounding

    assert rounding[290 - 100] > most / 2
    assert rounding[60] < most / 5


def test_rounding_spreads_further_ahead_than_after():
    rounding = targets_on(said("S:150 UW:130 S:150"), range(430), FAST)[:, ROUNDING]

    assert rounding[150 - 80] > rounding[280 + 80]


def test_h_has_the_face_of_what_follows():
    """Gillen's thesis on TCD-TIMIT, after Jeffers & Barley 1971: no visible shape of its own."""
    round_, spread = (targets_on(said(f"HH:70 {vowel}:130"), range(35, 36), FAST)[0] for vowel in ("UW", "IY"))

    assert round_ == pytest.approx(astuple(FACES["UW"]), abs=1e-9)
    assert spread == pytest.approx(astuple(FACES["IY"]), abs=1e-9)


def test_h_before_a_pause_has_a_face_of_its_own():
    faces = targets_on(said("HH:10"), range(10), FILM)

    assert faces[5] == pytest.approx(astuple(FACES["HH"]), abs=1e-9)


def test_a_diphthong_goes_from_one_face_to_the_other():
    faces = targets_on(said("OW:300"), range(300), FAST)
    rounding = faces[:, ROUNDING]

    assert (np.diff(rounding) >= -1e-12).all()
    assert rounding[0] == pytest.approx(FACES["OW"].rounding, abs=0.03)
    assert rounding[-1] == pytest.approx(GLIDES["OW"].rounding, abs=0.03)


def test_a_long_pause_is_at_rest_for_all_but_four_frames_at_each_end():
    """Common practice, no source: a mouth eases over 2 to 4 frames into a pause and rests in one of 12 or more."""
    opening = targets_on(said("AA:4 SIL:12 AA:4"), range(20), FILM)[:, OPENING]

    assert opening[4 + 1] > 0.2
    assert (opening[4 + 4 : 16 - 4] < 0.05).all()


def test_a_short_pause_does_not_get_to_rest():
    """Common practice, no source: a mouth does not rest in a pause of fewer than about 6 frames."""
    opening = targets_on(said("AA:4 SIL:5 AA:4"), range(13), FILM)[:, OPENING]

    assert opening.min() > 0.25


@given(takes(), st.floats(0, 1), st.floats(0, 1))
def test_a_louder_voice_never_opens_less(sounds, one, other):
    soft, loud = sorted((one, other))
    softly, loudly = (targets_on([replace(s, loud=x) for s in sounds], range(40), FILM) for x in (soft, loud))

    assert (loudly[:, OPENING] >= softly[:, OPENING] - 1e-12).all()
    assert loudly[:, 1:] == pytest.approx(softly[:, 1:], abs=1e-12)


def test_a_stronger_syllable_opens_more_and_the_effect_is_gentle():
    openings = [targets_on(said("AA:6", stress=k, loud=0.5), range(6), FILM)[3, OPENING] for k in (0, 1, 2)]
    softest = targets_on(said("AA:6", stress=0, loud=0.0), range(6), FILM)[3, OPENING]

    assert openings == sorted(set(openings))
    assert softest > FACES["AA"].opening / 2


def test_where_nothing_is_said_the_face_is_at_rest():
    faces = targets_on([], range(7), FILM)
    after = targets_on(said("AA:6"), range(40, 44), FILM)

    assert faces == pytest.approx(np.array([astuple(FACES[PAUSE])] * 7))
    assert after == pytest.approx(np.array([astuple(FACES[PAUSE])] * 4), abs=1e-3)


def test_a_gap_is_a_pause_and_pauses_in_a_row_are_one():
    loose = [*said("AA:4"), *said("SIL:3 SIL:2 T:2", start=6)]
    told = [(one.symbol, one.start, one.stop) for one in with_pauses(loose, range(-2, 15))]

    assert told == [("SIL", -2, 0), ("AA", 0, 4), ("SIL", 4, 11), ("T", 11, 13), ("SIL", 13, 15)]


def test_no_frames_have_no_faces():
    assert targets_on(said("AA:4"), range(3, 3), FILM).shape == (0, len(PARTS))


def test_sounds_that_overlap_are_refused():
    with pytest.raises(ValueError, match="one after the other"):
        targets_on([*said("AA:4"), *said("T:2", start=3)], range(8), FILM)


@pytest.mark.parametrize("wrong", [{"symbol": "QX"}, {"stop": Fraction(0)}, {"stress": 3}, {"loud": 1.1}])
def test_a_sound_that_cannot_be_is_refused(wrong):
    with pytest.raises(ValueError, match="not "):
        replace(said("AA:4")[0], **wrong)


def test_the_longest_shot_is_told_in_thirty_milliseconds():
    """600 frames and 200 sounds; the best of five, since others use the machine too."""
    sounds = said(" ".join(sorted(PHONES)[k % 39] for k in range(200)), length=3)
    times = []
    for _ in range(5):
        start = process_time()
        targets_on(sounds, range(600), FILM)
        times.append(process_time() - start)

    assert min(times) <= 0.03


def test_what_is_far_away_changes_no_face():
    """A long shot is as its parts are: beyond a second and a half no sound reaches, and memory stays small."""
    told = [
        Sound(symbol, Fraction(4 * k), Fraction(4 * k + 3)) for k, symbol in enumerate(["AA", "M", "UW", "S"] * 150)
    ]
    whole, part = (targets_on(told, frames, FILM) for frames in (range(2400), range(900, 1000)))

    np.testing.assert_allclose(whole[900:1000], part, atol=1e-6)
