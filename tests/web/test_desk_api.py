"""What the desk asks of the server and writes to it: takes, doubts, corrections on what was seen, and exact sound."""

import io
from itertools import pairwise

import numpy as np
import pytest
import soundfile
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading
from tests.web.desks import DOUBTS, PHONES, STARTS, a_desk, read_by_hand, serving
from trackread.book.corrections import corrections
from trackread.workflow.desk_corrections import MAKERS

TAKE = "/api/takes/L0001-1"
FRAME = 2000  # samples of a frame: 48 kHz, 24 a second
STEP = 2  # the word "step,"


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """A desk that nobody changes anything at."""
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk


@pytest.fixture
def desk(tmp_path):
    with serving(a_desk(tmp_path)) as desk:
        yield desk


def tag(desk, take=TAKE):
    return desk.get(take).headers["etag"]


def write(desk, what, seen=None, *, take=TAKE, **asked):
    return desk.post(f"{take}/{what}", json=asked, headers={"If-Match": seen or tag(desk)})


def state(desk):
    """A take without what counts its corrections."""
    return {key: value for key, value in desk.get(TAKE).json().items() if key not in ("revision", "undo", "redo")}


def test_a_take_is_told_with_all_its_parts(shown):
    answer = shown.get(TAKE)
    told = answer.json()

    assert answer.headers["etag"] == f'"{told["revision"]}"'
    assert told["rate"] == {"num": 24, "den": 1, "name": "24"}
    assert (told["first_frame"], told["frames"], told["samples"]) == (1, PHONES, PHONES * FRAME)
    assert told["cuts"] == [FRAME * k for k in range(PHONES + 1)]
    assert [word["text"] for word in told["words"]] == ["Mind", "the", "step,", "ticket!"]
    assert [word["doubt"] for word in told["words"]] == list(DOUBTS)
    assert [(one["frame"], one["frame_stop"]) for one in told["words"]] == [(1, 5), (5, 7), (7, 11), (12, 17)]
    assert [one["stress"] for one in told["syllables"]] == [2, 0, 2, 2, 0]
    assert [one["said"] for one in told["phones"][1:5]] == ["m", "eye", "n", "d"]
    assert told["pitch"]["hop"] == 480


def test_a_character_without_a_kit_has_no_mouths(desk):
    lengths = [FRAME, FRAME, FRAME, (PHONES - 3) * FRAME]
    read_by_hand(desk.book, "L0002-1", a_reading(("Tickets", "T IH1"), lengths=lengths, sample_rate=48000))
    for kit in (desk.book.folder / "kits").glob("miss-pell*"):
        kit.unlink()

    assert desk.get("/api/takes/L0002-1/mouths?from=0&to=9").json() == {"kit": "", "mouths": []}


def mouths_on(desk, first, stop):
    """The mouth on each of some frames."""
    told = desk.get(f"{TAKE}/mouths?from={first}&to={stop}").json()
    return [one["mouth"] for one in told["mouths"] for _ in range(one["first"], one["stop"])]


def test_mouths_are_told_for_every_frame_alike_whichever_part_is_asked_for(shown):
    whole = mouths_on(shown, 0, PHONES)
    parts = [one for first in range(0, PHONES, 6) for one in mouths_on(shown, first, first + 6)]

    assert len(whole) == PHONES
    assert len(set(whole)) > 1
    assert parts == whole


@pytest.mark.parametrize("asked", ["", "?from=0&to=0", "?from=0&to=19", "?from=5&to=4"])
def test_mouths_of_frames_that_are_not_there_are_refused(shown, asked):
    assert shown.get(f"{TAKE}/mouths{asked}").status_code == 400


def test_a_take_that_is_not_read_is_refused_in_plain_words(shown):
    answer = shown.get("/api/takes/L0002-1")

    assert answer.status_code == 400
    assert answer.json()["problem"].startswith("L0002-1 has not been read yet")


def test_takes_are_listed_line_by_line_with_what_is_left(shown):
    told = shown.get("/api/takes").json()

    assert [line["line"] for line in told["lines"]] == ["L0001", "L0002"]
    takes = {take["name"]: take for line in told["lines"] for take in line["takes"]}
    assert [takes[name]["read"] for name in STARTS] == [True, True, False]
    assert (takes["L0001-1"]["doubts"], takes["L0001-2"]["doubts"], told["left"]) == (2, 0, 2)


