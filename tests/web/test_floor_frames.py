"""Frames that are told from the floor: kept once, taken back, told late, of one issue or another."""

import secrets
from itertools import pairwise

import pytest

from tests.web.floors import add_cut, an_issued_floor, issue, shot
from trackread.book.checking import check
from trackread.book.shot_notes import shot_notes
from trackread.web.live import Live
from trackread.workflow.telling import tell_done

FRAMES = "/api/floor/SH010/frames"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return an_issued_floor(tmp_path_factory.mktemp("floor"), heard=False)


def event(count, over=(), *, number=1, name=None):
    return {"id": name or secrets.token_hex(10), "issue": number, "count": count, "over": list(over)}


def post(client, *events, at=FRAMES, asked=""):
    answer = client.post(at + asked, json={"events": events})
    assert answer.status_code == 200
    return answer.json()


class Heard(Live):
    """Keeps what all pages are told."""

    def __init__(self):
        super().__init__()
        self.told = []

    def tell(self, kind, value):
        self.told.append((kind, value))


def test_a_frame_that_is_done_is_seen_by_everybody_who_asks_how_many_are(film, unit):
    first, second = event(1), event(2)
    second["over"] = [first["id"]]
    told = post(unit, first, second)

    assert [(one["kept"], one["again"]) for one in told["events"]] == [(True, False)] * 2
    assert (told["done"], told["standing"]) == (2, {second["id"]: 2})
    assert shot(film) == 2
    note = shot_notes(film)["SH010"]["done"]
    assert (note.author, note.body["frames"]) == ("unit 7", 2)
    assert check(film) == ()


def test_the_same_count_told_again_is_answered_as_done_and_counts_once(film, unit):
    one = event(5)
    post(unit, one)
    written = shot_notes(film)["SH010"]["done"].id
    again = post(unit, one, one)

    assert [(each["kept"], each["again"]) for each in again["events"]] == [(True, True)] * 2
    assert again["done"] == 5
    assert shot_notes(film)["SH010"]["done"].id == written


def test_an_undo_is_a_lower_count_in_place_of_the_one_it_takes_back(film, unit):
    one = event(5)
    post(unit, one)
    told = post(unit, event(4, [one["id"]]))

    assert told["done"] == shot(film) == 4


def test_a_late_queue_loses_no_frame_whichever_tablet_counted_further(film, unit):
    here, away = [event(k) for k in (1, 2, 3)], [event(k) for k in (1, 2, 3, 4, 5)]
    for queue in (here, away):
        for before, after in pairwise(queue):
            after["over"] = [before["id"]]
    post(unit, *here)
    # The tablet that stayed takes one back: what the other one has shot meanwhile it could not know.
    post(unit, event(2, [here[-1]["id"]]))
    told = post(unit, *away)

    assert told["done"] == shot(film) == 5
    assert sorted(told["standing"].values()) == [2, 5]
    both = post(unit, event(4, list(told["standing"])))
    assert (both["done"], list(both["standing"].values())) == (4, [4])


def test_what_the_office_tells_takes_the_place_of_what_had_come_in_by_then(film, unit):
    first = event(9)
    post(unit, first)
    tell_done(film, "SH010", 6, "ANN")
    told = unit.get("/api/floor/SH010").json()

    assert (told["done"], list(told["standing"].values())) == (6, [6])
    assert post(unit, event(7, list(told["standing"])))["done"] == 7
    # A count from before that only comes in now is not lost.
    assert post(unit, event(10, [first["id"]]))["done"] == 10


def test_counts_of_two_issues_are_compared_by_the_picture(film, unit, tmp_path):
    one = event(10)
    post(unit, one)
    add_cut(film, tmp_path, (("SH010", 4, 0, 44), ("SH020", 200, 44, 36)), ((10, 6, 20), (30, 36, 13)))
    issue(film, "SH010", unit="")

    assert unit.get("/api/floor/SH010").json()["done"] == 6
    # Frame 8 of the new sheet was frame 12 of the old one.
    assert post(unit, event(8, number=2))["done"] == 8
    assert unit.get("/api/floor/SH010?issue=1").json()["done"] == 12
    # A tablet that still has the old sheet tells in its frames, and cannot hide what is shot.
    assert post(unit, event(11, [one["id"]], number=1))["done"] == 8
    assert shot(film) == 8


def test_what_cannot_be_is_refused_by_itself_and_the_rest_is_kept(film, unit):
    told = post(unit, event(49), event(3), event(1, number=7), event(1, name="short"), event(-1))

    assert [one["kept"] for one in told["events"]] == [False, True, False, False, False]
    assert told["events"][0]["problem"] == "issue 1 has 48 frames: so many can be shot, or fewer, not 49"
    assert told["done"] == shot(film) == 3


def test_a_unit_tells_of_its_own_shots_only_and_of_those_it_had(floor, film, unit):
    issue(film, "SH010", unit="12", reason="moved")

    assert floor("unit:3").post(FRAMES, json={"events": [event(1)]}).status_code == 403
    assert floor("office").post(FRAMES, json={"events": [event(1)]}).status_code == 403
    # What it shot before it heard of that is shot.
    assert post(unit, event(4))["done"] == shot(film) == 4
    assert not post(unit, event(5, number=2))["events"][0]["kept"]


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"{}", b'{"events": 3}', b'{"events": [3]}', b'{"events": [{"id": 3}]}', b"\xff", b'{"events": [{}]}'],
)
def test_what_is_no_count_is_told_in_words(film, unit, body):
    answer = unit.post(FRAMES, content=body)

    assert answer.status_code == 400
    assert "frame" in answer.json()["problem"]
    assert shot(film) is None


def test_all_pages_are_told_of_frames_that_are_done_once(app, unit):
    app.state.live = heard = Heard()
    one = event(3)
    post(unit, one)
    post(unit, one)

    assert heard.told == [("done", {"kind": "done", "shot": "SH010", "done": 3, "of": 48, "unit": "7", "by": "unit 7"})]
