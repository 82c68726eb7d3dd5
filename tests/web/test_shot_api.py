"""A shot at the desk, asked of the server: its voices, takes and mouths, writes and clashes, and its sound."""

import struct
import threading

import numpy as np
import pytest

from tests.films import FRAME, RATE
from tests.web.floors import a_floor, add_cut, give_samples, recorded
from tests.web.served import served
from trackread.book.book import Book
from trackread.book.readings import readings_with
from trackread.book.shot_notes import shot_notes
from trackread.core.clock import Clock, clock_of_placement
from trackread.core.plain_sheet import plain_of
from trackread.workflow.keys import make_key
from trackread.workflow.material import gather
from trackread.workflow.mouth_plans import shot_plans
from trackread.workflow.pinning import brief_named, pin_mouth
from trackread.workflow.shot_sheet import reading_ids, sheet_of_shot
from trackread.workflow.shots import sheet_wish

# L0001-1 plays twice in SH010, from frame 10 and from 50; L0002-1 from 40 on, over the cut at 80.
SHOTS = (("SH010", 0, 0, 80), ("SH020", 200, 80, 36))
PIECES = ((10, 10, 20), (10, 50, 20), (30, 75, 13))


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A film of two shots; tests change it one after another."""
    folder = tmp_path_factory.mktemp("shots")
    with Book.open(a_floor(folder)) as book:
        give_samples(book)
        add_cut(book, folder, SHOTS, PIECES)
    with served(folder / "tram") as server:
        yield server


def visitor(server, role="editor", name="ANN", unit=""):
    client = server.client()
    client.post("/sign-in", data={"key": make_key(server.book, role, name, unit, "ANN").text})
    return client


@pytest.fixture(scope="module")
def ann(server):
    return visitor(server)


@pytest.fixture(scope="module")
def ben(server):
    return visitor(server, name="BEN")


def path(shot="SH010"):
    return f"/api/shots/{shot}"


def seen(client, shot="SH010"):
    """The shot, and the revision to write on."""
    answer = client.get(path(shot))
    assert answer.status_code == 200
    assert answer.headers["etag"] == f'"{answer.json()["revision"]}"'
    return answer.json(), answer.headers["etag"]


def setting(client, revision, first, stop, *mouths, character="BRACK", shot="SH010"):
    pins = [{"mouth": mouth, "first": first, "stop": stop} for mouth in mouths]
    body = {"character": character, "first": first, "stop": stop, "pins": pins}
    return client.post(f"{path(shot)}/mouths", json=body, headers={"If-Match": revision} if revision else {})


def of(told, character):
    return next(one for one in told["voices"] if one["character"] == character)


@pytest.mark.parametrize("shot", ["SH010", "SH020"])
def test_the_voices_of_a_shot_are_those_of_its_sheet(server, ann, shot):
    told, _ = seen(ann, shot)
    brief = brief_named(gather(server.book), shot)
    wish = sheet_wish(server.book.production)
    sheet = sheet_of_shot(brief, readings_with(server.book, reading_ids([brief])), wish, with_sound=False)

    assert told["frames"] == sheet.length
    assert len(told["voices"]) == len(sheet.voices)
    for voice, sheets in zip(told["voices"], sheet.voices, strict=True):
        assert {**voice, **plain_of(sheets)} == voice


def test_takes_say_where_they_play_though_a_shot_cuts_them_off(ann):
    first, second = seen(ann)[0], seen(ann, "SH020")[0]
    twice = of(first, "BRACK")["placed"]
    over = of(second, "MISS PELL")["placed"]

    assert [(one["take"], one["plays"], one["seen"]) for one in twice] == [
        ("L0001-1", [10, 30], [10, 30]),
        ("L0001-1", [50, 70], [50, 70]),
    ]
    assert [(one["plays"], one["seen"]) for one in over] == [([-5, 8], [0, 8])]
    assert of(first, "MISS PELL")["placed"][0]["seen"] == [75, 80]


def test_a_take_is_counted_on_the_frames_of_the_shot_by_the_clock_of_its_placement(server, ann):
    placed = of(seen(ann, "SH020")[0], "MISS PELL")["placed"][0]
    brief = brief_named(gather(server.book), "SH020")
    (heard,) = brief.heard
    clock = clock_of_placement(heard.placement, server.book.production.rate).from_sample(heard.take.stretch.start)
    told = Clock(placed["per"], placed["offset"], placed["scale"])

    assert [told.frame(k) for k in range(0, 13 * FRAME, 777)] == [
        clock.frame(k) - brief.shot.first for k in range(0, 13 * FRAME, 777)
    ]


def test_the_takes_of_a_shot_are_those_of_their_own_pages(ann):
    told, _ = seen(ann)
    alone = ann.get("/api/takes/L0001-1").json()

    assert {**alone, **told["takes"]["L0001-1"]} == {**alone, "changed": ""}


def test_of_a_shot_one_voice_is_told_alone(ann):
    told = ann.get(path(), params={"character": "MISS PELL"}).json()
    nobody = ann.get(path(), params={"character": "NOBODY"}).json()

    assert told["voices"] == [of(seen(ann)[0], "MISS PELL")]
    assert list(told["takes"]) == ["L0002-1"]
    assert (nobody["voices"], nobody["takes"]) == ([], {})


def test_a_mouth_is_set_as_the_command_sets_it_and_taken_away(server, ann):
    told, revision = seen(ann)
    name = of(told, "BRACK")["mouth_names"][3]
    answer = setting(ann, revision, 12, 15, name)
    voice = of(answer.json(), "BRACK")
    note = shot_notes(server.book)["SH010"]["mouths"]
    worn = shot_plans(server.book, "SH010", "BRACK")[0].worn
    away = setting(ann, answer.headers["etag"], 13, 14)
    left = of(away.json(), "BRACK")["pins"]
    setting(ann, away.headers["etag"], 0, 80)

    assert (answer.status_code, away.status_code) == (200, 200)
    assert voice["pins"] == [{"mouth": name, "first": 12, "stop": 15}]
    assert voice["mouths"] == [plain_of(one) for one in worn]
    assert any(one.pinned and (one.first, one.stop) == (12, 15) for one in worn)
    assert note.author == "ANN"
    assert left == [{"mouth": name, "first": 12, "stop": 13}, {"mouth": name, "first": 14, "stop": 15}]


def test_of_two_who_set_mouths_on_one_revision_the_later_is_told_both_and_nothing_is_lost(ann, ben):
    told, revision = seen(ann)
    names = of(told, "BRACK")["mouth_names"]
    first = setting(ben, revision, 20, 22, names[1])
    second = setting(ann, revision, 21, 24, names[2])
    clash = second.json()
    now, revision = seen(ann)
    setting(ann, revision, 0, 80)

    assert (first.status_code, second.status_code) == (200, 412)
    assert clash["yours"]["words"] == f"SH010: BRACK wears {names[2]!r} on 22 to 24"
    assert [(one["by"], one["words"]) for one in clash["theirs"]] == [("BEN", f"BRACK wears {names[1]!r} on 21 to 22")]
    assert of(clash, "BRACK")["pins"] == of(now, "BRACK")["pins"] == [{"mouth": names[1], "first": 20, "stop": 22}]
    assert clash["revision"] == now["revision"]


def test_of_many_who_set_mouths_at_the_same_moment_one_is_heard(server, ann, ben):
    told, revision = seen(ann)
    names = of(told, "BRACK")["mouth_names"]
    before = shot_notes(server.book)["SH010"]["mouths"].id
    answers = []
    threads = [
        threading.Thread(target=lambda k=k: answers.append(setting((ann, ben)[k % 2], revision, k, k + 1, names[0])))
        for k in range(6)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    after = shot_notes(server.book)["SH010"]["mouths"].id
    setting(ann, seen(ann)[1], 0, 80)

    assert sorted(one.status_code for one in answers) == [200] + [412] * 5
    assert after == before + 1


def test_who_pins_on_the_command_line_is_met_too(server, ann):
    told, revision = seen(ann)
    name = of(told, "BRACK")["mouth_names"][0]
    pin_mouth(server.book, "SH010", "30-31", name, character="BRACK", author="CLEO")
    clash = setting(ann, revision, 0, 2, name)
    setting(ann, seen(ann)[1], 0, 80)

    assert clash.status_code == 412
    assert clash.json()["theirs"][0]["by"] == "CLEO"
    assert clash.json()["theirs"][0]["words"] == "nothing is pinned on these frames; 1 more elsewhere"


def test_a_write_without_a_revision_is_refused(ann):
    answer = setting(ann, None, 0, 2)

    assert answer.status_code == 428
    assert "If-Match" in answer.json()["problem"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"first": 78, "stop": 81}, "frames 1 to 80 can be set here, not those from 79 to 81"),
        ({"first": 5, "stop": 5}, "frames 1 to 80"),
        ({"first": "5"}, "first is '5': say a whole number"),
        ({"character": "TUM"}, "no puppet of 'TUM' with a kit"),
        ({"character": None}, "character is None"),
        ({"pins": [{"mouth": "grin of nobody", "first": 5, "stop": 6}]}, "is no mouth of the kit brack"),
        ({"pins": [{"mouth": "1", "first": 4, "stop": 6}]}, "frames 6 to 8 can be set here"),
        ({"pins": [{"mouth": "1", "first": 5, "stop": 7}, {"mouth": "2", "first": 6, "stop": 8}]}, "frames 8 to 8"),
        ({"pins": "all"}, "pins is no list of mouths"),
        ({"kit": "brack-winter"}, "BRACK has no kit 'brack-winter': there are brack"),
    ],
)
def test_what_cannot_be_set_is_refused_in_plain_words(ann, changes, words):
    _, revision = seen(ann)
    body = {"character": "BRACK", "first": 5, "stop": 8, "pins": [], **changes}
    answer = ann.post(f"{path()}/mouths", json=body, headers={"If-Match": revision})

    assert answer.status_code == 400
    assert words in answer.json()["problem"]
    assert seen(ann)[1] == revision


def test_another_kit_is_worn_in_a_shot(server, ann):
    kits = server.book.folder / "kits"
    (kits / "brack-winter.toml").write_text((kits / "brack.toml").read_text())
    _, revision = seen(ann)
    body = {"character": "BRACK", "kit": "brack-winter"}
    answer = ann.post(f"{path()}/mouths", json=body, headers={"If-Match": revision})
    stale = ann.post(f"{path()}/mouths", json=body, headers={"If-Match": revision}).json()
    voice = of(answer.json(), "BRACK")
    back = {"character": "BRACK", "kit": "brack"}
    ann.post(f"{path()}/mouths", json=back, headers={"If-Match": answer.headers["etag"]})
    (kits / "brack-winter.toml").unlink()

    assert (voice["kit"], voice["kits"]) == ("brack-winter", ["brack", "brack-winter"])
    assert stale["theirs"][0]["words"] == "BRACK wears the kit brack-winter"
    assert stale["yours"]["words"] == "SH010: BRACK wears the kit brack-winter"


def test_the_sound_begins_with_the_first_sample_of_the_shots_first_frame(ann):
    """The recording is a saw of whole numbers: each sample of it tells its place (tests/web/floors.py)."""
    told, _ = seen(ann, "SH020")
    answer = ann.get(f"{path('SH020')}/sound", params={"of": told["sound"]})
    samples = np.frombuffer(answer.content[44:], "<i2")
    wanted = np.rint(recorded()[30 * RATE + 5 * FRAME :][: 8 * FRAME] * 2**15)

    assert answer.headers["etag"] == f'"{told["sound"]}"'
    assert struct.unpack("<I", answer.content[24:28]) == (RATE,)
    assert len(samples) == told["samples"] == 36 * FRAME
    assert samples[: 8 * FRAME].tolist() == wanted.tolist()
    assert not samples[8 * FRAME :].any()


def test_a_piece_of_a_sound_is_given_as_it_was_told(ann):
    whole = ann.get(f"{path()}/sound").content
    part = ann.get(f"{path()}/sound", headers={"Range": "bytes=100-199"})
    told, _ = seen(ann)
    same = ann.get(f"{path()}/sound", headers={"If-None-Match": f'"{told["sound"]}"'})

    assert (part.status_code, part.content) == (206, whole[100:200])
    assert same.status_code == 304


def test_what_a_mouth_looks_like_is_told_of_its_kit(ann):
    answer = ann.get("/api/kits/brack/mouths/lips shut")
    again = ann.get("/api/kits/brack/mouths/lips shut", headers={"If-None-Match": answer.headers["etag"]})
    missing = ann.get("/api/kits/brack/mouths/grin of nobody")

    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.content.startswith(b"<svg")
    assert again.status_code == 304
    assert (missing.status_code, missing.json()["problem"]) == (400, "the kit brack has no mouth 'grin of nobody'")


def test_the_office_may_read_and_not_write_and_a_unit_may_do_neither(server):
    office, unit = visitor(server, "office", "OSK"), visitor(server, "unit", "UMA", "7")
    _, revision = seen(office)
    got = [unit.get(one).status_code for one in (path(), f"{path()}/sound", "/desk/shot/SH010")]

    assert setting(office, revision, 0, 2).status_code == 403
    assert office.get("/desk/shot/SH010").status_code == 403
    assert got == [403, 403, 403]
    assert server.client().get(path()).status_code == 401


def test_the_page_of_a_shot_names_it_and_all_its_scripts(ann):
    page = ann.get("/desk/shot/SH010")
    missing = ann.get("/desk/shot/SH999")

    assert page.status_code == 200
    assert 'data-shot="SH010"' in page.text
    assert "/static/shot-model.js" in page.text
    assert missing.status_code == 400
    assert "SH999" in missing.json()["problem"]


def test_a_sound_that_was_told_stays_when_the_cut_is_another(tmp_path):
    folder = a_floor(tmp_path)
    with Book.open(folder) as book:
        give_samples(book)
        add_cut(book, tmp_path, SHOTS, PIECES)
    with served(folder) as server:
        client = visitor(server)
        before, revision = seen(client)
        first = client.get(f"{path()}/sound", params={"of": before["sound"]}).content
        add_cut(server.book, tmp_path, SHOTS, [(10, 12, 20), *PIECES[1:]])
        after, _ = seen(client)
        kept = client.get(f"{path()}/sound", params={"of": before["sound"]}).content
        new = client.get(f"{path()}/sound", params={"of": after["sound"]}).content
        late = setting(client, revision, 0, 2)

    assert before["sound"] != after["sound"]
    assert kept == first != new
    assert (late.status_code, late.json()["theirs"]) == (412, [])


def test_a_take_that_has_not_been_read_is_placed_and_said_to_be_missing(tmp_path):
    folder = a_floor(tmp_path)
    with Book.open(folder) as book:
        give_samples(book)
        add_cut(book, tmp_path, SHOTS, [(50, 10, 20)])
    with served(folder) as server:
        told, _ = seen(visitor(server))

    assert "has not been read" in told["warnings"][0]
    assert of(told, "BRACK")["placed"] == [
        {"take": "L0004-1", "line": "L0004", "text": "Next stop", "plays": [10, 30], "seen": [10, 23]}
    ]
    assert told["takes"] == {}
