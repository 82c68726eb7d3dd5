"""`trackread conform`; tests/cli/tram.py says how the actor's take differs from the stand-in's."""

import pytest


def test_the_actor_is_laid_beside_the_stand_in_word_by_word(tram, tram_json):
    found = tram_json("conform", "L0001", "--frame", 2, "--frame", 21)

    assert (found["before"], found["after"]) == ("L0001-3", "L0001-2")
    # At 24 kHz and 24 a second a frame is 1000 samples; a phone lasts 1680, and the first frame is number 1.
    assert [(word["text"], word["before"], word["after"], word["longer"]) for word in found["words"]] == [
        ("Mind", 2, 12, 0),
        ("the", 9, 19, 0),
        ("step,", 12, 22, 2),
        ("ticket!", 21, 32, 1),
    ]
    assert found["frames"] == [{"before": 2, "after": 12}, {"before": 21, "after": 32}]
    assert "'step,': what was frame 12 is now frame 22, 2 frames longer" in found["remarks"]
    assert "step,         12       22  2 longer" in tram("conform", "L0001").splitlines()
    assert "frame 2 is now frame 12" in tram("conform", "L0001", "--frame", 2)


def test_the_circled_takes_are_laid_beside_one_another(tram, tram_json):
    tram("circle", "L0001-1")

    assert tram_json("conform", "L0001")["after"] == "L0001-1"


def test_the_takes_may_be_named(tram):
    told = tram("conform", "l0001", "--from", "L0001-1", "--to", "S1-002")

    assert told.startswith("L0001-1 to L0001-2\n  nothing has changed\n")


def test_a_word_that_is_respelt_is_another_word(tram):
    tram("correct", "respell", "L0001-2", "step", "stop,")
    rows = tram("conform", "L0001").splitlines()

    assert "step,         12           gone" in rows
    assert "stop,                  22  new" in rows


@pytest.mark.parametrize(
    ("asked", "reason"),
    [
        (["L0107"], "there is no line L0107"),
        (["L0003"], "no whole take of L0003 by a stand-in has been read yet"),
        (["L0002"], "L0002 has no take by a stand-in: name the take with --from"),
        (["L0001", "--to", "L0003-1"], "L0003-1 has not been read yet"),
        (["L0001", "--frame", "0"], "L0001-3 has no frame 0: it has frames 1 to 31"),
    ],
)
def test_what_cannot_be_laid_beside_another_is_refused(refused, asked, reason):
    assert reason in refused("conform", *asked)


def test_a_circled_take_that_is_not_read_is_told(tram, refused):
    tram("assign", "S2-002", "L0001")
    tram("circle", "L0001-4")

    assert "L0001-4 has not been read yet" in refused("conform", "L0001")
