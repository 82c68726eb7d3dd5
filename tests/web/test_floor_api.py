"""What the floor is given and tells: a unit's sheets, whether they hold, their sound and mouths, frames done."""

import io
import secrets
import shutil
import wave
from contextlib import ExitStack
from itertools import pairwise

import httpx
import numpy as np
import pypdfium2
import pytest

from tests.films import FRAME, RATE, STARTS
from tests.web.floors import a_floor, add_cut, floor_app, give_samples, issue, recorded, served
from trackread.book.book import Book
from trackread.book.checking import check
from trackread.book.shot_notes import shot_notes
from trackread.web.live import Live
from trackread.workflow.correcting import correct, move
from trackread.workflow.shot_list import shot_list
from trackread.workflow.stale import stale_sheets
from trackread.workflow.telling import tell_done
from trackread.workflow.which_sheet import pdf_as_issued

FRAMES = "/api/floor/SH010/frames"


@pytest.fixture(scope="session")
def made(tmp_path_factory):
    return a_floor(tmp_path_factory.mktemp("floor"))


@pytest.fixture
def film(made, tmp_path):
    with Book.open(shutil.copytree(made, tmp_path / "tram")) as book:
        add_cut(book, tmp_path)
        issue(book)
        yield book


@pytest.fixture
def app(film):
    return floor_app(film)


@pytest.fixture
def floor(app):
    """Makes somebody who asks the server."""
    with served(app) as address, ExitStack() as stack:

        def floor(who):
            cookies = {"who": who} if who else {}
            return stack.enter_context(httpx.Client(base_url=address, cookies=cookies, trust_env=False, timeout=30))

        yield floor


@pytest.fixture
def unit(floor):
    return floor("unit:7")


def event(count, over=(), *, number=1, name=None):
    return {"id": name or secrets.token_hex(10), "issue": number, "count": count, "over": list(over)}


def post(client, *events, at=FRAMES, asked=""):
    answer = client.post(at + asked, json={"events": events})
    assert answer.status_code == 200
    return answer.json()


def done(book, name="SH010"):
    return next(shot.done for shot in shot_list(book, None) if shot.name == name)


def later(book):
    """A word of the first shot comes a frame later, so that its sheet is another."""
    correct(book, "L0001-1", move("ticket!", 13), "ANN")


class Heard(Live):
    """Keeps what all pages are told."""

    def __init__(self):
        super().__init__()
        self.told = []

    def tell(self, kind, value):
        self.told.append((kind, value))


# Sheets.


def test_a_unit_sees_its_own_shots_with_what_is_shot_of_them(floor, film, unit):
    tell_done(film, "SH010", 12, "ANN")
    issue(film, "SH020", unit="12", reason="to the other room")
    (one,) = unit.get("/api/floor").json()["shots"]

    assert (one["shot"], one["issue"], one["frames"], one["done"], one["unit"]) == ("SH010", 1, 48, 12, "7")
    assert [shot["shot"] for shot in floor("office").get("/api/floor").json()["shots"]] == ["SH010", "SH020"]


def test_a_sheet_has_a_row_for_every_frame_with_what_is_said_and_worn_there(unit):
    sheet = unit.get("/api/floor/SH010").json()
    rows = [
        dict(zip([one["character"] for one in sheet["voices"]], row["voices"], strict=True)) for row in sheet["rows"]
    ]

    assert (sheet["length"], len(rows), sheet["first_number"], sheet["per_second"]) == (48, 48, 1, [24, 1])
    # The take plays from frame 10 on, a phone to a frame, the first silent: M AY N D of "Mind".
    assert rows[11]["BRACK"]["word"] == ["Mind", True]
    assert rows[12]["BRACK"]["word"] == ["Mind", False]
    assert rows[12]["BRACK"]["stress"][0] == "strong"
    assert "word" not in rows[0]["BRACK"]
    assert all("mouth" in row["BRACK"] for row in rows)
    assert (sheet["done"], sheet["standing"], sheet["stale"], sheet["changed"]) == (0, {}, None, None)


def test_a_sheet_that_would_be_another_now_is_stale_from_that_frame_though_none_is_out_yet(film, unit):
    later(film)
    (known,) = stale_sheets(film, only="SH010").sheets
    stale = unit.get("/api/floor/SH010").json()["stale"]

    assert (stale["why"], stale["by"], stale["from"], stale["told"]) == ("changed", None, known.first, list(known.told))


def test_a_sheet_that_was_replaced_is_told_with_its_successor_which_tells_what_it_changed(film, unit):
    later(film)
    first_stale = stale_sheets(film, only="SH010").sheets[0].first
    (second,) = issue(film, "SH010", unit="", reason="ticket is later")
    old, new = (unit.get(f"/api/floor/SH010?issue={number}").json() for number in (1, 2))

    assert (old["stale"]["why"], old["stale"]["by"]["issue"], old["stale"]["by"]["code"]) == (
        "replaced",
        2,
        second.code,
    )
    assert (old["stale"]["from"], old["stale"]["told"]) == (new["changed"]["from"], new["changed"]["told"])
    assert old["stale"]["from"] == first_stale
    assert (new["stale"], new["issue"], unit.get("/api/floor/SH010").json()["issue"]) == (None, 2, 2)
    assert new["marked"]


