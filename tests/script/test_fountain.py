"""Screenplays in Fountain. The syntax is that of fountain.io/syntax (IANA markdown variant "Fountain", 2015).

What the cases say of (MORE) and CONTINUED is common practice, no source: programs print them at page breaks.
"""

import tomllib
from pathlib import Path

import pytest

from trackread.errors import ScriptError
from trackread.script.fountain import read_fountain
from trackread.script.reading import read_script
from trackread.script.rows import Source

TRAM = Path(__file__).resolve().parent.parent.parent / "fixtures" / "late-tram"


def read(text):
    return read_fountain(Source("tram.fountain", text, "tram"))


def said(text):
    """Who says what."""
    return [(line.character, line.text) for line in read(text).lines]


def scene_of(heading):
    """The scene of a line below this row; none if the row is no heading."""
    return read(f"Rain.\n\n{heading}\n\nTUM\nA hat.\n").lines[0].scene


def is_cue(row, before="Rain.\n\n", after="\nA hat.\n"):
    rest = "\n\nBRACK\nHold tight!\n"
    return len(read(f"{before}{row}{after}{rest}").lines) == 2


def test_the_demo_scene_has_the_demo_lines_word_for_word():
    script = read_script(TRAM / "late-tram.fountain")
    listed = tomllib.loads((TRAM / "lines.toml").read_text(encoding="utf-8"))["line"]

    assert len(listed) == 14
    assert [(line.character, line.text, line.scene) for line in script.lines] == [
        (line["character"], line["text"], line["scene"]) for line in listed
    ]
    assert script.title == "The Late Tram"
    assert [line.number for line in script.lines if line.dual] == [9]  # Miss Pell cuts Tum off


@pytest.mark.parametrize(
    "heading",
    ["INT. TRAM", "EXT. TRAM", "EST. TRAM", "INT./EXT. TRAM", "INT/EXT. TRAM", "INT/EXT TRAM", "I/E TRAM", "ext tram"],
)
def test_a_scene_without_a_number_is_named_by_its_heading(heading):
    assert scene_of(heading) == heading


def test_a_full_stop_forces_a_heading_and_two_do_not():
    assert scene_of(".UNDER THE HAT") == "UNDER THE HAT"
    assert scene_of("..under the hat") == ""
    assert scene_of("INTERLUDE") == ""


@pytest.mark.parametrize("number", ["12A", "110-A", "7.5", "1"])
def test_a_scene_is_named_by_its_number_where_it_has_one(number):
    assert scene_of(f"INT. TRAM - NIGHT #{number}#") == number


@pytest.mark.parametrize(
    "cue",
    [
        "TUM",
        "R2D2",
        "MISS PELL",
        "MR. BRACK",
        "TUM (on the roof)",
        "@McTum",
        "@Tum (V.O.)",
        "TUM ^",
        "  TUM",
        "23 TRAM",
    ],
)
def test_a_name_in_capitals_or_forced_is_a_cue(cue):
    assert is_cue(cue)


@pytest.mark.parametrize(
    "cue", ["ZOË", "ÉMILE (V.O.)", "ЖУК", "TUM & BRACK", "TUM/BRACK", "TUM, A HAT", "O’MALLOW", "ZOË ^"]
)
def test_a_name_with_letters_and_signs_beyond_ascii_is_a_cue(cue):
    assert is_cue(cue)


@pytest.mark.parametrize("row", ["23", "Tum", "!TUM", "INT. TRAM", "TUM:", "@23", "#TUM", "=TUM"])
def test_what_has_no_letter_or_is_no_name_in_capitals_is_no_cue(row):
    assert not is_cue(row)


def test_a_cue_has_an_empty_line_before_it_and_none_after():
    assert not is_cue("TUM", before="Rain.\n")
    assert not is_cue("TUM", after="\n\nA hat.\n")
    assert is_cue("TUM", before="")


def test_words_in_capitals_below_a_cue_are_words():
    assert said("TUM\nHELP\nme\n") == [("TUM", "HELP me")]


def test_a_parenthetical_stays_in_the_line_as_a_hint():
    assert said("TUM\n(very small)\nI have (beat) two acorns.\n(he has three)\n") == [
        ("TUM", "(very small) I have (beat) two acorns. (he has three)")
    ]


def test_a_parenthetical_over_two_rows_is_one_hint():
    assert said("TUM\n(to Brack;\nquietly)\nNo.\n") == [("TUM", "(to Brack; quietly) No.")]


def test_a_line_of_hints_alone_is_a_line():
    assert said("TUM\n(sneezes)\n") == [("TUM", "(sneezes)")]


@pytest.mark.parametrize("mark", ["*{}*", "**{}**", "***{}***", "_{}_", "_*{}*_"])
def test_marks_of_emphasis_are_no_part_of_the_words(mark):
    assert said(f"TUM\nI am {mark.format('only')} a hat.\n") == [("TUM", "I am only a hat.")]


def test_an_escaped_mark_is_a_sign():
    assert said("TUM\nIt says \\*HAT\\* on it.\n") == [("TUM", "It says *HAT* on it.")]


