"""Faces of sounds, held against published groupings of sounds that look alike and against the chart of the IPA.

The groupings are six published maps of phones to mouths: MPEG-4 (ISO/IEC 14496-2), Jeffers & Barley 1971, Neti et al.
2000, Lee & Yook 2002, Bozkurt 2007 and Owens & Blazek 1985, the latter five as cited by others (Gillen's thesis on
TCD-TIMIT, Cappelletta & Harte 2012), Bozkurt from memory. HH has no shape in them.
"""

from dataclasses import astuple
from itertools import pairwise

import numpy as np
import pytest

from trackread.core.mouth import PARTS, Face
from trackread.core.phones import PAUSE, PHONES, VOWELS
from trackread.mouths.faces import FACES, GLIDES, STRENGTHS, faces_of, fading

# Sounds that share a mouth in every map that has an opinion, and those outside that at least one map puts with them.
ALIKE = {
    "P B M": "",
    "F V": "",
    "CH JH SH ZH": "",
    "TH DH": "T D S Z",
    "S Z": "T D TH DH K G N L",
    "T D": "TH DH S Z K G N L",
    "K G NG": "T D S Z W Y HH N L",
    "AE EH EY": "IH IY AA AH AY Y",
    "IH IY": "AE EH EY AA AH AY Y",
    "UH UW": "OW W R ER",
    "AO OY": "AA AH AW ER OW",
}

# The chart of vowels of the IPA (IPA Handbook), from close to open; a diphthong stands where it begins.
HEIGHTS = ("IY UW", "IH UH", "EY OW", "EH AH AO OY", "AE", "AA AW AY")


def distance(one, other):
    return float(np.linalg.norm(np.subtract(astuple(FACES[one]), astuple(FACES[other]))))


@pytest.mark.parametrize("group", ALIKE)
def test_sounds_that_share_a_mouth_are_nearer_to_each_other_than_to_any_they_never_share_one_with(group):
    alike = group.split()
    unlike = {*PHONES} - {*alike} - {*ALIKE[group].split()} - {"HH"}
    within = max(distance(one, other) for one in alike for other in alike)

    assert len(unlike) > 20
    assert all(distance(one, other) > within for one in alike for other in unlike)


def test_the_lower_a_vowel_the_wider_the_mouth():
    openings = [[FACES[symbol].opening for symbol in height.split()] for height in HEIGHTS]

    assert {*" ".join(HEIGHTS).split()} | {"ER"} == VOWELS  # the chart has no place for r-coloured vowels
    assert all(max(closer) < min(wider) for closer, wider in pairwise(openings))


@pytest.mark.parametrize("symbol", "UW UH OW AO OY W CH JH SH ZH".split())
def test_what_the_ipa_or_textbooks_call_rounded_is_round(symbol):
    """u ʊ o ɔ w by the IPA's chart; English ʃ ʒ tʃ dʒ have rounded lips by Ladefoged & Johnson (from memory)."""
    assert FACES[symbol].rounding >= 0.5


@pytest.mark.parametrize("symbol", "AA AE AH AY AW EH EY IH IY Y".split())
def test_unrounded_vowels_are_not_round(symbol):
    assert FACES[symbol].rounding <= 0.05


def test_lips_close_for_bilabials_and_rest_alone_and_teeth_bite_for_labiodentals_alone():
    """Bilabial and labiodental are places of articulation of the IPA's chart."""
    assert {symbol for symbol, face in FACES.items() if face.opening == 0} == {"P", "B", "M", PAUSE}
    assert {symbol for symbol, face in FACES.items() if face.bite > 0} == {"F", "V"}


def test_the_tongue_is_seen_best_between_the_teeth():
    """Dental before alveolar lateral before the other alveolars, by the place of articulation in the IPA's chart."""
    assert FACES["TH"].tongue > FACES["L"].tongue > FACES["T"].tongue > 0
    assert {symbol for symbol, face in FACES.items() if face.tongue > 0} == {*"TH DH L T D N".split()}


def test_every_phone_and_the_pause_have_a_face_and_its_strengths():
    assert {*FACES} == {*STRENGTHS} == {*PHONES, PAUSE}
    assert all(len(five) == len(PARTS) and min(five) > 0 for five in STRENGTHS.values())


def test_diphthongs_have_two_faces_and_no_other_sound_has():
    """Those that the IPA writes with two vowels."""
    glides = {symbol for symbol in VOWELS if len(PHONES[symbol][2]) == 2}

    assert glides == {*GLIDES}
    assert all(len(faces_of(symbol)) == 1 + (symbol in glides) for symbol in FACES)


@pytest.mark.parametrize(("glide", "towards"), [("AW", "UH"), ("OW", "UH"), ("AY", "IH"), ("EY", "IH"), ("OY", "IH")])
def test_a_diphthong_ends_nearer_to_its_second_vowel_than_it_begins(glide, towards):
    """IPA: aʊ oʊ end in ʊ, aɪ eɪ ɔɪ in ɪ."""
    begin, end = (np.subtract(astuple(face), astuple(FACES[towards])) for face in faces_of(glide))

    assert np.linalg.norm(end) < np.linalg.norm(begin)
    assert np.linalg.norm(end) < 0.2


def test_rounding_is_asked_for_longer_ahead_than_after_and_a_closure_lets_go_faster_than_a_vowel():
    ahead, after = fading("UW")
    rounding, opening = PARTS.index("rounding"), PARTS.index("opening")

    assert ahead[rounding] < after[rounding]
    assert min(fading("P")[side][opening] for side in (0, 1)) > max(ahead[opening], after[opening])


def test_a_pause_looks_like_closed_lips():
    assert FACES[PAUSE] == FACES["M"] == Face()
