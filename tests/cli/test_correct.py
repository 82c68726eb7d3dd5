"""`trackread correct`: each command, what is refused, and undoing; the reading is that of tests/makers.py."""

import pytest

# The words are Mind, the, step, ticket! at 1000 samples a frame, 1680 a phone.
TAKE = "L0001-3"


@pytest.fixture
def words(tram_json):
    """The words of the take by their texts, without marks."""
    return lambda: {word["text"].strip(",!"): word for word in tram_json("correct", "show", TAKE)["words"]}


def test_the_words_are_shown_with_their_frames_and_sounds(tram, words):
    assert tram("correct", "show", TAKE).splitlines()[3] == "  3  step,    12-19   S T EH P     strong         0.10"
    assert words()["ticket"]["sounds"] == ["T", "IH", "K", "AH", "T"]
    assert words()["ticket"]["stresses"] == ["strong", "weak"]
    # The first phone of `step` is the eighth: 7 * 1680 = 11760, on frame 11 from 0, so 12.
    assert (words()["step"]["frame"], words()["step"]["stop"]) == (12, 20)


@pytest.mark.parametrize("word", ["step", "3", "STEP,"])
def test_a_word_is_moved_to_the_start_of_a_frame_and_pinned_there(tram, words, word):
    told = tram("correct", "move", TAKE, word, 13)

    assert told == "L0001-3, correction 1: the start of 'step,' moved from frame 12 to 13\n"
    assert (words()["step"]["frame"], words()["step"]["pinned"], words()["step"]["doubt"]) == (13, True, 0)
    assert words()["the"]["stop"] == 13


@pytest.mark.parametrize(
    ("kind", "rest", "changed"),
    [
        ("respell", ["Stop,"], ("text", "Stop,")),
        ("sound", ["3", "aa"], ("sounds", ["S", "T", "AA", "P"])),
        ("stress", ["1", "half"], ("stresses", ["half stressed"])),
        ("pin", [], ("pinned", True)),
        ("right", [], ("doubt", 0)),
    ],
)
def test_each_kind_of_correction_changes_its_word(tram, tram_json, kind, rest, changed):
    tram("correct", kind, TAKE, "step", *rest)
    word = tram_json("correct", "show", TAKE)["words"][2]

    assert word[changed[0]] == changed[1]


def test_a_note_stands_beside_its_frame_until_it_is_emptied(tram, tram_json):
    tram("correct", "note", TAKE, 12, "look  left")
    noted = tram_json("correct", "show", TAKE)["notes"]
    tram("correct", "note", TAKE, 12, "")

    assert noted == [{"frame": 12, "text": "look left"}]
    assert tram_json("correct", "show", TAKE)["notes"] == []


def test_what_is_pinned_may_move_again_once_it_is_unpinned(tram, words):
    tram("correct", "pin", TAKE, "step")
    tram("correct", "unpin", TAKE, "step")

    assert not words()["step"]["pinned"]


@pytest.mark.parametrize(
    ("asked", "reason"),
    [
        (["move", TAKE, "step", 3], "'step' cannot start with frame 3, for the sounds beside it: it can start with"),
        (["move", TAKE, "step", 40], "L0001-3 has no frame 40: it has frames 1 to 31"),
        (["move", TAKE, "hat", 3], "L0001-3 has no word 'hat': its words are 1 to 4"),
        (["move", TAKE, "5", 3], "L0001-3 has no word '5'"),
        (["respell", TAKE, "step", " "], "the new spelling is empty"),
        (["respell", TAKE, "step", "st\x1bep"], "the new spelling holds the control character U+001B"),
        (["note", TAKE, 3, "caf\udce9"], "the note is not UTF-8 text"),
        (["respell", TAKE, "step", "step,"], "nothing would change"),
        (["sound", TAKE, "step", 5, "AA"], "'step' has no sound 5: it has sounds 1 to 4"),
        (["sound", TAKE, "step", 3, "AA1"], "'AA1' is not a phone"),
        (["sound", TAKE, "step", 3, "T"], "carries a syllable: it can be another vowel only"),
        (["stress", TAKE, "step", 2, "weak"], "'step' has no syllable 2: it has syllables 1 to 1"),
        (["unpin", TAKE, "step"], "is not pinned"),
        (["note", TAKE, 0, "look left"], "has no frame 0"),
        (["undo", TAKE], "L0001-3 has no correction that could be undone"),
        (["right", "L0002-1", "1"], "L0002-1 has not been read yet"),
        (["right", "S1-003", "1"], "S1-003 is chatter, no take"),
        (["right", "L0001-9", "1"], "L0001 has L0001-1, L0001-2, L0001-3"),
        (["right", TAKE, "step", "--seen", 4], "has fewer corrections than were looked at"),
    ],
)
def test_what_cannot_be_corrected_is_refused_and_nothing_is_written(refused, tram_json, asked, reason):
    assert reason in refused("correct", *asked)
    assert tram_json("correct", "log", TAKE)["corrections"] == []