@pytest.mark.parametrize(
    "text",
    [
        "TUM\nI have [[count them]] two acorns.\n",
        "TUM\n[[count them]]\nI have two acorns.\n",
        "TUM [[the dormouse]]\nI have two acorns.\n",
        "TUM\nI have /* only */ two acorns.\n",
        "TUM\nI have /* only\n\nas it\nseems */ two acorns.\n",
        "TUM\nI have [[count\nthem]] two acorns.\n",
        "/*\nBRACK\nNo.\n*/\n\nTUM\nI have two acorns.\n",
        "TUM\nI have two\n  \nacorns.\n",
        "# Act one\n\n= He has acorns.\n\nTUM\nI have two acorns.\n\n===\n\n> FADE OUT.\n\n> END <\n",
        "TUM\nI have two acorns.\n\nCUT TO:\n\n~acorns, acorns\n",
        "TUM\nI have two acorns.\n\n~acorns, acorns\n",
        "TUM\nI have two acorns.\n\n!TUM\nexit.\n",
        "Title: Hats\n\nTUM\nI have two acorns.\n",
    ],
)
def test_notes_cut_passages_and_everything_unspoken_are_left_out(text):
    assert said(text) == [("TUM", "I have two acorns.")]


def test_a_lyric_is_sung_by_the_character_in_whose_block_it_stands():
    assert said("TUM\nListen.\n~Hold tight,\n~the lamp is out\n") == [("TUM", "Listen. Hold tight, the lamp is out")]


def test_an_empty_line_of_stray_spaces_ends_a_speech_and_two_spaces_do_not():
    assert said("TUM\nA hat.\n \nBRACK\nNo.\n") == [("TUM", "A hat."), ("BRACK", "No.")]
    assert said("TUM\nA hat.\n    \nBRACK\nNo.\n") == [("TUM", "A hat."), ("BRACK", "No.")]
    assert said("TUM\nA hat.\n  \nNO\n") == [("TUM", "A hat. NO")]


@pytest.mark.parametrize(
    ("extension", "kept"),
    [
        ("(CONT'D)", ""),
        ("(cont’d)", ""),
        ("(continued)", ""),
        ("(V.O.)", "V.O."),
        ("(vo)", "V.O."),
        ("(O.S.) (CONT'D)", "O.S."),
        ("(on the radio)", "on the radio"),
    ],
)
def test_an_extension_is_no_part_of_the_name(extension, kept):
    (line,) = read(f"TUM {extension}\nA hat.\n").lines

    assert (line.character, line.extension) == ("TUM", kept)


def test_one_name_in_several_spellings_is_one_character_as_first_spelt():
    text = "@Miss Pell\nNo.\n\nMISS PELL (V.O.)\nNo.\n\nMISS  PELL (CONT'D)\nNo.\n"

    assert {line.character for line in read(text).lines} == {"Miss Pell"}


def test_a_caret_says_that_a_line_is_spoken_with_the_one_before():
    text = "BRACK\nOne.\n\nTUM ^\nTwo.\n\nMISS PELL (O.S.) ^\n~Three.\n\nBRACK\nFour.\n"

    assert [line.dual for line in read(text).lines] == [False, True, True, False]


def test_a_caret_with_nothing_before_it_in_the_scene_means_nothing():
    assert [line.dual for line in read("TUM ^\nOne.\n\nINT. TRAM\n\nTUM ^\nTwo.\n").lines] == [False, False]


@pytest.mark.parametrize(
    "turn", ["", "===\n\n", "(CONTINUED)\n\n", "CONTINUED:\n\n", "(CONTINUED)\n\n12.\n\nCONTINUED:\n\n", "[[page]]\n\n"]
)
def test_a_speech_cut_by_a_page_break_is_one_line(turn):
    assert said(f"TUM\nIt is such\n(MORE)\n\n{turn}TUM (CONT'D)\na long way.\n") == [("TUM", "It is such a long way.")]


@pytest.mark.parametrize(
    "text",
    [
        "TUM\nNo.\n\nTUM (CONT'D)\nNo.\n",
        "TUM\nNo.\n(MORE)\n\nHe sneezes.\n\nTUM (CONT'D)\nNo.\n",
        "TUM\nNo.\n(MORE)\n\nBRACK (CONT'D)\nNo.\n",
        "TUM\nNo.\n(MORE)\n\nTUM\nNo.\n",
    ],
)
def test_speeches_that_no_page_break_has_cut_are_lines_of_their_own(text):
    assert [words for _, words in said(text)] == ["No.", "No."]


def test_a_line_says_where_its_cue_stands_in_the_file():
    assert [line.source_line for line in read("Title: Hats\n\nTUM\nOne.\n\nBRACK\nTwo.\n").lines] == [3, 6]


def test_comments_that_never_end_are_told_all_at_once():
    with pytest.raises(ScriptError) as told:
        read("TUM\nNo.\n\nTUM\nA [[hat.\n\nBRACK\nNo.\n\n/* Cut\n\nTUM\nNo.\n")

    rows = str(told.value).split("\n")
    assert [row.split(": ")[0] for row in rows] == ["tram.fountain:5", "tram.fountain:10"]
    assert "never closed" in rows[0]
    assert "write */" in rows[1]


def test_a_cue_without_a_name_is_told():
    with pytest.raises(ScriptError, match=r"^tram\.fountain:4: this cue names nobody"):
        read("TUM\nNo.\n\n@(tum\nNo.\n")


@pytest.mark.parametrize("text", ["", "\n\n", "INT. TRAM\n\nRain.\n", "TUM\n(MORE)\n"])
def test_a_script_in_which_nobody_speaks_is_refused(text):
    with pytest.raises(ScriptError, match=r"tram\.fountain: nobody speaks in it: write a character's name in capitals"):
        read(text)
