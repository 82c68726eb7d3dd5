"""The cut at the desk as the server tells it: its rows, sheets to look at, what is stale, what may be placed."""

import shutil
from io import BytesIO

import pytest
from PIL import Image

from tests.films import a_film
from tests.shots.conftest import PICTURES, VOICES
from tests.web.cuts import a_cut_film, a_room, add_cut, etag, issue_beside
from trackread.workflow.correcting import correct, move
from trackread.workflow.kept_material import KeptMaterial
from trackread.workflow.kept_stale import KeptStale
from trackread.workflow.placing import add_shot
from trackread.workflow.stale import stale_sheets
from trackread.workflow.telling import tell_done


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


def test_a_row_says_where_a_shot_is_in_the_film_and_what_is_heard_in_it(still):
    answer = still.get("/api/cut")
    first, second = answer.json()["shots"]

    assert (answer.json()["number"], etag(answer)) == (1, "1")
    assert (first["shot"], first["scene"], first["first"], first["last"], first["frames"]) == ("SH010", "7", 1, 48, 48)
    assert (second["first"], second["last"], second["time"]) == (49, 84, "01:00:02:00")
    assert [(one["character"], one["take"], one["first"], one["last"]) for one in first["lines"]] == [
        ("BRACK", "L0001-1", 11, 30),
        ("MISS PELL", "L0002-1", 41, 48),
    ]
    assert [(one["words"], one["first"], one["last"]) for one in second["lines"]] == [("Tickets please", 1, 5)]
    assert (first["issue"], first["unit"], first["done"]) == (None, "", 0)


def test_who_is_not_in_the_cutting_room_is_told_so(still):
    office, unit = still.server.signed_in("office"), still.server.signed_in("unit", "7")
    paths = ("/desk/cut", "/desk/cut/SH010", "/api/cut", "/api/stale", "/api/cut/choices", "/api/cut/shots/SH010")
    sheets = ("/api/cut/shots/SH010/sheet", "/api/cut/shots/SH010/pages", "/api/cut/shots/SH010/pages/1")
    for path in (*paths, *sheets):
        told = unit.get(path, headers={"Accept": "application/json"})

        assert [one.get(path).status_code for one in (still.client, office)] == [200, 200], path
        assert (told.status_code, told.json()["problem"]) == (403, "this is not for units"), path
    for path in ("/api/issue", "/api/cut"):
        asked = {"json": {"shots": ["SH010"], "unit": "7"}, "headers": {"If-Match": f'"{still.revision("SH010")}"'}}

        assert office.post(path, **asked).json() == {"problem": "this is not for offices"}
        assert unit.post(path, **asked).json() == {"problem": "this is not for units"}
    assert "Issue …" not in office.get("/desk/cut").text
    assert "Issue …" in still.get("/desk/cut").text


def test_a_page_of_the_sheet_is_as_printed_and_is_sent_once(room, film):
    shot = "/api/cut/shots/SH010"
    pdf = room.get(f"{shot}/sheet")
    page = room.get(f"{shot}/pages/1")
    again = room.get(f"{shot}/pages/1", headers={"If-None-Match": page.headers["ETag"]})
    correct(film, "L0001-1", move("ticket!", 13), "BO")
    other = room.get(f"{shot}/pages/1", headers={"If-None-Match": page.headers["ETag"]})

    assert pdf.content.startswith(b"%PDF-")
    assert 'filename="SH010.pdf"' in pdf.headers["Content-Disposition"]
    assert room.told(f"{shot}/pages") == {"pages": 1}
    # A4 at 144 dots to the inch.
    assert Image.open(BytesIO(page.content)).size == pytest.approx((1191, 1684), abs=1)
    assert (again.status_code, again.content) == (304, b"")
    assert (other.status_code, other.content != page.content) == (200, True)


def test_an_older_issue_is_shown_byte_for_byte(room, film):
    (first,) = issue_beside(film, "SH010")
    correct(film, "L0001-1", move("ticket!", 13), "BO")
    (second,) = issue_beside(film, "SH010")
    for given in (first, second):
        answer = room.get(f"/api/cut/shots/SH010/sheet?issue={given.issue.number}")

        assert (answer.content, etag(answer)) == (given.pdf, given.issue.digest)
    assert room.told("/api/cut/shots/SH010/sheet?issue=3")["problem"].endswith("there are 1 to 2")
    assert room.told("/api/cut/shots/SH020/pages?issue=1")["problem"].endswith("none was ever made")
    assert "say a whole number" in room.told("/api/cut/shots/SH010/pages?issue=x")["problem"]
    assert [one["issue"] for one in room.told("/api/cut/shots/SH010")["issues"]] == [2, 1]


