"""Lines, scripts and changes are checked when they are made."""

from dataclasses import replace

import pytest

from trackread.core.script import Change, ChangeKind, Script, ScriptLine, id_number, line_id, speaker_of

LINE = ScriptLine("L0001", 1, "7", "TUM", "I have two acorns.", 64)
SCRIPT = Script("The Late Tram", (LINE, replace(LINE, id="L0002", number=2)), "0" * 64, 2)


@pytest.mark.parametrize(("number", "text"), [(1, "L0001"), (107, "L0107"), (9999, "L9999"), (10000, "L10000")])
def test_an_id_is_a_number_that_reads_back(number, text):
    assert line_id(number) == text
    assert id_number(text) == number


@pytest.mark.parametrize("text", ["", "L1", "L0000", "L00001", "12-007", "l0001", "L0001 "])
def test_what_is_no_id_is_refused(text):
    with pytest.raises(ValueError, match="not the id of a line"):
        replace(LINE, id=text)


@pytest.mark.parametrize(
    "change",
    [
        {"number": 0},
        {"source_line": 0},
        {"character": ""},
        {"text": ""},
        {"text": "two\nrows"},
        {"text": " a space before"},
        {"dual": True},
    ],
)
def test_a_line_that_cannot_be_is_refused(change):
    with pytest.raises(ValueError, match=r"count from 1|one row|none before"):
        replace(LINE, **change)


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"title": " "}, "title"),
        ({"digest": "abc"}, "SHA-256"),
        ({"lines": SCRIPT.lines[1:]}, "numbered"),
        ({"lines": (LINE, replace(LINE, number=2))}, "id of its own"),
        ({"issued": 1}, "was given"),
    ],
)
def test_a_script_that_cannot_be_is_refused(change, problem):
    with pytest.raises(ValueError, match=problem):
        replace(SCRIPT, **change)


@pytest.mark.parametrize(
    ("kind", "before", "after", "words"),
    [
        (ChangeKind.NEW, LINE, LINE, ()),
        (ChangeKind.NEW, None, None, ()),
        (ChangeKind.GONE, LINE, LINE, ()),
        (ChangeKind.GONE, None, None, ()),
        (ChangeKind.SAME, None, LINE, ()),
        (ChangeKind.MOVED, LINE, None, ()),
        (ChangeKind.CHANGED, LINE, LINE, ()),
        (ChangeKind.SAME, LINE, LINE, ((ChangeKind.SAME, "I"),)),
        (ChangeKind.CHANGED, LINE, LINE, ((ChangeKind.MOVED, "I"),)),
    ],
)
def test_a_change_has_the_lines_and_words_of_its_kind(kind, before, after, words):
    with pytest.raises(ValueError, match=r"line (before|after)|which words|the same, new or gone"):
        Change(kind, before, after, words)


def test_a_name_is_one_in_every_case_and_spacing():
    assert speaker_of("Miss  Pell") == speaker_of("MISS PELL")
    assert speaker_of("O’MALLOW") == speaker_of("O'Mallow")
    assert speaker_of("TUM") != speaker_of("TUMS")
