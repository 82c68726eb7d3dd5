"""What is told of a shot, and what cannot be."""

from io import BytesIO

import pytest
from PIL import Image

from trackread.book.shot_notes import board
from trackread.errors import BookError, CutError, NotesError, SheetError
from trackread.workflow.material import gather
from trackread.workflow.shot_brief import brief_of
from trackread.workflow.telling import Telling, tell, tell_done


def told(book, name="SH010"):
    material = gather(book)
    return next(brief_of(material, shot).told for shot in material.cut.shots if shot.name == name)


def test_what_is_told_last_counts_and_the_rest_stays(film, add_cut):
    add_cut()
    tell(film, "SH010", Telling(about="Tum hides.", scene="7A"), "ANN")
    tell(film, "sh010", Telling(about="Tum hides  under the hat."), "BEN")
    tell(film, "SH010", Telling(scene=""), "BEN")

    assert (told(film).about, told(film).scene) == ("Tum hides under the hat.", "")
    assert told(film, "SH020").about == ""


def test_a_board_is_kept_once_and_put_on_the_sheet(film, add_cut, tmp_path):
    add_cut()
    board = tmp_path / "board.png"
    Image.new("RGB", (160, 90), "red").save(board)
    tell(film, "SH010", Telling(board=board), "ANN")
    tell(film, "SH020", Telling(board=board), "ANN")

    assert told(film).board == told(film, "SH020").board != ""


def test_frames_that_are_shot_are_counted_from_the_picture(film, add_cut):
    add_cut()
    tell_done(film, "SH010", 24, "ANN")
    assert told(film).done == 24
    add_cut((("SH010", 5, 0, 43), ("SH020", 200, 43, 36)), ((10, 5, 20), (30, 35, 13)))

    assert told(film).done == 19


@pytest.mark.parametrize(
    ("telling", "error", "problem"),
    [
        (Telling(), BookError, "say what is to be told"),
        (Telling(present=("NOBODY",)), BookError, "nobody is called 'NOBODY'"),
        (
            {"action": "frame;text\n0;early\nx;what\n5;\n"},
            NotesError,
            r"action.csv:2: .*\n.*action.csv:3: .*\n.*action.csv:4: ",
        ),
        ({"camera": "frame,axis,value\n1,pan,3,5\n"}, NotesError, "camera.csv:2: "),
        ({"board": "no picture"}, SheetError, "board.csv: .*PNG or JPEG"),
    ],
)
def test_what_cannot_be_told_is_refused_with_all_that_is_wrong_and_nothing_is_noted(
    film, add_cut, tmp_path, telling, error, problem
):
    add_cut()
    if isinstance(telling, dict):
        ((kind, text),) = telling.items()
        (tmp_path / f"{kind}.csv").write_text(text)
        telling = Telling(about="never", **{kind: tmp_path / f"{kind}.csv"})

    with pytest.raises(error, match=problem):
        tell(film, "SH010", telling, "ANN")
    assert told(film).notes == ()


@pytest.mark.parametrize("done", [-1, 49])
def test_no_more_frames_can_be_shot_than_there_are(film, add_cut, done):
    add_cut()

    with pytest.raises(CutError, match="SH010 has 48 frames: so many can be done, or fewer"):
        tell_done(film, "SH010", done, "ANN")


def test_text_that_is_no_utf_8_is_told_with_its_line(film, add_cut, tmp_path):
    add_cut()
    notes = tmp_path / "notes.csv"
    notes.write_bytes(b"frame,text\n1,caf\xe9\n")

    with pytest.raises(BookError, match=r"notes\.csv:2: is not UTF-8 text"):
        tell(film, "SH010", Telling(action=notes), "ANN")


@pytest.mark.parametrize(
    ("mode", "ending"), [("RGB", "jpg"), ("L", "png"), ("RGBA", "png"), ("I;16", "png"), ("CMYK", "jpg")]
)
def test_a_board_larger_than_any_sheet_needs_is_made_smaller(film, add_cut, tmp_path, mode, ending):
    add_cut()
    picture = tmp_path / f"board.{ending}"
    Image.new(mode, (4400, 1100)).save(picture)
    tell(film, "SH010", Telling(board=picture), "ANN")

    with Image.open(BytesIO(board(film, told(film).board))) as kept:
        assert kept.size == (2200, 550)


def test_a_board_of_a_fitting_size_is_kept_as_it_is(film, add_cut, tmp_path):
    add_cut()
    picture = tmp_path / "board.png"
    Image.new("P", (2200, 100)).save(picture)
    tell(film, "SH010", Telling(board=picture), "ANN")

    assert board(film, told(film).board) == picture.read_bytes()
