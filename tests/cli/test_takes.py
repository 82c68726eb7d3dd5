"""`trackread takes`, `trackread circle` and `trackread assign`."""

import pytest

from tests.cli.tram import SCRIPT, read_by_hand, script_of
from trackread.book.book import Book


def names(found):
    return [row["name"] for row in found["takes"]]


def test_every_stretch_has_a_row(tram):
    rows = tram("takes").splitlines()

    assert rows[0].split() == ["take", "stretch", "character", "words", "says", "marks", "starts", "seconds", "reading"]
    assert [row.split()[:2] for row in rows[1:]] == [
        ["L0001-1", "S1-001"],
        ["L0001-2", "S1-002"],
        ["S1-003", "S1-003"],
        ["L0002-1", "S1-004"],
        ["S1-005", "S1-005"],
        ["L0001-3", "S2-001"],
        ["L0003-1", "S2-002"],
    ]
    assert "MISS PELL  Tickets, please. Every seat…  cut off" in rows[4]
    assert "L0003? Don't look at me. I" in rows[5]
    assert "stand-in" in rows[6]


def test_a_take_starts_at_the_timecode_of_its_recording(tram_json):
    first, second = tram_json("takes", "--line", "L0001")["takes"][:2]

    # The recording starts at 01:00:00:00; at 48 kHz and 24 a second, sample 48000 is one second on.
    assert (first["start"], second["start"]) == ("01:00:01:00", "01:00:10:00")
    assert (first["first"], first["stop"], first["sample_rate"]) == (48_000, 120_000, 48_000)
    assert first["milliseconds"] == 1500


@pytest.mark.parametrize(
    ("chosen", "found"),
    [
        (["--session", "s2"], ["L0001-3", "L0003-1"]),
        # What nobody is sure of may be a take of L0003.
        (["--line", "l0003"], ["S1-005", "L0003-1"]),
        (["--character", "The Driver"], ["L0001-1", "L0001-2", "S1-005", "L0001-3"]),
        (["--scene", "8"], ["S1-005"]),
        (["--scene", "8", "--character", "TUM"], []),
        (["--unsure"], ["S1-005"]),
        (["--circled"], []),
    ],
)
def test_takes_are_chosen_by_what_they_may_be_of(tram_json, chosen, found):
    assert names(tram_json("takes", *chosen)) == found


def test_where_no_take_is_as_asked_that_is_said(tram):
    assert tram("takes", "--circled") == "There is none.\n"


def test_what_is_unsure_shows_its_likeliest_lines_and_what_it_sounds_like(tram):
    assert tram("takes", "--unsure").splitlines() == [
        "S1-005  01:01:40:00  0.00 s  sounds like: dohnt luuk",
        "  0.40  L0003  TUM: Don't look at me. I am only a hat.",
        "  0.30  L0004  MISS PELL: Whose hat is this?",
        "  0.20  L0001  BRACK: Mind the step, ticket!",
    ]
    assert tram("takes", "--unsure", "--session", "S2") == "Nothing is unsure.\n"


@pytest.mark.parametrize(
    ("chosen", "reason"),
    [
        (["--session", "2b"], "'2b' is not the name of a session: write it as S2"),
        (["--session", "S9"], "there is no session S9: they run from S1 to S2"),
        (["--line", "107"], "'107' is not the name of a line: write it as L0107"),
        (["--line", "L0107"], "there is no line L0107"),
        (["--character", "ZOË"], "nobody is called 'ZOË'"),
        (["--scene", "9"], "there is no scene '9' in the script: there are 7, 8"),
    ],
)
def test_what_there_is_none_of_is_named(refused, chosen, reason):
    assert reason in refused("takes", *chosen)


def test_a_take_is_to_be_read_again_once_its_words_or_pronunciations_change(tram_json, production, tmp_path):
    def readings():
        return [row["reading"] for row in tram_json("takes", "--line", "L0001")["takes"] if row["line"]]

    assert readings() == ["read"] * 3
    with Book.open(production) as book:
        script_of(book, tmp_path, SCRIPT.replace("Mind the", "Mind that"))
    assert readings() == ["to be read again"] * 3
    with Book.open(production) as book:
        read_by_hand(book, "L0001-2")
    assert readings() == ["to be read again", "read", "to be read again"]
    (production / "pronunciations.txt").write_text("TRAM T R AE1 M\n", encoding="utf-8")
    assert readings() == ["to be read again"] * 3


def test_takes_are_circled_and_the_unread_one_is_told(tram, tram_json):
    told = tram("circle", "l0001-2", "S2-002")

    assert told.splitlines() == [
        "L0001-2 is circled.",
        "L0003-1 is circled.",
        "To be read: L0003-1; `trackread session read` does that.",
    ]
    assert names(tram_json("takes", "--circled")) == ["L0001-2", "L0003-1"]
    assert tram("circle", "--off", "L0003-1") == "L0003-1 is no longer circled.\n"
    assert names(tram_json("takes", "--circled")) == ["L0001-2"]


@pytest.mark.parametrize("wrong", ["L0001-9", "S1-003", "S1-009", "take 3"])
def test_none_is_circled_if_one_is_no_take(refused, tram_json, wrong):
    assert wrong in refused("circle", "L0001-1", wrong)
    assert names(tram_json("takes", "--circled")) == []


def test_a_stretch_is_assigned_and_says_its_new_name(tram):
    assert tram("assign", "S1-005", "l0003", "--cut-off").splitlines() == [
        "S1-005 is now take L0003-2 (cut off); it was unsure.",
        "To be read: L0003-2; `trackread session read` does that.",
    ]
    assert tram("assign", "L0003-2", "chatter") == "S1-005 is now chatter; it was take L0003-2 (cut off).\n"
    assert tram("assign", "S1-005", "chatter") == "S1-005 is chatter already.\n"


@pytest.mark.parametrize(
    ("stretch", "to", "reason"),
    [
        ("S1-005", ["L0107"], "there is no line L0107"),
        ("S1-005", ["take"], "a take is of a line"),
        ("S1-005", ["slate", "--whole"], "slate is no take, so it cannot be whole"),
        ("S1-099", ["slate"], "they run from S1-001 to S1-005"),
    ],
)
def test_what_a_stretch_cannot_be_is_refused_and_nothing_decided(refused, tram_json, stretch, to, reason):
    assert reason in refused("assign", stretch, *to)
    assert {row["decided_by"] for row in tram_json("takes")["takes"]} == {""}