def test_a_shot_that_went_to_another_unit_is_stale_for_the_one_that_had_it(floor, film, unit):
    issue(film, "SH010", unit="12", reason="moved")
    sheet = unit.get("/api/floor/SH010").json()

    assert (sheet["issue"], sheet["unit"], sheet["stale"]["by"]["unit"]) == (1, "7", "12")
    assert unit.get("/api/floor/SH010?issue=2").status_code == 400
    assert floor("unit:12").get("/api/floor/SH010").json()["issue"] == 2


@pytest.mark.parametrize("rest", ["", "/sound", "/mouth/BRACK/jaw%20down"])
def test_another_units_shot_is_refused(floor, rest):
    other = floor("unit:12")

    assert other.get(f"/api/floor/SH010{rest}").status_code == 403
    assert other.get("/api/floor").json()["shots"] == []
    assert other.get("/floor/SH010").status_code == 403


@pytest.mark.parametrize("path", ["", "/SH010", "/SH010/sound", "/SH010/mouth/BRACK/jaw"])
def test_nobody_reads_without_signing_in(floor, path):
    assert floor("").get(f"/api/floor{path}").status_code == 401
    assert floor("").get("/api/which?code=TR-0000-0000").status_code == 401
    assert floor("").post(FRAMES, json={"events": [event(1)]}).status_code == 401


def test_a_shot_that_was_never_issued_is_not_there(unit):
    assert unit.get("/api/floor/SH999").status_code == 404
    assert unit.get("/api/floor/SH010?issue=9").json() == {"problem": "SH010: there is no issue 9 of yours, only 1"}
    assert unit.get("/api/floor/SH010?issue=one").json() == {"problem": "issue is 'one': say a number"}


# Frames.


def test_a_frame_that_is_done_is_seen_by_everybody_who_asks_how_many_are(film, unit):
    first, second = event(1), event(2)
    second["over"] = [first["id"]]
    told = post(unit, first, second)

    assert [(one["kept"], one["again"]) for one in told["events"]] == [(True, False)] * 2
    assert (told["done"], told["standing"]) == (2, {second["id"]: 2})
    assert done(film) == 2
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

    assert told["done"] == done(film) == 4


def test_a_late_queue_loses_no_frame_whichever_tablet_counted_further(film, unit):
    here, away = [event(k) for k in (1, 2, 3)], [event(k) for k in (1, 2, 3, 4, 5)]
    for queue in (here, away):
        for before, after in pairwise(queue):
            after["over"] = [before["id"]]
    post(unit, *here)
    # The tablet that stayed takes one back: what the other one has shot meanwhile it could not know.
    post(unit, event(2, [here[-1]["id"]]))
    told = post(unit, *away)

    assert told["done"] == done(film) == 5
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
    assert done(film) == 8


def test_what_cannot_be_is_refused_by_itself_and_the_rest_is_kept(film, unit):
    told = post(unit, event(49), event(3), event(1, number=7), event(1, name="short"), event(-1))

    assert [one["kept"] for one in told["events"]] == [False, True, False, False, False]
    assert told["events"][0]["problem"] == "issue 1 has 48 frames: so many can be shot, or fewer, not 49"
    assert told["done"] == done(film) == 3


def test_a_unit_tells_of_its_own_shots_only_and_of_those_it_had(floor, film, unit):
    issue(film, "SH010", unit="12", reason="moved")

    assert floor("unit:3").post(FRAMES, json={"events": [event(1)]}).status_code == 403
    assert floor("office").post(FRAMES, json={"events": [event(1)]}).status_code == 403
    # What it shot before it heard of that is shot.
    assert post(unit, event(4))["done"] == done(film) == 4
    assert not post(unit, event(5, number=2))["events"][0]["kept"]


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"{}", b'{"events": 3}', b'{"events": [3]}', b'{"events": [{"id": 3}]}', b"\xff", b'{"events": [{}]}'],
)
def test_what_is_no_count_is_told_in_words(film, unit, body):
    answer = unit.post(FRAMES, content=body)

    assert answer.status_code == 400
    assert "frame" in answer.json()["problem"]
    assert done(film) is None


def test_all_pages_are_told_of_frames_that_are_done_once(app, unit):
    app.state.live = heard = Heard()
    one = event(3)
    post(unit, one)
    post(unit, one)

    assert heard.told == [("done", {"kind": "done", "shot": "SH010", "done": 3, "of": 48, "unit": "7", "by": "unit 7"})]


# Sound and mouths.