def test_a_stale_sheet_is_told_in_the_words_and_costs_of_the_command(room, film):
    issue_beside(film, "SH010", "SH020")
    tell_done(film, "SH010", 24, "BO")
    correct(film, "L0001-1", move("ticket!", 13), "BO")
    told = room.told("/api/stale")
    (one,), (known,) = told["sheets"], stale_sheets(film).sheets

    assert (one["shot"], one["from_frame"], one["rows"]) == ("SH010", known.first, list(known.told))
    assert one["done_words"] == "24 frames of it shot, the first frame that changes among them"
    assert one["cost_words"].startswith(f"{known.cost.again} frames to shoot again; ")
    assert (told["current"], told["waiting"]) == (1, [])
    (cause,) = told["causes"]
    assert (cause["what"].partition(":")[0], cause["shots"]) == ("L0001-1 corrected by BO", ["SH010"])
    assert room.told("/api/cut/shots/SH010")["stale"] == one


def test_a_shot_that_is_gone_from_the_film_is_told_first(room, film, tmp_path):
    issue_beside(film, "SH010", "SH020")
    add_cut(film, tmp_path, PICTURES[:1], VOICES[:1])
    gone, other = room.told("/api/stale")["sheets"]

    assert (gone["shot"], gone["gone"], gone["words"]) == ("SH020", True, "gone from the film")
    assert (other["shot"], other["gone"], other["words"]) == ("SH010", False, "stale from frame 1")
    assert list(room.rows()) == ["SH010"]


def test_a_sheet_is_compared_again_only_if_something_of_it_is_another(film):
    """Known by the values themselves: each look at a feature would make hundreds anew."""
    issue_beside(film, "SH010", "SH020")
    correct(film, "L0001-1", move("ticket!", 13), "BO")
    stale = KeptStale(film, KeptMaterial(film))

    def found():
        kept = stale.material.now()
        return stale.among(kept, tuple(kept.out.values())).sheets

    (first,), (again,) = found(), found()
    tell_done(film, "SH020", 3, "BO")
    (beside,) = found()
    correct(film, "L0001-1", move("ticket!", 14), "BO")
    (later,) = found()

    assert again is beside is first
    assert [len(one.causes) for one in (first, later)] == [1, 2]


def test_without_time_nothing_is_compared_and_is_told_to_wait(film):
    issue_beside(film, "SH010", "SH020")
    stale = KeptStale(film, KeptMaterial(film))
    kept = stale.material.now()
    out = tuple(kept.out.values())
    early, later = stale.among(kept, out, seconds=0), stale.among(kept, out)

    assert (early.waiting, early.current) == (("SH010", "SH020"), 0)
    assert (later.waiting, later.current) == ((), 2)


def test_the_lines_of_a_scene_that_play_nowhere_are_offered_first_and_others_by_their_words(still):
    def offered(**asked):
        return [one["line"] for one in still.told("/api/cut/choices", params=asked)["lines"]]

    (line,) = still.told("/api/cut/choices", params={"find": "brack step"})["lines"]

    assert offered(shot="SH010") == ["L0003"]
    assert offered(find="pell") == ["L0002"]
    assert offered(find="next STOP") == ["L0004"]
    assert (line["line"], [one["name"] for one in line["takes"]]) == ("L0001", ["L0001-1", "L0001-2"])


def test_a_production_without_shots_says_what_makes_some(tmp_path):
    with a_room(a_film(tmp_path)) as room:
        problem = room.told("/api/cut")["problem"]
        made = room.by_hand(0, do="add", shot="SH010", length="48")

        assert "the production has no shots yet" in problem
        assert (made.json()["number"], list(room.rows())) == (1, ["SH010"])


def test_a_code_may_have_any_signs(room, film):
    add_shot(film, "7/b & c?", "24", author="BO")
    answer = room.get("/api/cut/shots/7%2Fb%20%26%20c%3F")

    assert answer.json()["shot"] == "7/b & c?"
    assert room.told("/api/cut/shots/7%2Fb%20%26%20c%3F/pages") == {"pages": 1}
    assert room.get("/desk/cut/7%2Fb%20%26%20c%3F").status_code == 200