def test_doubts_come_in_order_of_worth_and_go_as_words_are_right(desk):
    told = desk.get("/api/doubts").json()
    write(desk, "corrections", kind="right", word=3)
    after = desk.get("/api/doubts").json()

    assert [(one["take"], one["word"]) for one in told["places"]] == [("L0001-1", 3), ("L0001-1", 1)]
    assert (told["left"], after["left"]) == (2, 1)


def test_a_circle_is_drawn_and_taken_away(desk):
    circled = [desk.post(f"{TAKE}/circle", json={"on": on}).json()["circled"] for on in (True, True, False)]

    assert circled == [True, True, False]


@pytest.mark.parametrize(
    ("asked", "seen_in"),
    [
        ({"kind": "move", "cut": 7, "to": 7 * FRAME + 1}, lambda told: told["cuts"][7] == 7 * FRAME + 1),
        ({"kind": "relabel", "phone": 9, "symbol": "ah"}, lambda told: told["phones"][9]["symbol"] == "AH"),
        ({"kind": "respell", "word": 0, "text": "Mine"}, lambda told: told["words"][0]["text"] == "Mine"),
        ({"kind": "split", "phone": 9, "at": 9 * FRAME + 70}, lambda told: told["cuts"][10] == 9 * FRAME + 70),
        ({"kind": "join", "phone": 9}, lambda told: len(told["phones"]) == PHONES - 1),
        ({"kind": "stress", "syllable": 0, "degree": 1}, lambda told: told["syllables"][0]["stress"] == 1),
        ({"kind": "pin", "cut": 7}, lambda told: told["pins"] == [7 * FRAME]),
        ({"kind": "right", "word": 1}, lambda told: told["words"][1]["right"]),
        ({"kind": "note", "sample": 11, "text": "a jolt"}, lambda told: told["notes"][0]["text"] == "a jolt"),
    ],
)  # fmt: skip
def test_every_correction_is_kept_undone_and_redone(desk, asked, seen_in):
    before = state(desk)
    answer = write(desk, "corrections", **asked)
    after = state(desk)
    undone = write(desk, "undo")
    back = state(desk)
    write(desk, "redo")

    assert answer.status_code == 200
    assert seen_in(answer.json())
    assert answer.json()["undo"]
    assert undone.json()["redo"]
    assert back == before
    assert state(desk) == after
    assert {note.author for note in corrections(desk.book, "L0001-1")} == {"ANN"}


def test_unpinning_lets_a_cut_move_again(desk):
    write(desk, "corrections", kind="pin", cut=7)
    told = write(desk, "corrections", kind="unpin", cut=7).json()

    assert told["pins"] == []
    assert told["phones"][7]["confidence"] == 0.9


def test_undo_and_redo_go_as_far_as_there_are_corrections(desk):
    states = [state(desk)]
    for degree in (0, 1, 2, 0):
        write(desk, "corrections", kind="stress", syllable=2, degree=(degree + 1) % 3)
        states.append(state(desk))
    back = [write(desk, "undo").status_code and state(desk) for _ in range(4)]
    forth = [write(desk, "redo").status_code and state(desk) for _ in range(4)]
    again = [write(desk, "undo").status_code and state(desk) for _ in range(4)]

    assert back == states[3::-1]
    assert forth == states[1:]
    assert again == back
    assert write(desk, "undo").json()["problem"] == "L0001-1 has no correction that could be undone"


def test_what_was_undone_is_not_redone_over_something_new(desk):
    write(desk, "corrections", kind="right", word=1)
    write(desk, "undo")
    write(desk, "corrections", kind="right", word=3)
    answer = write(desk, "redo")

    assert answer.status_code == 400
    assert "nothing that was undone last" in answer.json()["problem"]


def test_a_write_must_say_what_was_seen(desk):
    answers = [desk.post(f"{TAKE}/{what}", json={}) for what in ("corrections", "undo", "redo")]

    assert [answer.status_code for answer in answers] == [428] * 3


