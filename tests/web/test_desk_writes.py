"""What the desk writes to the server: corrections on what was seen, undone and redone; and who may."""

import pytest

from tests.makers import a_reading
from tests.web.desks import PHONES, read_by_hand
from trackread.book.corrections import corrections
from trackread.workflow.desk_corrections import MAKERS

TAKE = "/api/takes/L0001-1"
FRAME = 2000  # samples of a frame: 48 kHz, 24 a second
STEP = 2  # the word "step,"


def tag(desk, take=TAKE):
    return desk.get(take).headers["etag"]


def write(desk, what, seen=None, *, take=TAKE, **asked):
    return desk.post(f"{take}/{what}", json=asked, headers={"If-Match": seen or tag(desk)})


def state(desk):
    """A take without what counts its corrections."""
    return {key: value for key, value in desk.get(TAKE).json().items() if key not in ("revision", "undo", "redo")}


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
