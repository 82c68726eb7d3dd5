"""Sheets issued and lines placed at the desk: on what was seen, and on nothing else."""

import shutil
from datetime import date

import pytest

from tests.web.cuts import a_cut_film, a_room, etag, issue_beside
from tests.web.served import Listener
from trackread.book.issues import issues
from trackread.workflow.correcting import correct, move
from trackread.workflow.current_cut import current_cut
from trackread.workflow.decisions import circle
from trackread.workflow.placing import place


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return a_cut_film(tmp_path_factory.mktemp("film"))


@pytest.fixture(scope="module")
def still(made, tmp_path_factory):
    """For tests that change nothing."""
    with a_room(shutil.copytree(made, tmp_path_factory.mktemp("still") / "tram")) as room:
        yield room


@pytest.fixture
def room(made, tmp_path):
    with a_room(shutil.copytree(made, tmp_path / "tram")) as room:
        yield room


@pytest.fixture
def film(room):
    return room.book


def test_what_was_seen_is_issued_and_the_floor_is_told_at_once(room, film):
    floor = Listener(room.server.signed_in("unit", "4"))
    answer = room.issue("SH010", "SH020", unit="4", reason="for Monday")
    given = answer.json()["given"]
    kept, today = issues(film), date.today().isoformat()

    assert answer.status_code == 200
    assert sorted((one["shot"], one["issue"], one["again"]) for one in given) == [
        ("SH010", 1, False),
        ("SH020", 1, False),
    ]
    assert {(one.unit, one.reason, one.author, one.date) for one in kept} == {("4", "for Monday", "EDITOR", today)}
    for one in kept:
        assert floor.hears(kind="issued", shot=one.shot, issue=1, code=one.code, unit="4")
    assert room.rows()["SH010"]["issue"] == 1


def test_a_sheet_that_would_be_the_same_stays_that_issue(room, film):
    issue_beside(film, "SH010")
    (one,) = room.issue("SH010", unit="").json()["given"]

    assert (one["issue"], one["again"]) == (1, True)
    assert len(issues(film)) == 1


def test_what_became_another_since_it_was_seen_is_not_issued_nor_what_was_asked_with_it(room, film):
    seen = room.rows()
    revision = ".".join(seen[name]["state"] for name in ("SH010", "SH020"))
    correct(film, "L0001-1", move("ticket!", 13), "BO")
    answer = room.issue("SH010", "SH020", revision=revision)

    assert (answer.status_code, len(issues(film))) == (412, 0)
    assert answer.json()["problem"].startswith("changed since you looked: SH010. Nothing is issued")
    assert answer.json()["yours"] == {"shots": ["SH010", "SH020"], "revision": revision}
    assert answer.json()["theirs"] == [room.rows()["SH010"]]


def test_a_sheet_that_somebody_else_issued_meanwhile_is_a_clash(room, film):
    revision = room.rows()["SH010"]["state"]
    issue_beside(film, "SH010", unit="9")
    answer = room.issue("SH010", revision=revision)

    assert (answer.status_code, [one.unit for one in issues(film)]) == (412, ["9"])
    assert [(one["issue"], one["unit"]) for one in answer.json()["theirs"]] == [(1, "9")]


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"unit": ""}, "SH010: never issued before: say for which unit"),
        ({"shots": []}, "name 1 to 20 shots at once, not 0"),
        ({"shots": ["SH010", "SH020"]}, "2 shots and 1 state: name a state for each"),
        ({"shots": ["SH010", "SH010"]}, "shots are named in a list, each once"),
        ({"shots": ["SH999"]}, "the shot 'SH999' is not in the cut"),
        ({"shots": "SH010"}, "shots are named in a list"),
        ({"unit": 7}, "unit and reason are said in words"),
    ],
)
def test_what_cannot_be_issued_is_refused_in_words(still, values, told):
    answer = still.issue(**{"revision": still.rows()["SH010"]["state"], "shots": ["SH010"], **values})

    assert (answer.status_code, issues(still.book)) == (400, ())
    assert told in answer.json()["problem"]