def test_a_clash_tells_both_versions_and_writes_nothing(desk):
    seen = tag(desk)
    write(desk, "corrections", seen, kind="respell", word=0, text="Mine")
    answer = desk.post(
        f"{TAKE}/corrections",
        json={"kind": "move", "cut": 1, "to": FRAME + 9},
        headers={"If-Match": seen, "X-Visitor": "editor BEN"},
    )
    told = answer.json()

    assert answer.status_code == 412
    assert told["yours"]["words"] == "the start of 'Mind' moved from frame 2 to 2"
    assert [(one["by"], one["words"]) for one in told["theirs"]] == [("ANN", "'Mind' on frame 2 is written 'Mine'")]
    assert told["take"]["words"][0]["text"] == "Mine"
    assert len(corrections(desk.book, "L0001-1")) == 1


def test_a_take_that_was_read_again_is_another_revision(desk):
    seen = tag(desk)
    read_by_hand(desk.book, "L0001-1", a_reading(lengths=[FRAME] * PHONES, sample_rate=48000), engine="2")
    answer = write(desk, "corrections", seen, kind="right", word=1)

    assert tag(desk) != seen
    assert answer.status_code == 412
    assert "has been read again" in answer.json()["problem"]


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"kind": "melt"}, "'melt' is no kind of correction"),
        ({"kind": "move", "cut": 0, "to": 5}, "stays where it is"),
        ({"kind": "move", "cut": 99, "to": 5}, "there is no cut 99: they run from 0 to 17"),
        ({"kind": "move", "cut": 7, "to": 5}, "cannot lie at"),
        ({"kind": "move", "cut": 7, "to": 5.5}, "to is 5.5: say a whole number"),
        ({"kind": "move", "cut": True, "to": 5}, "cut is True: say a whole number"),
        ({"kind": "relabel", "phone": 9, "symbol": "QX"}, "'QX' is not a phone"),
        ({"kind": "respell", "word": 0, "text": " "}, "the new spelling is empty"),
        ({"kind": "respell", "word": 0}, "text is None: say a text"),
        ({"kind": "split", "phone": 9, "at": 19000, "word": "mine"}, "word is 'mine': say one of this, next, neither"),
        ({"kind": "join", "phone": PHONES - 1}, "nothing comes after the last sound"),
        ({"kind": "stress", "syllable": 0, "degree": 3}, "there is no degree 3"),
        ({"kind": "right", "word": -1}, "there is no word -1"),
        ({"kind": "note", "sample": 5, "text": "a\x1bb"}, "control character"),
    ],
)
def test_what_no_reading_takes_is_refused_in_plain_words(shown, asked, words):
    answer = write(shown, "corrections", **asked)

    assert answer.status_code == 400
    assert words in answer.json()["problem"]


@pytest.mark.parametrize("body", [b"{", b"[1]", b"\xff"])
def test_what_is_no_group_of_values_is_refused(shown, body):
    answer = shown.post(f"{TAKE}/corrections", content=body, headers={"If-Match": tag(shown)})

    assert answer.status_code == 400
    assert "what was sent" in answer.json()["problem"]


def test_every_kind_of_correction_is_tried_here():
    assert set(MAKERS) == {*"move relabel respell split join stress pin unpin right note".split()}


def test_others_are_told_of_a_correction(desk):
    revision = write(desk, "corrections", kind="right", word=1).json()["revision"]
    told = {"kind": "take", "name": "L0001-1", "revision": revision, "by": "ANN"}

    assert desk.app.state.live.last_told("take", told) == told


@pytest.mark.parametrize("visitor", ["office BEA", "unit CAL", "editor"])
def test_only_an_editor_writes(shown, visitor):
    answer = shown.post(f"{TAKE}/undo", headers={"If-Match": tag(shown), "X-Visitor": visitor})

    assert answer.status_code == (401 if visitor == "editor" else 403)


def samples_of(answer):
    return soundfile.read(io.BytesIO(answer.content), dtype="float32")


