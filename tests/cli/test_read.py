"""`trackread read`, with a reading made by hand, and once with the engines."""

import json
from pathlib import Path

import pytest

from tests.makers import ReaderByHand, a_reading
from trackread.cli.main import main
from trackread.core.reading import Match
from trackread.sheets.paper import PAPERS

ROOT = Path(__file__).resolve().parent.parent.parent
TAKE = str(ROOT / "fixtures" / "late-tram" / "09-pell-no-ticket.flac")


@pytest.fixture
def run(capsys):
    """Runs `trackread read` and gives its status, output and errors."""

    def run(*arguments, reader=None):
        by_hand = reader or ReaderByHand()
        with pytest.raises(SystemExit) as left:
            main(["read", *map(str, arguments)], reader=lambda _: by_hand)
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return run


def test_without_outputs_the_words_are_shown_on_their_frames(run):
    status, told, errors = run(TAKE, "--line", "No ticket!", "--first-frame", 101)
    rows = [line.split() for line in told.splitlines()]

    assert (status, errors) == (0, "")
    assert rows[0] == ["frame", "word", "stress", "sounds", "doubt"]
    # 0.07 s of pause at 24 frames a second.
    assert rows[1] == ["102", "Mind", "strong", "m", "eye", "n", "d", "0.10"]
    assert [row[1] for row in rows[1:]] == [word.text for word in a_reading().words]


def test_ipa_is_shown_on_request(run):
    assert "m aɪ n d" in run(TAKE, "--line", "No ticket!", "--ipa")[1]


def test_what_is_written_is_told_and_nothing_else(run, tmp_path):
    places = [tmp_path / name for name in ("a.pdf", "a.TextGrid", "a.json")]
    status, told, errors = run(
        *(TAKE, "--line", "No ticket!", "--sheet", places[0], "--textgrid", places[1], "--json", places[2]),
        *("--paper", "letter", "--rows", 24, "--count", "footage35", "--rate", "25"),
    )

    assert (status, errors) == (0, "")
    assert told.split() == list(map(str, places))
    assert sorted(tmp_path.iterdir()) == sorted(places)
    assert json.loads(places[2].read_bytes())["rate"] == "25/1"


def test_the_line_may_stand_in_a_file(run, tmp_path):
    file, reader = tmp_path / "line.txt", ReaderByHand()
    file.write_bytes("\ufeffNo ticket,\r\n“no tram”.\r\n".encode())

    assert run(TAKE, "--line-file", file, reader=reader)[0] == 0
    assert reader.lines == ["No ticket, “no tram”."]


def test_a_line_file_that_is_no_text_is_named(run, tmp_path):
    file = tmp_path / "line.txt"
    file.write_bytes(b"\xff\xfe\xff")
    status, _, errors = run(TAKE, "--line-file", file)

    assert status == 1
    assert errors.startswith(f"trackread: {file}: cannot be read as UTF-8 text")


@pytest.mark.parametrize("lines", [[], ["--line", "No ticket!", "--line-file", "line.txt"]])
def test_the_line_is_given_once(run, lines):
    status, _, errors = run(TAKE, *lines)

    assert status == 2
    assert "either with --line or with --line-file" in errors


def test_a_take_that_says_something_else_is_told_on_the_error_stream(run):
    status, told, errors = run(TAKE, "--line", "Hold tight!", reader=ReaderByHand(match=Match(0.2, says_line=False)))

    assert status == 0
    assert errors == "trackread: beware: the take does not say this line (match 0.20)\n"
    assert "Mind" in told


def test_its_sheet_is_refused_unless_it_is_wanted_anyway(run, tmp_path):
    arguments = [TAKE, "--line", "Hold tight!", "--sheet", tmp_path / "a.pdf"]
    reader = ReaderByHand(match=Match(0.2, says_line=False))
    status, told, errors = run(*arguments, reader=reader)

    assert (status, told) == (1, "")
    assert errors.startswith(f"trackread: {TAKE}: this take does not say 'Hold tight!' (match 0.20)")
    assert not list(tmp_path.iterdir())
    assert run(*arguments, "--anyway", reader=reader)[0] == 0
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]


def test_brackets_in_a_word_are_shown_as_they_are(run):
    reading = a_reading(("[bold]step[/bold]", "S T EH1 P"), (":tram:", "T R AE1 M"))

    class Bracketed:
        def read(self, *_):
            return reading

    assert "[bold]step[/bold]" in run(TAKE, "--line", "step", reader=Bracketed())[1]
    assert ":tram:" in run(TAKE, "--line", "step", reader=Bracketed())[1]


def test_help_names_every_paper_and_count(run):
    _, told, _ = run("--help")
    told = " ".join(told.split())

    assert all(paper.lower() in told for paper in PAPERS)
    assert all(count in told for count in ("footage35", "footage16", "timecode", "none"))


def test_a_take_of_the_demo_is_heard_by_the_engines(capsys):
    with pytest.raises(SystemExit) as left:
        main(["read", TAKE, "--line", "No ticket, no tram."])
    told = capsys.readouterr()
    rows = [line.split() for line in told.out.splitlines()[1:]]

    assert (left.value.code, told.err) == (0, "")
    assert [row[1] for row in rows] == ["No", "ticket,", "no", "tram."]
    assert [int(row[0]) for row in rows] == sorted(int(row[0]) for row in rows)


def test_the_engines_do_not_take_one_line_for_another(capsys, tmp_path):
    line = "In twenty years I have never let a passenger ride for an acorn."
    with pytest.raises(SystemExit) as left:
        main(["read", TAKE, "--line", line, "--sheet", str(tmp_path / "a.pdf")])

    assert left.value.code == 1
    assert "trackread: " in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
