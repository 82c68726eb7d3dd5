"""`trackread status`."""

from tests.book.makers import a_session
from tests.cli.tram import script_of
from trackread.book.book import Book
from trackread.book.sessions import save_piece
from trackread.workflow.decisions import circle

COLUMNS = ("lines", "whole", "circled", "stand_in", "cut_off", "missing", "unsure", "read", "takes")


def counts(tally):
    return [tally[name] for name in COLUMNS]


def test_lines_are_counted_by_scene_and_within_it_by_character(tram_json, production):
    with Book.open(production) as book:
        circle(book, ["L0001-1", "L0001-2"], "ANN", on=True)
    found = tram_json("status")
    seventh, eighth = found["sections"]

    assert [seventh["tally"]["name"], eighth["tally"]["name"]] == ["7", "8"]
    # As tests/cli/tram.py has them: one line whole, one only by the stand-in, one cut off, one missing.
    assert counts(seventh["tally"]) == [4, 2, 1, 1, 1, 1, 1, 3, 5]
    assert {part["name"]: counts(part) for part in seventh["parts"]} == {
        "BRACK": [1, 1, 1, 0, 0, 0, 1, 3, 3],
        "MISS PELL": [2, 0, 0, 0, 1, 1, 1, 0, 1],
        "TUM": [1, 1, 0, 1, 0, 0, 1, 0, 1],
    }
    assert counts(eighth["tally"]) == [1, 0, 0, 0, 0, 1, 1, 0, 0]
    # The one unsure stretch may be of either scene, and counts once in all.
    assert counts(found["total"]) == [5, 2, 1, 1, 1, 2, 1, 3, 5]


def test_lines_are_counted_by_character_and_within_it_by_scene(tram_json):
    found = tram_json("status", "--by", "character")

    assert [section["tally"]["name"] for section in found["sections"]] == ["BRACK", "MISS PELL", "TUM"]
    assert [part["name"] for part in found["sections"][0]["parts"]] == ["7", "8"]


def test_each_line_is_whole_cut_off_or_missing(tram_json):
    found = tram_json("status")
    tallies = [found["total"], *(part for section in found["sections"] for part in section["parts"])]

    assert len(tallies) == 5
    assert all(one["lines"] == one["whole"] + one["cut_off"] + one["missing"] for one in tallies)


def test_the_table_fits_a_printed_page(tram, production, tmp_path):
    assert tram("status").splitlines()[3].split() == ["7", "4", "2", "-", "1", "1", "1", "1", "3/5"]
    heading = "INT. THE LATE TRAM, UPPER DECK, NIGHT, RAIN ON ALL WINDOWS"
    with Book.open(production) as book:
        script_of(book, tmp_path, f'scene,character,line\n"{heading}",THE CONDUCTOR OF ALL TRAMS,All change!\n')
    rows = tram("status").splitlines()

    assert max(map(len, rows)) == 80
    assert rows[2].split()[:4] == ["scene", "lines", "whole", "circled"]
    assert rows[3].startswith("INT. THE LATE")
    assert "…" in rows[3]


def test_what_wants_doing_is_told_in_order_with_its_command(tram_json):
    assert tram_json("status")["next"] == [
        "say what 1 unsure stretch may be: `trackread takes --unsure`",
        "read 2 takes: `trackread session read`",
        "choose takes of 2 lines that have no circled one: `trackread circle`",
        "record 3 lines of which no whole take is there",
        "record 1 line that only a stand-in has said",
        "put the lines in shots: `trackread cut add` with the editor's lists, or `trackread shot add`",
    ]


def test_an_empty_production_says_what_to_begin_with(command, tmp_path):
    command("new", tmp_path / "film", "--title", "The Late Tram", "--rate", "24")
    status, told, errors = command("status", "--production", tmp_path / "film")

    assert (status, errors) == (0, "")
    assert told == "The Late Tram\n\n\nNext\n  add the script: `trackread script add FILE`\n"


def test_a_session_says_how_far_it_has_been_listened_through(tram, tram_json, production, tmp_path):
    with Book.open(production) as book:
        third = a_session(book, tmp_path, content=b"a third")
        save_piece(book, third.id, (0, third.sound.length // 3), ())
    found = tram_json("status")

    assert [one["heard"] for one in found["sessions"]] == [100, 100, 33]
    assert [one["takes"] for one in found["sessions"]] == [3, 2, 0]
    assert "S3 reel 1             0:16:40      33 %" in tram("status")
    assert found["next"][0].startswith("listen S3 through")


def test_takes_of_lines_that_are_gone_are_told(tram, tram_json, tmp_path):
    file = tmp_path / "pink.csv"
    file.write_text('scene,character,line\n7,TUM,"Don\'t look at me. I am only a hat."\n', encoding="utf-8")
    tram("script", "add", file)

    assert "look at 4 takes of lines that are gone" in tram_json("status")["next"][-2]