def test_every_frame_that_is_offered_is_one_that_a_word_can_start_with(refused, tram, words):
    told = refused("correct", "move", TAKE, "step", 1)
    first, last = map(int, told.rpartition("frames ")[2].split(" to "))
    for frame in (first, last):
        tram("correct", "move", TAKE, "step", frame)

        assert words()["step"]["frame"] == frame
        tram("correct", "undo", TAKE)
    for frame in (first - 1, last + 1):
        assert f"frames {first} to {last}" in refused("correct", "move", TAKE, "step", frame)


def test_a_correction_of_what_somebody_else_has_changed_since_is_told(tram, refused, tram_json):
    tram("correct", "move", TAKE, "step", 13, "--author", "BEA")
    told = refused("correct", "pin", TAKE, "the", "--seen", 0)

    assert "BEA at" in told
    assert "the start of 'step,' moved from frame 12 to 13" in told
    tram("correct", "pin", TAKE, "the", "--seen", 1)
    assert len(tram_json("correct", "log", TAKE)["corrections"]) == 2


def test_a_word_that_is_said_twice_is_named_by_its_number(tram, refused):
    tram("correct", "respell", TAKE, "the", "Mind")

    assert "said more than once in L0001-3, as words 1 and 2" in refused("correct", "right", TAKE, "mind")


def test_undoing_walks_back_and_then_begins_with_what_came_since(tram, tram_json, refused):
    states = [tram_json("correct", "show", TAKE)["words"]]
    for step in (["move", TAKE, "step", "13"], ["sound", TAKE, "Mind", "2", "EY"], ["right", TAKE, "ticket"]):
        tram("correct", *step)
        states.append(tram_json("correct", "show", TAKE)["words"])
    told = [tram("correct", "undo", TAKE), tram("correct", "undo", TAKE)]

    assert [row.partition(" undone")[0] for row in told] == ["L0001-3, correction 3", "L0001-3, correction 2"]
    assert tram_json("correct", "show", TAKE)["words"] == states[1]
    tram("correct", "stress", TAKE, "ticket", 2, "strong")
    tram("correct", "undo", TAKE)
    assert tram_json("correct", "show", TAKE)["words"] == states[1]
    tram("correct", "undo", TAKE)
    assert tram_json("correct", "show", TAKE)["words"] == states[0]
    assert "no correction that could be undone" in refused("correct", "undo", TAKE)


def test_the_log_says_who_corrected_what_and_what_was_undone(tram, tram_json):
    tram("correct", "sound", TAKE, "Mind", 2, "EY", "--author", "BEA")
    tram("correct", "undo", TAKE, "--author", "CAL")
    first, second = tram_json("correct", "log", TAKE)["corrections"]

    assert (first["number"], first["author"], first["undone"], first["undoes"]) == (1, "BEA", True, None)
    assert (second["number"], second["author"], second["undone"], second["undoes"]) == (2, "CAL", False, 1)
    assert tram("correct", "log", TAKE).splitlines()[1].endswith("is the sound 'ay'; undone")
    assert tram("correct", "log", "L0001-1") == "Nothing has been corrected.\n"


def test_a_take_of_words_that_have_changed_shows_what_it_was_read_with(command, production, tmp_path):
    file = tmp_path / "pink.csv"
    file.write_text('scene,character,line\n7,BRACK,"Mind that step, ticket!"\n', encoding="utf-8")
    command("script", "add", file, "--production", production)
    status, told, errors = command("correct", "show", TAKE, "--production", production)

    assert status == 0
    assert "step," in told
    assert "the line was changed since; read as: Mind the step, ticket!" in errors
