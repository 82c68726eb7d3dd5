"""Words and phones of TextGrids that Praat itself writes (its manual: `TextGrid file formats`)."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.grids import BINARY, LONG, SHORT, even, write_grid
from tests.makers import a_reading
from trackread.errors import LabelError
from trackread.labels.marks import Mark, Marks, marks_of, phone_marks, read_marks

TENTH = 100_000
WORDS = [("the", 0.1, 0.3), ("tram", 0.3, 0.7)]
PHONES = even("dh ax t r ae m")


def labels_of(text):
    """Labels of a tenth of a second each; a bare - is a stretch without label."""
    return [Mark("" if each == "-" else each, k * TENTH, (k + 1) * TENTH) for k, each in enumerate(text.split())]


def phones_of(text):
    """What `labels_of` gives, as phones with the tenths in which each starts and stops."""
    return [
        (mark.text, mark.start // TENTH, mark.stop // TENTH) for mark in phone_marks("take.TextGrid", labels_of(text))
    ]


@pytest.mark.parametrize("form", [LONG, SHORT])
@pytest.mark.parametrize("word", ["tram", "trâm", "“tram”", 'the "tram"'])
def test_both_text_formats_and_both_encodings_are_read(tmp_path, form, word):
    path = write_grid(tmp_path / "take.TextGrid", form=form, words=[(word, 0.25, 0.5)], phones=[("ae", 0.3, 0.4)])
    encoding = "utf-8" if word.isascii() or word == 'the "tram"' else "utf-16"
    text = path.read_text(encoding)

    assert ("ooTextFile short" in text or "item [1]:" not in text) == (form == SHORT)
    assert read_marks(path) == Marks((Mark(word, 250_000, 500_000),), (Mark("AE", 300_000, 400_000),))
    path.write_text(text, "utf-8-sig", newline="\r\n")
    assert read_marks(path) == Marks((Mark(word, 250_000, 500_000),), (Mark("AE", 300_000, 400_000),))


def test_pauses_are_no_marks(tmp_path):
    labels = [("sil", 0.0, 0.1), *WORDS, ("<p:>", 0.7, 0.8), ("*", 0.8, 0.9), ("42", 0.9, 1.0)]
    marks = read_marks(write_grid(tmp_path / "take.TextGrid", words=labels, phones=[("sil", 0.0, 0.1), *PHONES]))

    assert [mark.text for mark in marks.words] == ["the", "tram", "42"]
    assert [mark.text for mark in marks.phones] == ["DH", "AH", "T", "R", "AE", "M"]


@pytest.mark.parametrize(("words", "phones"), [("words", "phones"), ("Word", "PHONE"), ("ORTHOGRAPHY", "Segments")])
def test_tiers_are_known_by_their_names_in_any_case(tmp_path, words, phones):
    marks = read_marks(write_grid(tmp_path / "take.TextGrid", **{"tones": [], phones: PHONES, words: WORDS}))

    assert [len(marks.words), len(marks.phones)] == [2, 6]


def test_the_broader_of_two_phone_tiers_is_read(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", phones=even("t H { m"), phonemes=even("t r { m"))

    assert [mark.text for mark in read_marks(path).phones] == ["T", "R", "AE", "M"]


def test_the_first_of_two_tiers_of_one_name_is_read(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", words=WORDS, Words=[("later", 0.1, 0.2)])

    assert [mark.text for mark in read_marks(path).words] == ["the", "tram"]
    path.write_text(path.read_text("utf-8").replace('"Words"', '"words"'), "utf-8")
    assert [mark.text for mark in read_marks(path).words] == ["the", "tram"]


def test_points_are_no_words(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", phones=PHONES, points=["words"])

    assert read_marks(path).words == ()
    assert len(read_marks(path).phones) == 6


def test_a_tier_that_is_longer_than_its_file_is_read_without_a_word(tmp_path, capfd):
    path = write_grid(tmp_path / "take.TextGrid", words=WORDS)
    path.write_text(path.read_text("utf-8").replace("xmax = 1", "xmax = 0.5", 1), "utf-8")

    assert len(read_marks(path).words) == 2
    assert capfd.readouterr() == ("", "")


def test_one_tier_of_the_two_is_enough(tmp_path):
    assert read_marks(write_grid(tmp_path / "a.TextGrid", words=WORDS)).phones == ()
    assert read_marks(write_grid(tmp_path / "b.TextGrid", phones=PHONES)).words == ()


def test_a_file_without_tiers_of_ours_names_those_that_it_has(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", feet=[], points=["words"])

    with pytest.raises(LabelError) as caught:
        read_marks(path)
    assert str(caught.value) == f"{path}: has no interval tier named words or phones, only feet, words"


def test_every_unknown_symbol_is_named_with_its_file_and_first_time(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", phones=even("dh ax xx r ae qq xx"))

    with pytest.raises(LabelError) as caught:
        read_marks(path)
    assert str(caught.value) == (
        f"{path}: no phone symbol of ARPAbet: 'xx' at 0.300 s, 'qq' at 0.600 s (known are ARPAbet, SAMPA, IPA)"
    )


@pytest.mark.parametrize("content", [b"", b"Mind the step", b"\xff\xfe\x00", b"{}", b"<exists> 1", b"<exists>\n99\n"])
def test_what_is_no_textgrid_is_refused(tmp_path, content):
    path = tmp_path / "take.TextGrid"
    path.write_bytes(content)

    with pytest.raises(LabelError, match="TextGrid"):
        read_marks(path)


def test_praats_binary_format_is_refused_and_the_text_format_asked_for(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", form=BINARY, words=WORDS)

    with pytest.raises(LabelError, match="is not a TextGrid in one of Praat's text formats"):
        read_marks(path)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(LabelError, match=r"gone\.TextGrid: cannot be read"):
        read_marks(tmp_path / "gone.TextGrid")


def test_intervals_that_overlap_are_refused(tmp_path):
    path = write_grid(tmp_path / "take.TextGrid", words=WORDS)
    path.write_text(path.read_text("utf-8").replace("xmin = 0.3", "xmin = 0.2"), "utf-8")

    with pytest.raises(LabelError, match="overlap"):
        read_marks(path)


@pytest.mark.parametrize("form", [LONG, SHORT])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_a_file_that_is_cut_short_never_passes_for_a_whole_one(tmp_path, form, encoding):
    path = write_grid(tmp_path / "take.TextGrid", form=form, words=WORDS, phones=PHONES)
    whole, content = read_marks(path), path.read_text("utf-8").rstrip().encode(encoding)
    refused = 0
    for length in range(0, len(content), 7):
        path.write_bytes(content[:length])
        try:
            found = read_marks(path)
        except LabelError:
            refused += 1
        else:
            assert found == whole

    assert refused > 30


# Examples of how TIMIT marks stops: a closure and, where there is one, a release (its PHONCODE.DOC, from memory).
@pytest.mark.parametrize(
    ("labels", "phones"),
    [
        ("tcl t aa", [("T", 0, 2), ("AA", 2, 3)]),
        ("dcl jh", [("JH", 0, 2)]),
        ("tcl ch", [("CH", 0, 2)]),
        ("kcl g", [("G", 0, 2)]),
        ("cl k s cl t", [("K", 0, 2), ("S", 2, 3), ("T", 3, 5)]),
        ("VCL B aa", [("B", 0, 2), ("AA", 2, 3)]),
        # No release: the closure is all there is of the stop.
        ("hh ae dcl y uh r", [("HH", 0, 1), ("AE", 1, 2), ("D", 2, 3), ("Y", 3, 4), ("UH", 4, 5), ("R", 5, 6)]),
        ("tcl bcl b", [("T", 0, 1), ("B", 1, 3)]),
        ("tcl - t", [("T", 0, 1), ("T", 2, 3)]),
        ("eh gcl pau", [("EH", 0, 1), ("G", 1, 2)]),
        # It does not say which stop it is of.
        ("cl s", [("S", 1, 2)]),
        ("aa cl", [("AA", 0, 1)]),
        ("aa q aa", [("AA", 0, 1), ("AA", 2, 3)]),
    ],
)
def test_a_closure_belongs_to_the_stop_after_it(labels, phones):
    assert phones_of(labels) == phones


@pytest.mark.parametrize(
    ("labels", "phones"),
    [
        ("t H { S", [("T", 0, 2), ("AE", 2, 3), ("SH", 3, 4)]),
        ("t ʰ æ ʃ ə", [("T", 0, 2), ("AE", 2, 3), ("SH", 3, 4), ("AH", 4, 5)]),
        ("kcl k H { S", [("K", 0, 3), ("AE", 3, 4), ("SH", 4, 5)]),
        # Breath that follows no stop is none of our phones.
        ("{ H S", [("AE", 0, 1), ("SH", 2, 3)]),
        ("H { S", [("AE", 1, 2), ("SH", 2, 3)]),
        ("t - H { S", [("T", 0, 1), ("AE", 3, 4), ("SH", 4, 5)]),
    ],
)
def test_aspiration_belongs_to_the_stop_before_it(labels, phones):
    assert phones_of(labels) == phones


def test_of_two_phones_marked_as_one_the_second_shares_the_mark():
    marks = phone_marks("take.TextGrid", labels_of("@ d_b i: db H dH {"))

    assert [(mark.text, mark.start // TENTH, mark.stop // TENTH, mark.shared) for mark in marks] == [
        ("AH", 0, 1, False),
        ("D", 1, 2, False),
        ("B", 1, 2, True),
        ("IY", 2, 3, False),
        ("D", 3, 4, False),
        ("B", 3, 5, True),
        ("D", 5, 6, False),
        ("AE", 6, 7, False),
    ]


@given(st.lists(st.sampled_from(["tcl", "t", "cl", "k", "dcl", "d", "jh", "aa", "-", "q", "pt", "pau"])))
def test_phones_keep_their_order_and_lie_within_the_labels(labels):
    found = phone_marks("take.TextGrid", labels_of(" ".join(labels)))
    apart = [mark for mark in found if not mark.shared]

    assert all(one.stop <= other.start for one, other in pairwise(apart))
    assert all(0 <= mark.start < mark.stop <= len(labels) * TENTH for mark in found)
    releases = sum(label in ("t", "k", "d", "jh", "aa") for label in labels)
    assert len(apart) >= releases


def test_the_marks_of_a_reading_are_its_words_and_phones_without_its_pauses():
    marks = marks_of(a_reading(("tram", "T R AE1 M"), "-", ("two", "T UW1"), sample_rate=48000))

    assert [mark.text for mark in marks.words] == ["tram", "two"]
    assert [mark.text for mark in marks.phones] == ["T", "R", "AE", "M", "T", "UW"]
    assert (marks.words[1].start, marks.words[1].stop) == (420_000, 560_000)
    assert (marks.phones[3].start, marks.phones[3].stop) == (280_000, 350_000)


def test_a_cut_between_two_microseconds_goes_to_the_nearer():
    marks = marks_of(a_reading(("a", "AH0"), lengths=[2, 3, 5], sample_rate=48000))

    # 2 and 5 samples of 48 kHz are 41.67 and 104.17 microseconds.
    assert (marks.phones[0].start, marks.phones[0].stop) == (42, 104)
