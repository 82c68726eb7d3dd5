"""The commands of the cut, of shots and sheets, as they are typed."""

from pathlib import Path

import pypdfium2
import pytest

from tests.films import SCRIPT, edl, picture, voice
from tests.shots.conftest import START
from trackread.book.book import Book
from trackread.core.timebase import parse_rate

RATE = parse_rate("24")


@pytest.fixture
def lists(tmp_path):
    """Writes the lists of a cut with two shots, and gives their files."""

    def lists(name="cut", head=0):
        files = [tmp_path / f"{name}-picture.edl", tmp_path / f"{name}-voice.edl"]
        files[0].write_text(
            edl(
                picture(1, "SH010", head, START, 48 - head, RATE),
                picture(2, "SH020", 200, START + 48 - head, 36, RATE),
            )
        )
        files[1].write_text(edl(voice(1, 10, START + 10 - head, 20, RATE), voice(2, 30, START + 40 - head, 13, RATE)))
        return files

    return lists


def test_the_whole_way_from_a_cut_to_what_a_new_one_costs(tram, tram_json, lists, tmp_path):
    assert tram("cut", "add", *lists()).splitlines()[0] == "Cut 1: 2 shots, 84 frames; 2 sounds, 2 matched."
    given = tram("issue", "--all", "--unit", "7", "--date", "2026-11-26", "--to", tmp_path / "out")
    assert given.splitlines()[0].startswith("SH010: issue 1 for unit 7, 2026-11-26, TR-")
    assert tram("shot", "progress", "SH010", "--done", "24") == "SH010: 24 frames shot, 24 left.\n"
    assert tram("changes") == "2 sheets out: 2 current, 0 stale.\n"
    tram("cut", "add", *lists("cut2", head=5))
    told = tram("changes").splitlines()

    assert told[:3] == [
        "SH010, issue 1, unit 7: stale from frame 1",
        "  24 frames of it shot, the first frame that changes among them",
        "  5 frames cut off its head: what was frame 6 is 1 now",
    ]
    assert told[-2:] == [
        "2 sheets out: 1 current, 1 stale.",
        "Together: 0 frames to shoot again, 5 frames shot in vain; 0.0 animator-days.",
    ]
    (stale,) = tram_json("changes")["stale"]
    assert (stale["shot"], stale["from_frame"], stale["cost"]["shoot_again"]) == ("SH010", 1, 0)


def test_a_sheet_is_a_pdf_for_each_shot(command, lists, tmp_path):
    command("cut", "add", *lists())
    status, told, errors = command("sheet", "--all", "--to", tmp_path / "sheets")

    assert (status, told, errors) == (0, f"2 sheets: {tmp_path / 'sheets'}\n", "")
    assert sorted(path.name for path in (tmp_path / "sheets").iterdir()) == ["SH010.pdf", "SH020.pdf"]
    assert len(pypdfium2.PdfDocument(tmp_path / "sheets" / "SH010.pdf")) == 1


def test_two_processes_print_what_one_does(tram, lists, tmp_path):
    tram("cut", "add", *lists())
    for count in (1, 2):
        tram("sheet", "--scene", "7", "--processes", count, "--to", tmp_path / str(count))

    one, two = ([path.read_bytes() for path in sorted((tmp_path / name).iterdir())] for name in "12")
    assert one == two != []


def test_what_is_missing_on_a_sheet_is_told_beside_it(command, tmp_path):
    command("shot", "add", "SH010", "--length", "2s")
    command("place", "L0004", "--shot", "SH010", "--at", "5")
    status, _, errors = command("sheet", "SH010", "--to", tmp_path)

    assert (status, errors) == (
        0,
        "trackread: beware: SH010: frames 5 to 17: L0004-1 has not been read, so its words are missing\n",
    )


