"""What a unit is given: its sheets, whether they hold, their sound and mouths."""

import io
import wave

import numpy as np
import pytest

from tests.films import FRAME, RATE, STARTS
from tests.web.floors import add_cut, floor_app, issue, later, recorded, visitors
from trackread.workflow.decisions import circle
from trackread.workflow.placing import place
from trackread.workflow.stale import stale_sheets
from trackread.workflow.telling import tell_done
from trackread.workflow.undoing import undo


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


def test_a_sheet_holds_again_once_what_had_changed_is_taken_back(film, unit):
    later(film)
    assert unit.get("/api/floor/SH010").json()["stale"]
    undo(film, "L0001-1", "ANN")

    assert unit.get("/api/floor/SH010").json()["stale"] is None


def test_a_kit_that_is_broken_keeps_nobody_from_shooting_and_is_told(film, unit):
    kit = film.folder / "kits" / "brack.toml"
    text = kit.read_text()
    kit.write_text("no kit")
    broken = unit.get("/api/floor/SH010").json()
    shots = unit.get("/api/floor").json()["shots"]
    kit.write_text(text)

    assert (broken["stale"]["why"], len(broken["rows"]), len(shots)) == ("unknown", 48, 2)
    assert "brack.toml" in " ".join(broken["stale"]["told"])
    assert unit.get("/api/floor/SH010").json()["stale"] is None


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
    assert floor("").post("/api/floor/SH010/frames", json={"events": []}).status_code == 401


def test_a_shot_that_was_never_issued_is_not_there(unit):
    assert unit.get("/api/floor/SH999").status_code == 404
    assert unit.get("/api/floor/SH010?issue=9").json() == {"problem": "SH010: there is no issue 9 of yours, only 1"}
    assert unit.get("/api/floor/SH010?issue=one").json() == {"problem": "issue is 'one': say a number"}


# Sound and mouths.


def test_the_sound_of_a_shot_is_the_recording_on_its_frames_sample_for_sample(unit):
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


def test_the_sound_is_given_by_ranges_and_not_again_to_who_has_it(unit):
    whole = unit.get("/api/floor/SH010/sound")
    tag = whole.headers["etag"]
    part = unit.get("/api/floor/SH010/sound", headers={"Range": "bytes=100-199", "If-Range": tag})

    assert (part.status_code, part.content) == (206, whole.content[100:200])
    assert part.headers["content-range"] == f"bytes 100-199/{len(whole.content)}"
    assert unit.get("/api/floor/SH010/sound", headers={"If-None-Match": tag}).status_code == 304


def test_an_issue_sounds_as_it_did_when_the_cut_has_changed_since(film, unit, tmp_path):
    before = unit.get("/api/floor/SH010/sound").content
    add_cut(film, tmp_path, (("SH010", 4, 0, 44), ("SH020", 200, 44, 36)), ((10, 6, 20), (30, 36, 13)))

    assert unit.get("/api/floor/SH010/sound?issue=1").content == before
    issue(film, "SH010", unit="")
    assert len(unit.get("/api/floor/SH010/sound").content) == len(before) - 2 * 4 * FRAME


def test_an_issue_sounds_as_the_takes_that_it_names_whichever_is_circled_since(floor, film):
    place(film, "L0001", "SH020", 1, author="ANN")
    issue(film, "SH020", unit="9")
    address = "/api/floor/SH020/sound"
    before = floor("unit:9").get(address).content
    circle(film, ["L0001-1"], "ANN", on=True)
    # One that keeps nothing of what it has told.
    with visitors(floor_app(film)) as another:
        after = another("unit:9").get(address).content
    issue(film, "SH020", unit="9")

    assert after == before
    assert floor("unit:9").get(address).content != before


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
