"""What the desk asks of the server: takes, lines with their takes, doubts, mouths and keys; and circles."""

import pytest

from tests.makers import a_reading
from tests.web.desks import DOUBTS, PHONES, STARTS, read_by_hand

TAKE = "/api/takes/L0001-1"
FRAME = 2000  # samples of a frame: 48 kHz, 24 a second


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


def test_the_pitch_of_a_take_is_told_apart_from_what_may_change(shown):
    """A hop of 10 ms, as tests/makers.py has it, with no pitch at each fifth."""
    told = shown.get(f"{TAKE}/pitch").json()

    assert told["hop"] == 480
    assert told["hertz"][:7] == [None, 101, 102, 103, 104, None, 106]
    assert len(told["hertz"]) == PHONES * FRAME // 480 + 1


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


def test_a_line_is_told_with_the_words_that_each_of_its_takes_says(desk):
    """L0001-2 is read as a take that leaves out "the" and adds "now": words of the line alone are told."""
    lengths = [*[FRAME] * 16, (PHONES - 16) * FRAME]
    said = [("Mind", "M AY1 N D"), ("step,", "S T EH1 P"), ("now", "N AW1"), ("ticket!", "T IH1 K IH0 T")]
    read_by_hand(desk.book, "L0001-2", a_reading(*said, lengths=lengths, sample_rate=48000), engine="2")
    told = desk.get("/api/lines/l0001").json()
    takes = {take["name"]: take for take in told["takes"]}

    assert told["words"] == ["Mind", "the", "step,", "ticket!"]
    assert takes["L0001-1"]["words"] == [
        [0, FRAME, 5 * FRAME],
        [1, 5 * FRAME, 7 * FRAME],
        [2, 7 * FRAME, 11 * FRAME],
        [3, 12 * FRAME, 17 * FRAME],
    ]
    assert takes["L0001-2"]["words"] == [[0, FRAME, 5 * FRAME], [2, 5 * FRAME, 9 * FRAME], [3, 11 * FRAME, 16 * FRAME]]
    assert {(take["sample_rate"], take["samples"], take["read"]) for take in takes.values()} == {
        (48_000, PHONES * FRAME, True)
    }


def test_a_take_that_is_not_read_says_no_word_that_is_known(shown):
    (take,) = shown.get("/api/lines/L0002").json()["takes"]

    assert (take["name"], take["read"], take["words"]) == ("L0002-1", False, [])


@pytest.mark.parametrize(("line", "words"), [("L0999", "L0999"), ("tram", "is not the name of a line")])
def test_a_line_that_there_is_none_of_is_refused(shown, line, words):
    answer = shown.get(f"/api/lines/{line}")

    assert answer.status_code == 400
    assert words in answer.json()["problem"]


def test_doubts_come_in_order_of_worth_and_go_as_words_are_right(desk):
    told = desk.get("/api/doubts").json()
    headers = {"If-Match": desk.get(TAKE).headers["etag"]}
    desk.post(f"{TAKE}/corrections", json={"kind": "right", "word": 3}, headers=headers)
    after = desk.get("/api/doubts").json()

    assert [(one["take"], one["word"]) for one in told["places"]] == [("L0001-1", 3), ("L0001-1", 1)]
    assert (told["left"], after["left"]) == (2, 1)


def test_a_circle_is_drawn_and_taken_away(desk):
    circled = [desk.post(f"{TAKE}/circle", json={"on": on}).json()["circled"] for on in (True, True, False)]

    assert circled == [True, True, False]


def test_the_productions_own_keys_are_told(desk):
    (desk.book.folder / "desk-keys.toml").write_text('play = "p"\nnext-doubt = ["n", "Tab"]\n')

    assert desk.get("/api/keys").json()["keys"] == {"play": ["p"], "next-doubt": ["n", "Tab"]}


@pytest.mark.parametrize("text", ["play = 3", "play = []", 'play = ""', "play ="])
def test_keys_that_are_none_are_refused_with_the_file(desk, text):
    (desk.book.folder / "desk-keys.toml").write_text(text)
    answer = desk.get("/api/keys")

    assert answer.status_code == 400
    assert "desk-keys.toml" in answer.json()["problem"]
