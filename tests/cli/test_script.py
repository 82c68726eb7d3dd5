"""`trackread script`: drafts, lines and changes."""

import json

import pytest

from tests.cli.tram import SCRIPT
from trackread.book.book import Book
from trackread.workflow.correcting import correct, right
from trackread.workflow.decisions import circle

# The first line is changed, the third gone, the fourth stands first, one is new.
NEXT = """scene,character,line
7,MISS PELL,Whose hat is this?
7,BRACK,"Mind that step, ticket!"
7,MISS PELL,"Tickets, please. Every seat, every ticket."
8,BRACK,Next stop: the depot.
8,ZOË,All change!
"""


@pytest.fixture
def draft(tmp_path):
    """Writes a draft and gives its file."""

    def draft(text=NEXT, name="pink.csv"):
        (tmp_path / name).write_text(text, encoding="utf-8")
        return tmp_path / name

    return draft


def test_the_first_draft_tells_how_many_lines_it_has(command, draft, tmp_path):
    command("new", tmp_path / "film", "--title", "The Late Tram", "--rate", "24")
    told = command("script", "add", draft(SCRIPT), "--production", tmp_path / "film")[1]

    assert told == "Draft 1 is added (pink.csv). 5 lines.\n"


def test_a_draft_tells_what_it_changes_and_what_hangs_on_that(tram, draft, production):
    with Book.open(production) as book:
        circle(book, ["L0001-2"], "ANN", on=True)
        correct(book, "L0001-1", right("step"), "ANN")
    told = tram("script", "add", draft()).splitlines()

    assert told == [
        "Draft 2 is added (pink.csv). Lines: 1 changed, 1 gone, 1 moved, 1 new, 2 the same.",
        "",
        "changed",
        "  L0001  scene 7  BRACK: Mind [-the-] [+that+] step, ticket!",
        "      takes L0001-1, L0001-2 (circled), L0001-3; 3 readings; 1 correction",
        "",
        "gone",
        "  L0003  scene 7  TUM: Don't look at me. I am only a hat.",
        "      take L0003-1",
        "",
        "moved",
        "  L0004  scene 7  MISS PELL: Whose hat is this?",
        "",
        "new",
        "  L0006  scene 8  ZOË: All change!",
        "",
        "In the script but not in production.toml: ZOË.",
    ]


def test_the_same_draft_again_adds_nothing(tram, tram_json, draft):
    told = tram("script", "add", draft(SCRIPT, "again.csv"))

    assert "is draft 1, the current one" in told
    assert len(tram_json("script", "drafts")["drafts"]) == 1


def test_a_draft_that_cannot_be_read_adds_nothing(command, production, tram_json, draft):
    status, told, errors = command("script", "add", draft("scene,who\n7,TUM\n"), "--production", production)

    assert (status, told) == (1, "")
    assert "pink.csv:1" in errors
    assert len(tram_json("script", "drafts")["drafts"]) == 1


def test_lines_are_listed_by_scene_and_by_character(tram, tram_json, refused):
    assert [line["id"] for line in tram_json("script", "lines", "--scene", "8")["lines"]] == ["L0005"]
    # THE DRIVER is another name of BRACK's in production.toml.
    by_other_name = tram_json("script", "lines", "--character", "the driver")["lines"]
    assert [line["id"] for line in by_other_name] == ["L0001", "L0005"]
    assert tram("script", "lines").splitlines()[1] == "L0001  7      BRACK      Mind the step, ticket!"
    assert "there are 7, 8" in refused("script", "lines", "--scene", "9")
    assert "there are BRACK, MISS PELL, TUM" in refused("script", "lines", "--character", "ZOË")


def test_drafts_are_listed_with_who_added_them(tram, draft):
    tram("script", "add", draft(), "--author", "BEA")
    rows = [row.split() for row in tram("script", "drafts").splitlines()]

    assert rows[0] == ["draft", "file", "title", "lines", "by", "added"]
    assert [(row[0], row[1], row[-3], row[-2]) for row in rows[1:]] == [
        ("1", "draft.csv", "5", "ANN"),
        ("2", "pink.csv", "5", "BEA"),
    ]


def test_any_two_drafts_are_compared(tram, tram_json, draft):
    tram("script", "add", draft())
    tram("script", "add", draft(SCRIPT, "blue.csv"))
    last = tram_json("script", "changes")
    whole = tram_json("script", "changes", "--from", 1, "--to", 3)

    assert (last["from"], last["to"]) == (2, 3)
    changed = next(change for change in last["changes"] if change["kind"] == "changed")
    assert changed["words"] == [["same", "Mind"], ["gone", "that"], ["new", "the"], ["same", "step, ticket!"]]
    assert {change["kind"] for change in whole["changes"]} == {"same"}
    # The hat's line came back as another line, since it was gone.
    assert [(c["before"]["id"], c["after"]["id"]) for c in whole["changes"] if c["before"]["id"] == "L0003"] == [
        ("L0003", "L0007")
    ]
    assert "1 changed" in tram("script", "changes", "--from", 1, "--to", 2)


def test_a_draft_that_is_not_there_is_refused(refused):
    assert "draft 1 is the first one" in refused("script", "changes")
    assert "there is no draft 9: they run from 1 to 1" in refused("script", "changes", "--to", 9)


def test_a_production_without_a_script_says_how_to_add_one(command, tmp_path):
    command("new", tmp_path / "film", "--title", "The Late Tram", "--rate", "24")
    lines = command("script", "lines", "--production", tmp_path / "film")
    changes = command("script", "changes", "--production", tmp_path / "film")

    assert "trackread script add" in lines[2]
    assert "none has been added yet" in changes[2]
    assert json.loads(command("script", "drafts", "--json", "--production", tmp_path / "film")[1]) == {"drafts": []}


def test_what_a_terminal_would_obey_is_not_printed(tram, draft):
    tram("script", "add", draft(SCRIPT.replace("Whose hat", "Whose \x1b[2Jhat")))

    assert "\x1b" not in tram("script", "lines")
