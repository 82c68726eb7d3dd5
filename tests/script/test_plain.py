"""Scripts as `NAME: words`: a form of our own."""

import pytest

from trackread.errors import ScriptError
from trackread.script.plain import read_plain
from trackread.script.rows import Source


def read(text):
    return read_plain(Source("tram.txt", text, "tram"))


@pytest.mark.parametrize(
    ("heading", "scene"),
    [
        ("# 12 INT. DEPOT", "12"),
        ("#12A INT. DEPOT", "12A"),
        ("# 7. The tram", "7"),
        ("# INT. DEPOT", "INT. DEPOT"),
        ("## INT. DEPOT ##", "INT. DEPOT"),
    ],
)
def test_a_row_with_a_number_sign_begins_a_scene(heading, scene):
    assert read(f"{heading}\nTUM: No.\n").lines[0].scene == scene


@pytest.mark.parametrize(
    ("row", "character", "text"),
    [
        ("TUM: No.", "TUM", "No."),
        ("  Miss Pell :  (dry)  No. ", "Miss Pell", "(dry) No."),
        ("TUM (CONT'D): It is 10:05: late. (MORE)", "TUM", "It is 10:05: late."),
        ("TRAM 42: Ding.", "TRAM 42", "Ding."),
    ],
)
def test_a_row_is_a_name_and_words(row, character, text):
    (line,) = read(f"\n{row}\n").lines

    assert (line.character, line.text, line.source_line) == (character, text, 2)


def test_every_faulty_row_is_told_at_once():
    with pytest.raises(ScriptError) as told:
        read("TUM: No.\nand so to bed\n10:05 it is\nTUM:\nTUM: (MORE)\n" + "long " * 20)

    assert str(told.value).split("\n") == [
        "tram.txt:2: 'and so to bed' does not say who speaks: write `NAME: words`, all the words in one row",
        "tram.txt:3: '10:05 it is' has no name before the colon: write `NAME: words`",
        "tram.txt:4: 'TUM:' has no words after the colon: write what is said, or leave the row out",
        "tram.txt:5: 'TUM: (MORE)' has no words after the colon: write what is said, or leave the row out",
        "tram.txt:6: 'long long long long long long long long …' does not say who speaks: "
        "write `NAME: words`, all the words in one row",
    ]


def test_a_script_of_scenes_alone_is_refused():
    with pytest.raises(ScriptError, match="nobody speaks in it"):
        read("# 12 INT. DEPOT\n")