def test_the_sound_of_a_shot_is_the_recording_on_its_frames_sample_for_sample(film, unit):
    give_samples(film)
    answer = unit.get("/api/floor/SH010/sound")
    with wave.open(io.BytesIO(answer.content)) as file:
        heard = np.frombuffer(file.readframes(file.getnframes()), "<i2")
        rate = file.getframerate()

    assert (answer.status_code, answer.headers["content-type"], rate, len(heard)) == (
        200,
        "audio/wav",
        RATE,
        48 * FRAME,
    )
    start = STARTS["L0001-1"] * RATE
    expected = np.rint(recorded()[start : start + 20 * FRAME] * 2**15)
    assert np.abs(heard[10 * FRAME : 30 * FRAME] - expected).max() <= 1
    assert not heard[: 10 * FRAME].any()


def test_the_sound_is_given_by_ranges_and_not_again_to_who_has_it(film, unit):
    give_samples(film)
    whole = unit.get("/api/floor/SH010/sound")
    tag = whole.headers["etag"]
    part = unit.get("/api/floor/SH010/sound", headers={"Range": "bytes=100-199", "If-Range": tag})

    assert (part.status_code, part.content) == (206, whole.content[100:200])
    assert part.headers["content-range"] == f"bytes 100-199/{len(whole.content)}"
    assert unit.get("/api/floor/SH010/sound", headers={"If-None-Match": tag}).status_code == 304


def test_an_issue_sounds_as_it_did_when_the_cut_has_changed_since(film, unit, tmp_path):
    give_samples(film)
    before = unit.get("/api/floor/SH010/sound").content
    add_cut(film, tmp_path, (("SH010", 4, 0, 44), ("SH020", 200, 44, 36)), ((10, 6, 20), (30, 36, 13)))

    assert unit.get("/api/floor/SH010/sound?issue=1").content == before
    issue(film, "SH010", unit="")
    assert len(unit.get("/api/floor/SH010/sound").content) == len(before) - 2 * 4 * FRAME


def test_a_missing_recording_is_told_in_words(film, unit):
    for path in (film.folder / "sounds").rglob("*.wav"):
        path.unlink()
    answer = unit.get("/api/floor/SH010/sound")

    assert answer.status_code == 400
    assert "is missing: put it back" in answer.json()["problem"]


def test_every_mouth_of_a_sheet_has_its_picture(unit):
    sheet = unit.get("/api/floor/SH010").json()
    (brack,) = [voice for voice in sheet["voices"] if voice["character"] == "BRACK"]
    found = [unit.get(f"/api/floor/SH010/mouth/BRACK/{name}") for name in brack["mouths"]]

    assert len(found) > 3
    assert {one.headers["content-type"] for one in found} == {"image/svg+xml"}
    assert all(one.content.startswith(b"<svg") for one in found)
    again = unit.get(
        f"/api/floor/SH010/mouth/BRACK/{brack['mouths'][0]}", headers={"If-None-Match": found[0].headers["etag"]}
    )
    assert again.status_code == 304
    assert unit.get("/api/floor/SH010/mouth/BRACK/beak").status_code == 400


# Which sheet.


def test_a_code_tells_whether_a_sheet_is_the_current_one(film, unit):
    old = unit.get("/api/floor/SH010").json()["code"]
    later(film)
    (second,) = issue(film, "SH010", unit="")
    (told,) = unit.get("/api/which", params={"code": old.lower()}).json()["sheets"]

    assert (told["current"], told["replaced_by"]["code"]) == (False, second.code)
    assert told["differs"]
    assert unit.get("/api/which", params={"code": second.code}).json()["sheets"][0]["current"]
    assert unit.get("/api/which", params={"code": "rubbish"}).status_code == 400


def test_a_photograph_of_a_sheet_tells_it_too(film, unit):
    (first,) = issue(film, "SH010")
    picture = io.BytesIO()
    with pypdfium2.PdfDocument(pdf_as_issued(film, first)) as pdf:
        pdf[0].render(scale=2).to_pil().save(picture, "JPEG")
    (told,) = unit.post("/api/which", content=picture.getvalue()).json()["sheets"]

    assert (told["code"], told["current"]) == (first.code, True)


def test_a_photograph_that_shows_no_code_or_is_too_large_is_refused(unit):
    assert unit.post("/api/which", content=b"no picture").status_code == 400
    too_large = unit.post("/api/which", content=bytes(8 * 2**20 + 1))

    assert (too_large.status_code, too_large.json()["problem"]) == (413, "it is too large: send 8 MB at most")


def test_a_unit_is_told_of_anothers_sheet_only_whose_it_is(floor, unit):
    code = unit.get("/api/floor/SH010").json()["code"]
    answer = floor("unit:12").get("/api/which", params={"code": code})

    assert (answer.status_code, answer.json()) == (403, {"problem": "SH010 is a sheet of unit 7, not of yours"})
