"""One take from its recording to its files."""

import json
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

from tests.makers import ReaderByHand
from trackread.core.reading import Match
from trackread.core.sheet import Heading
from trackread.core.timebase import parse_rate
from trackread.errors import OutputError, ReadingError, SheetError, SoundError
from trackread.labels.marks import read_marks
from trackread.workflow.demo import demo_takes
from trackread.workflow.printing import form_for
from trackread.workflow.read_take import Outputs, Take, read_take
from trackread.workflow.sheet_of_take import Terms

FORM = form_for(Terms(parse_rate("24"), first_number=101))
SOUND = demo_takes()[8].path
ANOTHER_LINE = Match(0.2, says_line=False)


def a_take(**changes):
    return Take(
        **{"path": SOUND, "line": "No ticket!", "character": "MISS PELL", "heading": Heading(take="9")} | changes
    )


def outputs_in(folder):
    return Outputs(folder / "a.pdf", folder / "a.TextGrid", folder / "a.json")


def text_of(pdf):
    with pdfplumber.open(BytesIO(pdf)) as document:
        return "\n".join(page.extract_text() for page in document.pages)


def test_a_take_gives_a_sheet_a_textgrid_and_a_reading_that_agree(tmp_path):
    outputs = outputs_in(tmp_path)
    reading = read_take(a_take(), outputs, FORM, ReaderByHand())
    texts = [word.text for word in reading.words]
    printed = text_of(outputs.sheet.read_bytes())

    assert texts
    assert [mark.text for mark in read_marks(outputs.textgrid).words] == texts
    assert [word["text"] for word in json.loads(outputs.json.read_bytes())["words"]] == texts
    assert all(text in printed for text in (*texts, "MISS PELL", "Take 9", "101"))


def test_only_what_is_asked_for_is_written(tmp_path):
    read_take(a_take(), Outputs(json=tmp_path / "a.json"), FORM, ReaderByHand())

    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]


def test_the_same_take_gives_the_same_bytes(tmp_path):
    once, again = tmp_path / "1", tmp_path / "2"
    for folder in (once, again):
        folder.mkdir()
        read_take(a_take(), outputs_in(folder), FORM, ReaderByHand())

    assert sorted(once.iterdir())
    for path in once.iterdir():
        assert path.read_bytes() == (again / path.name).read_bytes()


def test_a_take_that_says_something_else_has_no_sheet_and_nothing_is_written(tmp_path):
    outputs = outputs_in(tmp_path)
    outputs.sheet.write_text("an older sheet")

    with pytest.raises(
        ReadingError, match=r"does not say 'No ticket!' \(match 0.20\), so no sheet was made: .*--anyway"
    ):
        read_take(a_take(), outputs, FORM, ReaderByHand(match=ANOTHER_LINE))
    assert list(tmp_path.iterdir()) == [outputs.sheet]
    assert outputs.sheet.read_text() == "an older sheet"


def test_a_sheet_made_anyway_warns_in_capitals(tmp_path):
    outputs = outputs_in(tmp_path)
    read_take(a_take(), outputs, FORM, ReaderByHand(match=ANOTHER_LINE), anyway=True)

    assert "TAKE DOES NOT SAY THIS LINE (MATCH 0.20): DO NOT SHOOT" in text_of(outputs.sheet.read_bytes())


def test_a_take_that_says_something_else_still_has_its_reading(tmp_path):
    outputs = Outputs(json=tmp_path / "a.json")
    read_take(a_take(), outputs, FORM, ReaderByHand(match=ANOTHER_LINE))

    assert json.loads(outputs.json.read_bytes())["says_line"] is False


def test_the_recording_is_never_written_over(tmp_path):
    take = tmp_path / "take.flac"
    take.write_bytes(SOUND.read_bytes())
    reader = ReaderByHand()

    with pytest.raises(OutputError, match=r"take[.]flac cannot be written: it is among the files to be read"):
        read_take(a_take(path=take), Outputs(json=take), FORM, reader)
    assert reader.lines == []
    assert take.read_bytes() == SOUND.read_bytes()


def test_a_place_that_cannot_be_written_is_told_before_anything_is_read(tmp_path):
    reader = ReaderByHand()

    with pytest.raises(OutputError, match="there is no folder"):
        read_take(a_take(), outputs_in(tmp_path / "nowhere"), FORM, reader)
    assert reader.lines == []


def test_a_missing_recording_is_named():
    with pytest.raises(SoundError, match=r"gone[.]wav: no such file"):
        read_take(a_take(path=Path("gone.wav")), Outputs(), FORM, ReaderByHand())


@pytest.mark.parametrize(
    ("choice", "words"),
    [
        ({"paper": "a5"}, "'a5' is not a paper for sheets: use one of A4, Letter, A3, Tabloid"),
        ({"rows": 30}, "a sheet on A4 has 48 or 24 rows, not 30"),
        ({"count": "metres"}, "'metres' is not a count for sheets"),
    ],
)
def test_a_form_that_no_sheet_has_is_refused(choice, words):
    with pytest.raises(SheetError, match=words):
        form_for(Terms(parse_rate("24")), **choice)


@pytest.mark.parametrize("name", ["a4", "A4", "letter", "A3", "tabloid"])
def test_a_paper_is_named_in_any_case(name):
    assert form_for(Terms(parse_rate("24")), name).paper.name.lower() == name.lower()
