"""The sheet of a shot, from the book to its rows."""

from tests.films import edl, picture, voice
from trackread.core.rows import rows_of
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.correcting import correct, move
from trackread.workflow.decisions import assign
from trackread.workflow.made_sheets import made_sheets
from trackread.workflow.material import gather
from trackread.workflow.placing import add_shot, place
from trackread.workflow.shots import Choice, chosen_briefs, sheet_wish
from trackread.workflow.telling import Telling, tell


def sheets(book, *names):
    """The sheets of shots by their names, all of the film unless some are named."""
    briefs = chosen_briefs(gather(book), Choice(names, every=not names))
    return {brief.shot.name: sheet for brief, sheet in made_sheets(book, briefs, sheet_wish(book.production))}


def words(sheet, number=0):
    return [(cell.text, cell.first, cell.stop, cell.before, cell.beyond) for cell in sheet.voices[number].words]


def test_each_phone_stands_where_the_cut_plays_it(film, add_cut):
    add_cut()
    found = sheets(film)

    # The take's first frame is frame 10 of the film, and a phone lasts a frame: "Mind" has four, after one of silence.
    assert words(found["SH010"]) == [
        ("Mind", 11, 15, False, False),
        ("the", 15, 17, False, False),
        ("step,", 17, 21, False, False),
        ("ticket!", 24, 29, False, False),
    ]
    # Miss Pell begins on 41, and the cut is at 48: "please" starts on 49, in the next shot.
    assert words(found["SH010"], 1) == [("Tickets", 41, 47, False, False)]
    assert words(found["SH020"]) == [("please", 0, 4, False, False)]
    assert [voice.character for voice in found["SH010"].voices] == ["BRACK", "MISS PELL"]


def test_a_word_over_the_cut_begins_in_one_shot_and_goes_on_in_the_next(film, add_cut):
    add_cut(pieces=((30, 44, 13),))
    found = sheets(film)

    assert words(found["SH010"]) == [("Tickets", 45, 48, False, True)]
    assert words(found["SH020"])[0] == ("Tickets", 0, 3, True, False)
    assert rows_of(found["SH020"])[0].voices[0].word.starts is False


def test_the_head_says_who_is_there_what_is_heard_and_from_where(film, add_cut):
    add_cut(pieces=((40, 0, 13), (10, 20, 20)))
    sheet = sheets(film)["SH010"]

    assert (sheet.heading.scene, sheet.heading.shot) == ("7", "SH010")
    # In the order of production.toml.
    assert [(voice.character, voice.extension) for voice in sheet.voices] == [("BRACK", ""), ("TUM", "O.S.")]
    assert sheet.heading.listeners == ("MISS PELL",)
    assert sheet.heading.take == "L0001-1, L0003-1"
    assert [(one.line, one.first, one.stop) for one in sheet.lines] == [("L0003", 0, 13), ("L0001", 20, 40)]


def test_what_is_told_of_a_shot_is_on_its_sheet_and_moves_with_a_trim_of_its_head(film, add_cut, tmp_path):
    add_cut()
    action, camera = tmp_path / "action.csv", tmp_path / "camera.csv"
    action.write_text("frame,text\n13,Tum hides\n")
    camera.write_text("frame,axis,value\n1,pan,0\n25,pan,12.5\n")
    tell(film, "SH010", Telling(about="Tum has no ticket.", present=("tum",), action=action, camera=camera), "ANN")
    sheet = sheets(film)["SH010"]
    assert [(cell.first, cell.text) for cell in sheet.action] == [(12, "Tum hides")]
    assert [(cell.first, cell.text) for cell in sheet.camera] == [(0, "pan 0 to 12.5"), (24, "pan at 12.5")]
    assert (sheet.heading.about, sheet.heading.listeners) == ("Tum has no ticket.", ("TUM",))

    add_cut(shots=(("SH010", 5, 0, 43), ("SH020", 200, 43, 36)), pieces=((10, 5, 20), (30, 35, 13)))
    sheet = sheets(film)["SH010"]
    assert [(cell.first, cell.text) for cell in sheet.action] == [(7, "Tum hides")]
    assert [(cell.first, cell.text, cell.before) for cell in sheet.camera] == [
        (0, "pan 0 to 12.5", True),
        (19, "pan at 12.5", False),
    ]


def test_words_that_are_missing_are_warned_of_on_the_sheet(film, add_cut):
    add_cut(pieces=((50, 0, 10), (70, 20, 24)))
    sheet = sheets(film)["SH010"]

    assert sheet.heading.warning == (
        "FRAMES 1 TO 10: L0004-1 HAS NOT BEEN READ, SO ITS WORDS ARE MISSING; "
        "FRAMES 21 TO 44: S1-007 MAY BE A LINE, AND NOBODY HAS SAID WHICH"
    )
    assign(film, "S1-007", "L0004", "ANN", None)
    assert "MAY BE A LINE" not in sheets(film)["SH010"].heading.warning


def test_a_line_without_a_take_is_warned_of(film):
    add_shot(film, "SH010", "24", author="ANN")
    place(film, "L0004", "SH010", 3, author="ANN")
    assign(film, "L0004-1", "chatter", "ANN", None)

    assert sheets(film)["SH010"].heading.warning == "FROM FRAME 3: L0004 HAS NO TAKE YET"


def test_a_shot_without_dialogue_has_a_sheet(film, add_cut):
    add_cut(pieces=())
    sheet = sheets(film)["SH010"]

    assert (sheet.voices, sheet.length) == ((), 48)


def test_a_take_played_at_double_speed_takes_half_the_frames(film, tmp_path):
    rate = film.production.rate
    file = tmp_path / "fast.edl"
    file.write_text(edl(picture(1, "SH010", 0, 86400, 48, rate), voice(2, 10, 86410, 10, rate, speed=2)))
    add_lists(film, [file], ListWish(), "ANN")

    # Phone k of the take starts with its frame k, which is heard on frame k / 2, rounded down.
    assert [(text, first) for text, first, *_ in words(sheets(film)["SH010"])] == [
        ("Mind", 10),
        ("the", 12),
        ("step,", 13),
        ("ticket!", 17),
    ]


def test_a_corrected_word_moves_on_the_sheet(film, add_cut):
    add_cut()
    correct(film, "L0001-1", move("ticket!", 13), "ANN")

    # Frame 13 of the take, which is numbered from 1, is heard on frame 22 of the shot, counted from 0.
    assert words(sheets(film)["SH010"])[-1][:2] == ("ticket!", 22)