@pytest.mark.parametrize("subtype", ["PCM_U8", "PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE"])
def test_the_sound_of_a_take_has_exactly_the_samples_of_its_recording(tmp_path, subtype):
    folder = a_desk(tmp_path, rate=44_100, subtype=subtype)
    recorded = soundfile.read(tmp_path / "reel 1.wav", dtype="float32")[0]
    with serving(folder) as desk:
        answer = desk.get("/api/takes/L0001-2/sound")
    samples, rate = samples_of(answer)

    assert answer.headers["content-type"] == "audio/wav"
    assert rate == 44_100
    assert np.array_equal(samples, recorded[3 * rate : 3 * rate + len(samples)])
    assert len(samples) == -(-PHONES * 44_100 // 24)


@given(st.data())
def test_any_range_of_the_sound_is_that_part_of_the_whole(shown, data):
    whole = shown.get(f"{TAKE}/sound").content
    first = data.draw(st.integers(0, len(whole) - 1))
    last = data.draw(st.integers(first, len(whole) + 5))
    part = shown.get(f"{TAKE}/sound", headers={"Range": f"bytes={first}-{last}"})

    assert part.status_code == 206
    assert part.content == whole[first : last + 1]
    assert part.headers["content-range"] == f"bytes {first}-{min(last, len(whole) - 1)}/{len(whole)}"


@pytest.mark.parametrize(
    ("asked", "status", "span"),
    [
        ("bytes=-10", 206, slice(-10, None)),
        ("bytes=10-", 206, slice(10, None)),
        ("bytes=-0", 416, None),
        ("bytes=99999999-", 416, None),
        ("bytes=5-4", 416, None),
        ("bytes=-", 200, slice(None)),
        ("bytes=0-1,3-4", 200, slice(None)),
        ("words=0-1", 200, slice(None)),
    ],
)
def test_ranges_are_answered_as_the_standard_says(shown, asked, status, span):
    """RFC 9110, sections 14.1.2, 14.2 and 15.5.17; a range that ends before it begins is invalid."""
    whole = shown.get(f"{TAKE}/sound").content
    answer = shown.get(f"{TAKE}/sound", headers={"Range": asked})

    assert answer.status_code == status
    assert answer.content == (whole[span] if span else b"")


def test_a_range_counts_only_of_the_sound_that_was_seen(shown):
    etag = shown.get(f"{TAKE}/sound").headers["etag"]
    same, other = (
        shown.get(f"{TAKE}/sound", headers={"Range": "bytes=0-9", "If-Range": one}) for one in (etag, '"another"')
    )

    assert (same.status_code, other.status_code) == (206, 200)
    assert shown.get(f"{TAKE}/sound", headers={"If-None-Match": f'"x", W/{etag}'}).status_code == 304


def test_a_wave_file_of_an_odd_number_of_bytes_is_padded(tmp_path):
    folder = a_desk(tmp_path, rate=44_100, subtype="PCM_24", frames=PHONES + 1)
    with serving(folder) as desk:
        answer = desk.get(f"{TAKE}/sound")

    assert int(answer.headers["content-length"]) == len(answer.content)
    assert len(answer.content) % 2 == 0
    assert int.from_bytes(answer.content[4:8], "little") == len(answer.content) - 8


@given(first=st.integers(0, 30_000), length=st.integers(1, 4000), count=st.integers(1, 300))
def test_peaks_are_the_lows_and_highs_of_even_parts(shown_samples, first, length, count):
    shown, samples = shown_samples
    answer = shown.get(f"{TAKE}/peaks?from={first}&to={first + length}&count={count}").json()
    parts = min(count, length)
    edges = [first + k * length // parts for k in range(parts + 1)]
    pieces = [samples[a:b] for a, b in pairwise(edges)]

    assert answer["lows"] == [float(piece.min()) for piece in pieces]
    assert answer["highs"] == [float(piece.max()) for piece in pieces]


@pytest.fixture(scope="module")
def shown_samples(shown):
    return shown, samples_of(shown.get(f"{TAKE}/sound"))[0]


@pytest.mark.parametrize(
    "span", [(0, 0, 1), (0, 999_999, 1), (-1, 5, 1), (0, 5, 0), (0, 9000, 9000), ("x", 5, 1)], ids=str
)
def test_peaks_of_what_is_not_there_are_refused(shown, span):
    first, stop, count = span

    assert shown.get(f"{TAKE}/peaks?from={first}&to={stop}&count={count}").status_code == 400


def test_the_productions_own_keys_are_told(desk):
    (desk.book.folder / "desk-keys.toml").write_text('play = "p"\nnext-doubt = ["n", "Tab"]\n')

    assert desk.get("/api/keys").json()["keys"] == {"play": ["p"], "next-doubt": ["n", "Tab"]}


@pytest.mark.parametrize("text", ["play = 3", "play = []", 'play = ""', "play ="])
def test_keys_that_are_none_are_refused_with_the_file(desk, text):
    (desk.book.folder / "desk-keys.toml").write_text(text)
    answer = desk.get("/api/keys")

    assert answer.status_code == 400
    assert "desk-keys.toml" in answer.json()["problem"]