def test_which_tells_of_a_code_and_writes_the_sheet_again(tram, tram_json, lists, tmp_path):
    tram("cut", "add", *lists())
    tram("issue", "SH010", "--unit", "7", "--to", tmp_path)
    code = tram_json("issued")["issues"][0]["code"]
    told = tram("which", code, "--to", tmp_path / "again.pdf").splitlines()

    assert told[0].startswith(f"{code}: SH010, issue 1 for unit 7")
    assert told[1] == "it is the current one"
    assert (tmp_path / "again.pdf").read_bytes() == (tmp_path / "SH010-issue-1.pdf").read_bytes()
    assert tram_json("which", code)["sheets"][0]["current"] is True


def test_shots_are_listed_with_what_is_said_and_what_is_out(tram, tram_json, lists, tmp_path):
    tram("cut", "add", *lists())
    tram("issue", "SH010", "--unit", "7", "--to", tmp_path)
    first, second = tram_json("shot", "list")["shots"]

    assert (first["lines"], first["issue"], first["unit"]) == (["L0001", "L0002"], 1, "7")
    assert (second["lines"], second["issue"], second["unit"]) == (["L0002"], None, "")
    assert [line.split()[0] for line in tram("shot", "list").splitlines()] == ["shot", "SH010", "SH020"]


def test_issues_are_listed_with_those_that_replaced_them(tram, lists, tmp_path):
    assert tram("issued").startswith("No sheet has been issued yet")
    tram("cut", "add", *lists())
    tram("issue", "SH010", "--unit", "7", "--to", tmp_path)
    tram("shot", "tell", "SH010", "--about", "Tum has no ticket.")
    tram("issue", "SH010", "--to", tmp_path, "--changed-pages")

    assert len(tram("issued").splitlines()) == 2
    assert "replaced by issue 2" in tram("issued", "sh010", "--replaced")


def test_work_is_summed_and_defers_to_local_rules(tram, tram_json, lists):
    tram("cut", "add", *lists())
    found = tram_json("work", "--units", "2")

    assert (found["frames"], found["copies"]) == (84, {"BRACK": 1, "MISS PELL": 2})
    assert "defer to your local rules on working time" in tram("work", "--by-shot")


def test_positions_are_printed_with_their_caution(tram, lists, tmp_path):
    tram("cut", "add", *lists())
    keys = tmp_path / "keys.csv"
    keys.write_text("frame,axis,value\n1,pan,0\n25,pan,12.5\n")

    assert "Keep clear of moving rigs" in " ".join(
        tram("shot", "tell", "SH010", "--camera", keys, "--positions").split()
    )


@pytest.mark.parametrize(
    ("name", "beginning"), [("film.csv", b"\xef\xbb\xbf"), ("film.vtt", b"WEBVTT"), ("film.xlsx", b"PK")]
)
def test_exports_are_of_the_form_that_the_file_s_name_says(tram, lists, tmp_path, name, beginning):
    tram("cut", "add", *lists())
    tram("export", "--all", "--to", tmp_path / name)

    assert (tmp_path / name).read_bytes().startswith(beginning)


