"""Lines as people write them, and what is said for them.

How numbers, money and times are read aloud is British usage as the writer of these tests knows it (no source); whole
numbers are checked against num2words as well, which the module uses only below a thousand cases of its own.
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from trackread.errors import LineError
from trackread.reading.spoken import LONGEST_NUMBER, LONGEST_WORD, hints_in, spoken_forms, written_words

lines = st.text(st.sampled_from("abzÉé'’ -–—….,!?“”\"0159£$%&:()[]\n\u00ad🙂½"), max_size=40)


def said(line):
    return " ".join(word for written in written_words(line) for word in written.spoken)


def texts(line):
    return [written.text for written in written_words(line)]


@pytest.mark.parametrize(
    ("written", "spoken"),
    [
        ("route 42", "route forty two"),
        ("007", "zero zero seven"),
        ("0", "zero"),
        ("999", "nine hundred and ninety nine"),
        ("1,200", "one thousand two hundred"),
        ("10,000,000", "ten million"),
        ("12,34", "twelve thirty four"),
        ("1,2,3", "one two three"),
        ("3.14", "three point one four"),
        ("0.5", "zero point five"),
        (".5", "point five"),
        ("-5", "minus five"),
        ("−5", "minus five"),
        ("5-6", "five six"),
        ("50%", "fifty percent"),
        ("5 %", "five percent"),
        ("10°", "ten degrees"),
        ("½", "half"),
        ("3½", "three and a half"),
        ("2¾", "two and three quarters"),
        ("1st", "first"),
        ("2ND", "second"),
        ("21st,", "twenty first"),
        ("101st", "one hundred and first"),
        ("1,001st", "one thousand and first"),
        ("1984", "nineteen eighty four"),
        ("1905", "nineteen oh five"),
        ("1900", "nineteen hundred"),
        ("1066", "ten sixty six"),
        ("2000", "two thousand"),
        ("2005", "two thousand and five"),
        ("2024", "twenty twenty four"),
        ("1990s", "nineteen nineties"),
        ("the ’90s", "the nineties"),
        ("1920's", "nineteen twenties"),
        ("1900s", "nineteen hundreds"),
        ("10:05", "ten oh five"),
        ("10:00", "ten o'clock"),
        ("10:45", "ten forty five"),
        ("13:00", "thirteen hundred"),
        ("0:30", "zero thirty"),
        ("25:70", "twenty five seventy"),
        ("4:30pm", "four thirty p m"),
        ("9AM", "nine a m"),
        ("£3.50", "three pounds fifty"),
        ("£1", "one pound"),
        ("£1.00", "one pound"),
        ("£1,200", "one thousand two hundred pounds"),
        ("£0.50", "fifty pence"),
        ("£0.01", "one penny"),
        ("$0.01", "one cent"),
        ("$2.05", "two dollars five"),
        ("€7", "seven euros"),
        ("£3.5", "three point five pounds"),
        ("#1", "number one"),
        ("№ 5", "number five"),
        ("7-Eleven", "seven eleven"),
        ("٤٢", "forty two"),
    ],
)
def test_numbers_are_said_as_people_say_them(written, spoken):
    assert said(written) == spoken


@given(st.integers(0, 10**LONGEST_NUMBER - 1))
def test_a_grouped_whole_number_is_said_as_num2words_spells_it(number):
    assert said(f"{number:,}").split() == re.findall("[a-z]+", num2words(number, lang="en_GB"))


@given(st.text(st.sampled_from("0123456789"), min_size=LONGEST_NUMBER + 1, max_size=40))
def test_a_very_long_number_is_said_digit_by_digit(digits):
    assert said(digits).split() == [num2words(int(digit)) for digit in digits]


@pytest.mark.parametrize(
    ("written", "spoken"),
    [
        ("’er", "'er"),
        ("'er", "'er"),
        ("rock ’n’ roll", "rock 'n roll"),
        ("o’clock", "o'clock"),
        ("‘Tis", "'tis"),
        ("DON’T", "don't"),
        ("the dogs’ bones", "the dogs' bones"),
        ("café", "cafe"),
        ("cafe\u0301", "cafe"),
        ("naïve", "naive"),
        ("fiancée’s", "fiancee's"),
        ("HOLD TIGHT", "hold tight"),
        ("Mr. Brack", "mister brack"),
        ("Mrs Pell", "missus pell"),
        ("DR. Pell", "doctor pell"),
        ("U.S.A.", "u s a"),
        ("R&B", "r and b"),
        ("well-known", "well known"),
        ("mother-in-law’s", "mother in law's"),
        ("rock‑hard", "rock hard"),
        ("hel\u00adlo", "hello"),
        ("\ufeffHello", "hello"),
        ("two\u200bwords", "two words"),
        ("two\u00a0words", "two words"),
        ("ﬁne ｆｉｎｅ", "fine fine"),
        ("no_way *no*", "no way no"),
        ("🙂 Hello 🙂 there🙂", "hello there"),
        ("[laughs] Hello (sighs, [twice]) there", "hello there"),
        ("Hold ((very) loud) tight", "hold tight"),
    ],
)
def test_letters_are_said_without_what_is_only_written(written, spoken):
    assert said(written) == spoken


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("“Hush”, she said…", ["“Hush”,", "she", "said…"]),
        ("my pocket was in the laun—", ["my", "pocket", "was", "in", "the", "laun—"]),
        ("wait—what?", ["wait—", "what?"]),
        ("wait—“what?”", ["wait—", "“what?”"]),
        ("wait--what", ["wait--", "what"]),
        ("and…then", ["and…", "then"]),
        ("and...then", ["and...", "then"]),
        ("…and then", ["…and", "then"]),
        ("wait - what – no —", ["wait -", "what –", "no —"]),
        ("— No. —", ["No. —"]),
        ("well-known, café", ["well-known,", "café"]),
        ("Route 42, 🙂 please", ["Route", "42,", "please"]),
        ("Hold\r\n  tight!\t", ["Hold", "tight!"]),
    ],
)
def test_a_written_word_keeps_its_own_spelling(line, words):
    assert texts(line) == words


def test_one_written_word_may_be_several_spoken_ones():
    assert [written.spoken for written in written_words("This is route 42.")] == [
        ("this",),
        ("is",),
        ("route",),
        ("forty", "two"),
    ]


@pytest.mark.parametrize("line", ["", "  \n", "...!?", "—", "'''", "🙂", "[laughs]", "(sighs) …", "£", "\u00ad"])
def test_a_line_without_words_is_refused(line):
    with pytest.raises(LineError, match="has no words that could be spoken: write what is said, outside brackets"):
        written_words(line)


@pytest.mark.parametrize("word", ["привет", "你好", "Γειά", "שלום", "नमस्ते", "straße", "Łódź", "Ærø"])
def test_letters_that_english_has_not_are_refused_as_they_were_written(word):
    with pytest.raises(LineError, match=f"'{word}' is not written in English letters: write it as it sounds"):
        written_words(f"Hold tight, {word}")


def test_a_word_of_absurd_length_is_refused_and_not_printed_whole():
    with pytest.raises(LineError, match=r"^'a{20}…' has 200 letters: that is no word \(the limit is 60\)$"):
        written_words("a" * 200)
    assert said("a" * LONGEST_WORD) == "a" * LONGEST_WORD


def test_bytes_that_are_no_text_are_refused():
    with pytest.raises(LineError, match="is not UTF-8 text"):
        written_words(b"caf\xe9".decode("utf-8", "surrogateescape"))


def test_a_line_of_two_thousand_words_has_two_thousand():
    assert len(written_words("Hold tight, please! " * 667)) == 2001


@given(lines)
def test_any_line_is_words_in_english_letters_or_refused(line):
    try:
        words = written_words(line)
    except LineError:
        return

    assert words
    assert all(written.spoken and written.text.strip() for written in words)
    assert all(re.fullmatch("[a-z']*[a-z][a-z']*", word) for written in words for word in written.spoken)


@given(lines)
def test_every_written_word_stands_in_the_line_in_order(line):
    try:
        found = texts(line)
    except LineError:
        return
    place = 0
    shown = line.replace("\u00ad", "")
    for part in " ".join(found).split():
        place = shown.index(part, place) + len(part)

    assert place <= len(shown)


@given(st.lists(st.from_regex("[a-z]{1,9}", fullmatch=True), min_size=1, max_size=9))
def test_plain_words_are_said_as_they_are(words):
    plain = [word for word in words if spoken_forms(word) == (word,)]  # mr and the like are said in full

    assert said(" ".join([*plain, "tram"])).split() == [*plain, "tram"]


@pytest.mark.parametrize(
    ("line", "hints"),
    [
        ("Hold tight", ()),
        ("[laughs]", (("laughs", 0),)),
        ("[laughs] Hold tight", (("laughs", 0),)),
        ("Hold [laughs] tight", (("laughs", 1),)),
        ("Hold tight (sighs)", (("sighs", 2),)),
        ("Hold—[laughs]—tight", (("laughs", 1),)),
        ("Hold—what [laughs] tight", (("laughs", 2),)),
        ("— [gasps] No. — [sighs]", (("gasps", 0), ("sighs", 1))),
        ("Route 42, (quietly) £3.50 [laughs]", (("quietly", 2), ("laughs", 3))),
        ("[la\u00adughs] Hold", (("laughs", 0),)),
        ("Hold (sighs, [twice]) tight [laughs]", (("sighs, [twice]", 1), ("laughs", 2))),
        ("Hold ((very) loud) tight", (("loud", 1), ("very", 1))),
        ("Hold [tight (please", ()),
        ("Hold ] tight ) please [laughs]", (("laughs", 3),)),
    ],
)
def test_a_hint_is_found_with_the_number_of_words_before_it(line, hints):
    assert hints_in(line) == hints


@given(lines)
def test_no_hint_stands_after_more_words_than_the_line_has(line):
    try:
        words = len(written_words(line))
    except LineError:
        return
    after = [count for _, count in hints_in(line)]

    assert after == sorted(after)
    assert all(0 <= count <= words for count in after)


@given(st.lists(st.sampled_from(["tram", "42,", "laun—", "[laughs]", "(sighs [twice])", "…"]), max_size=12))
def test_hints_split_a_line_into_the_words_around_them(tokens):
    line = " ".join(["Mind", *tokens])
    expected = [
        len(written_words(" ".join(["Mind", *tokens[:k]]))) for k, token in enumerate(tokens) if token[0] in "[("
    ]

    assert [count for _, count in hints_in(line)] == expected