def test_who_does_not_say_what_was_seen_is_asked_to(still):
    for path, word in (("/api/issue", "states of the shots"), ("/api/cut", "which cut you have seen")):
        answer = still.client.post(path, json={"shots": ["SH010"], "unit": "7"})

        assert (answer.status_code, word in answer.json()["problem"]) == (428, True)
    assert (issues(still.book), current_cut(still.book).number) == ((), 1)
    assert "is not JSON" in still.client.post("/api/cut", content=b"no", headers={"If-Match": '"1"'}).json()["problem"]


def test_a_line_is_placed_and_taken_away_on_the_cut_that_was_seen(room, film):
    desk = Listener(room.server.signed_in("office"))
    circle(film, ["L0001-2"], "BO", on=True)
    answer = room.by_hand(1, do="place", what="l0001", shot="SH020", at=6)
    shot = room.told("/api/cut/shots/SH020")

    assert (answer.json()["number"], etag(answer), answer.json()["words"]) == (2, "2", "L0001 placed in SH020 at 6")
    assert desk.hears(kind="cut", number=2, by="EDITOR")
    assert [(one["take"], one["first"]) for one in shot["lines"]] == [("L0002-1", 1), ("L0001-2", 6)]
    assert [(one["what"], one["by_hand"], one["by"]) for one in shot["placed"]][1] == (
        "L0001",
        True,
        "by hand, by EDITOR",
    )
    assert not shot["placed"][0]["by_hand"]

    gone = room.by_hand(2, do="take away", what="L0001", shot="SH020", at=6)
    assert gone.json()["number"] == 3
    assert current_cut(film).cut.placements == tuple(
        one for one in current_cut(film).cut.placements if not one.place.by_hand
    )


def test_a_shot_is_made_trimmed_and_taken_out_by_hand(room):
    assert room.by_hand(1, do="add", shot="SH030", length="2s").json()["number"] == 2
    assert room.rows()["SH030"]["frames"] == 48
    room.by_hand(2, do="place", what="L0001-1", shot="SH030", at=31)
    trimmed = room.by_hand(3, do="trim", shot="SH030", head=4, tail=8)
    (left,) = trimmed.json()["remarks"]

    assert (room.rows()["SH030"]["frames"], room.rows()["SH030"]["lines"][0]["first"]) == (36, 27)
    assert "has 8 frames fewer at its end, as the shot has" in left
    assert room.by_hand(4, do="remove", shot="SH030").json()["words"] == "SH030 taken out"
    assert list(room.rows()) == ["SH010", "SH020"]


def test_a_change_on_another_cut_is_a_clash_that_tells_who_made_it_and_what(room, film):
    place(film, "L0002", "SH020", 20, author="BO")
    answer = room.by_hand(1, do="place", what="L0001", shot="SH020", at=6)
    told = answer.json()

    assert (answer.status_code, current_cut(film).number) == (412, 2)
    assert "cut 2 (L0002 placed in SH020 at 20) by BO" in told["problem"]
    assert told["yours"] == {"words": "L0001 placed in SH020 at 6", "number": 1}
    assert [(one["number"], one["by"], one["words"]) for one in told["theirs"]] == [
        (2, "BO", "L0002 placed in SH020 at 20")
    ]


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"do": "place", "what": "L0001", "shot": "SH020", "at": 37}, "SH020 has no frame 37: it has frames 1 to 36"),
        ({"do": "place", "what": "L0099", "shot": "SH020", "at": 1}, "L0099"),
        ({"do": "place", "what": "L0001", "shot": "SH099", "at": 1}, "the shot 'SH099' is not in the cut"),
        ({"do": "take away", "what": "L0002-1", "shot": "SH020", "at": 1}, "nothing is placed by hand in SH020"),
        ({"do": "trim", "shot": "SH020", "head": 1, "tail": 0}, "SH020 is the list's"),
        ({"do": "trim", "shot": "SH020", "head": 0, "tail": 0}, "one of them not 0"),
        ({"do": "add", "shot": "SH020", "length": "2s"}, "SH020 is in the cut already"),
        ({"do": "dance"}, "say what to do: place or take away"),
    ],
)
def test_what_cannot_be_done_by_hand_is_refused_in_words(still, values, told):
    answer = still.by_hand(1, **values)

    assert (answer.status_code, current_cut(still.book).number) == (400, 1)
    assert told in answer.json()["problem"]