def test_a_line_that_changes_says_in_which_shots_it_is_and_whose_sheets_are_out(tram, lists, tmp_path):
    tram("cut", "add", *lists())
    tram("issue", "SH010", "--unit", "7", "--to", tmp_path)
    draft = tmp_path / "draft2.csv"
    draft.write_text(SCRIPT.replace("the step", "the gap"))

    assert "heard in SH010; sheets out: SH010 (issue 1, unit 7)" in tram("script", "add", draft)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("sheet", "--all"),
            "the production has no shots yet: bring in the editor's cut list with `trackread cut add`",
        ),
        (("issue", "SH010", "--unit", "7"), "the production has no shots yet"),
        (("work",), "the production has no shots yet"),
        (("shot", "tell", "SH010", "--about", "x"), "the production has no shots yet"),
        (("which", "TR-0000-0000"), "TR-0000-0000 is no sheet of The Late Tram"),
        (("which", "gone.png"), "gone.png cannot be read: No such file or directory"),
        (("shot", "add", "SH010", "--length", "long"), "'long' is no length: write frames (84), seconds (3.5s)"),
        (("issued", "SH010"), "no sheet of 'SH010' has ever been issued"),
        (("changes", "--since", "yesterday"), "'yesterday' is neither a day"),
        (("cut", "add", "gone.edl"), "gone.edl"),
    ],
)
def test_what_cannot_be_done_is_refused_in_one_sentence(refused, monkeypatch, tmp_path, words, told):
    monkeypatch.chdir(tmp_path)

    assert refused(*words).startswith(told)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("place", "L0001", "--shot", "SH010"), "say with --at on which frame it begins"),
        (("shot", "tell", "SH010", "--positions"), "--positions goes with --camera"),
        (("shot", "tell", "SH010", "--nobody", "--present", "TUM"), "say either --present or --nobody"),
        (("export", "--all", "--to", "film.doc"), "doc is none of the forms csv, json, xlsx, ods, vtt, otio, textgrid"),
    ],
)
def test_what_makes_no_sense_together_is_told(command, words, told):
    status, _, errors = command(*words)

    assert status == 2
    assert told in errors


def test_every_problem_of_a_list_is_told_with_its_line_and_nothing_is_added(command, folder, tmp_path):
    spoilt = tmp_path / "spoilt.edl"
    good = picture(1, "SH010", 0, START, 48, RATE)
    spoilt.write_text(edl(good, good.replace("001", "002").replace("01:00:00:00", "01:00:00:99"), "003 what is this\n"))
    status, told, errors = command("cut", "add", spoilt)

    assert (status, told) == (1, "")
    assert [line.partition(": ")[0].removeprefix("trackread: ") for line in errors.splitlines()]
    assert f"{spoilt}:6: " in errors
    with Book.open(folder) as book, book.reading() as transaction:
        assert transaction.connection().exec_driver_sql("SELECT count(*) FROM cuts").scalar() == 0


def test_sheets_are_written_whole_or_not_at_all(command, lists, tmp_path):
    command("cut", "add", *lists())
    place = tmp_path / "file"
    place.write_text("in the way")
    status, _, errors = command("sheet", "--all", "--to", place)

    assert status == 1
    assert "file" in errors
    assert place.read_text() == "in the way"


README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")


def names_in(value):
    """Every name of an object in some JSON."""
    if isinstance(value, dict):
        return {*value, *(name for part in value.values() for name in names_in(part))}
    return {name for part in value for name in names_in(part)} if isinstance(value, list) else set()


@pytest.mark.parametrize("name", ["cut list", "shot list", "issued", "which", "changes", "work"])
def test_every_name_in_the_json_of_a_list_is_told_in_its_row_of_the_readme(tram, tram_json, lists, tmp_path, name):
    tram("cut", "add", *lists())
    tram("issue", "SH010", "--unit", "7", "--to", tmp_path)
    code = tram_json("issued")["issues"][0]["code"]
    tram("shot", "tell", "SH010", "--about", "Tum has no ticket.")
    tram("issue", "SH010", "--to", tmp_path)
    tram("cut", "add", *lists("cut2", head=5))
    row = next(row for row in README.splitlines() if row.startswith(f"| `{name}` | `{{"))
    found = names_in(tram_json(*name.split(), *[code] * (name == "which")))

    assert len(found) > 3
    # The characters of copies are names of the production.
    assert sorted(one for one in found - {"BRACK", "MISS PELL"} if f'"{one}"' not in row) == []


def test_a_sound_of_no_known_recording_is_told_once_with_its_shots(command, lists, tmp_path):
    files = lists()
    music = tmp_path / "music.edl"
    music.write_text(edl(voice(1, 0, START, 84, RATE).replace("REEL1", "MUSIC").replace("reel 1", "M12")))
    command("cut", "add", *files, music)
    _, _, errors = command("sheet", "--all", "--to", tmp_path / "sheets")

    assert errors == f"trackread: beware: M12 ({music}:4) is of no known recording: heard in SH010, SH020\n"
