"""A voice session from its file to takes that are read: what is found, and what stopping, failing and changing do."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.tram import script_of
from tests.reels import (
    FOUND,
    LINES,
    RATE,
    Stopped,
    a_tram,
    brought,
    everything,
    joined,
    script_text,
    unwatched,
    workers_here,
    write_reel,
)
from tests.waves import chunk, encoded, fmt, noise, wave
from trackread.book.book import Book
from trackread.book.readings import keys_of
from trackread.book.sessions import add_session, is_numbered, pieces_done, sessions
from trackread.book.sounds import keep_sound, sounds
from trackread.book.takes import assign, circle, take_named, takes
from trackread.core.session import RecorderNotes, StretchKind, Wholeness
from trackread.errors import BookError, SoundError
from trackread.reading.long_recordings import open_recording
from trackread.workflow.correcting import correct, move
from trackread.workflow.seen_take import seen_take
from trackread.workflow.session_work import listen_through, parts_left, read_waiting, wanted_lines
from trackread.workflow.take_words import take_words

CIRCLED = chunk(b"iXML", b"<?xml version='1.0'?><BWFXML><CIRCLED>TRUE</CIRCLED></BWFXML>")
ONE_TAKE = ((14, None, 1.0),)
CHANGED = (*LINES[:1], ("7", "TUM", "Please, Miss Pell! It is such a long way to go."), *LINES[2:])


@pytest.fixture
def new_tram(tmp_path):
    """A book with a script and no session."""
    with a_tram(tmp_path / "new") as book:
        yield book


def read_again(book):
    """What `read_waiting` gives, and the lines that it read."""
    workers = workers_here()
    told = read_waiting(book, workers, unwatched)
    return told, [task.text for task in workers.executor.tasks]


def words_of(book, name):
    return {word.text.strip(",!."): word for word in take_words(seen_take(book, name)).words}


def test_takes_are_found_of_the_lines_that_are_said_and_numbered_in_time_order(tram_book):
    found = takes(tram_book)
    said = {take.name: take.wholeness for take in found if take.kind is StretchKind.TAKE}

    assert tuple(take.name for take in found) == FOUND
    assert said.pop("L0006-1") is Wholeness.CUT_OFF
    assert set(said.values()) == {Wholeness.WHOLE}
    assert all(one.stretch.stop <= other.stretch.start for one, other in pairwise(found))


def test_lines_that_sound_the_same_are_left_to_a_person_with_all_their_ids(tram_book):
    unsure = take_named(tram_book, "S1-005")

    assert unsure.kind is StretchKind.UNSURE
    assert [guess.line for guess in unsure.stretch.guesses[:2]] == ["L0003", "L0005"]


def test_every_take_is_read_and_nothing_else_is(tram_book):
    read = {(key.start, key.stop) for key in keys_of(tram_book)}

    assert read == {
        (take.stretch.start, take.stretch.stop) for take in takes(tram_book) if take.kind is StretchKind.TAKE
    }
    assert list(words_of(tram_book, "L0004-1")) == ["Sit", "down", "small", "hat", "Mumblethorpe", "is", "next"]


def test_the_same_again_does_nothing_and_gives_the_same(tram_book, reel):
    before = everything(tram_book)
    outcome = brought(tram_book, reel, workers_here(most=0))

    assert everything(tram_book) == before
    assert tuple(take.name for take in outcome.takes) == FOUND
    assert read_waiting(tram_book, workers_here(most=0), unwatched) == (0, ())


def test_however_often_it_is_stopped_the_book_ends_the_same_and_nothing_is_done_twice(tram_book, reel, new_tram):
    asked = []
    for _ in range(20):
        workers = workers_here(most=1)
        try:
            brought(new_tram, reel, workers)
        except Stopped:
            asked += workers.executor.tasks
        else:
            break

    assert len(asked) == len(set(asked)) == 1 + 5 - len(workers.executor.tasks)
    assert everything(new_tram) == everything(tram_book)


def test_a_session_that_is_stopped_between_its_parts_goes_on_with_the_parts_that_are_left(tmp_path, reel, new_tram):
    recording = open_recording(reel)
    edges = [0, 16 * RATE, 20 * RATE, recording.format.frames]

    def listened(book, workers):
        sound = recording.sound()
        keep_sound(book, reel, sound, 1)
        told = {"channel": None, "characters": (), "stand_in": False, "notes": RecorderNotes(), "author": "ANN"}
        session = add_session(book, sound, reel.name, **told)
        listen_through(book, session, edges, wanted_lines(book, ()), workers, lambda _: None)

    with pytest.raises(Stopped):
        listened(new_tram, workers_here(most=2))
    half, numbered = pieces_done(new_tram, 1), is_numbered(new_tram, 1)
    rest = workers_here()
    listened(new_tram, rest)
    with a_tram(tmp_path / "other") as other:
        listened(other, workers_here())

        assert everything(other) == everything(new_tram)
    assert (sorted(half), numbered) == ([*pairwise(edges)][:2], False)
    assert [(task.place.start, task.place.stop) for task in rest.executor.tasks] == [tuple(edges[2:])]
    assert tuple(take.name for take in takes(new_tram)) == FOUND


numbers = st.integers(0, 60)
some_edges = st.lists(numbers, unique=True).map(lambda edges: sorted({0, 60, *edges}))


@given(some_edges, some_edges, st.data())
def test_parts_that_are_left_and_those_that_are_done_cover_all_and_never_overlap(edges, older, data):
    done = data.draw(st.lists(st.sampled_from([*pairwise(older)]), unique=True))
    left = list(parts_left(edges, done))

    assert sorted(k for first, stop in (*done, *left) for k in range(first, stop)) == list(range(60))
    if not done:
        assert left == [*pairwise(edges)]


def test_a_take_that_cannot_be_read_is_told_and_does_not_end_the_rest(tram_book, tmp_path):
    script_of(tram_book, tmp_path, script_text((*LINES, ("8", "TUM", "(sneezes)"))))
    assign(tram_book, "S1-004", "L0007", "ANN")
    assign(tram_book, "S1-005", "L0003", "ANN")
    before = keys_of(tram_book)
    (count, failures), _ = read_again(tram_book)

    assert count == 1
    assert len(failures) == 1
    assert failures[0].startswith("L0007-1 cannot be read: ")
    assert words_of(tram_book, "L0003-1")["acorns"]
    assert before < keys_of(tram_book)


def test_takes_of_changed_words_and_no_others_are_read_again(tram_book, tmp_path):
    script_of(tram_book, tmp_path, script_text(CHANGED))
    before = keys_of(tram_book)
    told, lines = read_again(tram_book)

    assert told == (2, ())
    assert lines == [CHANGED[1][2]] * 2
    assert before < keys_of(tram_book)
    assert read_again(tram_book) == ((0, ()), [])


def test_what_is_pinned_stays_where_it_is_when_the_words_change(tram_book, tmp_path):
    moved = words_of(tram_book, "L0002-1")["long"].frame + 1
    correct(tram_book, "L0002-1", move("long", moved), "ANN")
    script_of(tram_book, tmp_path, script_text(CHANGED))
    told, _ = read_again(tram_book)
    long = words_of(tram_book, "L0002-1")["long"]

    assert told == (2, ())
    assert (long.frame, long.pinned) == (moved, True)
    # The reader was given the pin, so it holds without the correction, too.
    seen = seen_take(tram_book, "L0002-1")
    assert seen.made[0].to in seen.first.cuts
    assert read_again(tram_book) == ((0, ()), [])


def test_an_unsure_stretch_is_read_once_it_is_assigned(tram_book):
    assign(tram_book, "S1-005", "L0005", "ANN")
    told, lines = read_again(tram_book)

    assert told == (1, ())
    assert lines == ["I have two acorns."]
    assert [*words_of(tram_book, "L0005-1")] == ["I", "have", "two", "acorns"]


def test_a_silent_session_has_no_takes(new_tram, tmp_path):
    path = tmp_path / "silent.wav"
    path.write_bytes(wave(encoded([0.0] * 20 * 48000)))
    outcome = brought(new_tram, path)

    assert (outcome.takes, outcome.remarks) == ((), ())
    assert is_numbered(new_tram, outcome.session.id)


def test_channels_that_differ_are_asked_for_and_nothing_is_brought_in(new_tram, tmp_path):
    path = tmp_path / "two actors.wav"
    path.write_bytes(wave(encoded(noise(48000, 2)), fmt=fmt(2)))

    with pytest.raises(SoundError, match="2 different channels: choose one of 1 to 2 with --channel"):
        brought(new_tram, path)
    assert (sessions(new_tram), sounds(new_tram)) == ((), ())


def test_each_channel_of_a_recording_is_a_session_of_its_own(new_tram, tmp_path):
    path = tmp_path / "two actors.wav"
    path.write_bytes(wave(encoded([[0.0, 0.001]] * 48000), fmt=fmt(2)))
    names = [brought(new_tram, path, channel=channel).session.id for channel in (1, 2, 1)]

    assert names == [1, 2, 1]
    assert [(one.id, one.channel) for one in sessions(new_tram)] == [(1, 1), (2, 2)]


def test_only_lines_of_the_characters_who_may_speak_are_asked_for(new_tram):
    every, pell = wanted_lines(new_tram, ()), wanted_lines(new_tram, ["miss  pell"])

    assert [one.text for one in every] == [text for *_, text in LINES]
    assert [one.id for one in pell] == ["L0001", "L0004"]


def test_a_character_may_be_named_as_production_toml_has_it(tmp_path):
    with a_tram(tmp_path / "tram", (*LINES, ("8", "THE DRIVER", "All aboard!"))) as book:
        assert [one.id for one in wanted_lines(book, ["Brack"])] == ["L0006", "L0007"]
        assert wanted_lines(book, ["The Driver"]) == wanted_lines(book, ["BRACK"])


def test_a_character_without_lines_is_told_and_nothing_is_brought_in(new_tram, reel):
    with pytest.raises(BookError, match="ZOË has no line in the script: BRACK, MISS PELL, TUM have"):
        brought(new_tram, reel, characters=("BRACK", "ZOË"))
    assert (sessions(new_tram), sounds(new_tram)) == ((), ())


def test_without_a_script_nothing_is_brought_in(tmp_path, reel):
    with a_tram(tmp_path / "tram", lines=()) as book:
        with pytest.raises(BookError, match="no script yet: add it with `trackread script add FILE`"):
            brought(book, reel)
        assert (sessions(book), sounds(book)) == ((), ())


def test_a_recording_that_ends_early_is_brought_in_with_a_remark(new_tram, tmp_path):
    path = write_reel(tmp_path / "reel.wav", ONE_TAKE, lost=RATE)
    outcome = brought(new_tram, path)

    # Half a second of 16-bit samples is lost of its last second of room.
    assert outcome.session.sound.length == len(joined(ONE_TAKE)) - RATE // 2
    assert [take.name for take in outcome.takes] == ["L0004-1"]
    assert len(outcome.remarks) == 1
    assert "ends early" in outcome.remarks[0]


def test_the_recorders_circle_is_the_files_only_takes_until_a_person_takes_it_away(new_tram, tmp_path):
    path = write_reel(tmp_path / "reel.wav", ONE_TAKE, after=CIRCLED)
    brought(new_tram, path)
    noted = take_named(new_tram, "L0004-1")
    circle(new_tram, "L0004-1", "ANN", on=False)
    brought(new_tram, path)

    assert (noted.circled, noted.decided_by) == (True, "the recorder")
    assert not take_named(new_tram, "L0004-1").circled


def test_the_recorders_circle_is_nobodys_where_the_file_holds_several_takes(new_tram, tmp_path):
    brought(new_tram, write_reel(tmp_path / "reel.wav", ((14, None, 1.5), (3, None, 1.0)), after=CIRCLED))
    found = takes(new_tram)

    assert [take.name for take in found] == ["L0004-1", "L0001-1"]
    assert not any(take.circled for take in found)


def test_a_recording_that_was_left_in_place_and_is_moved_away_is_told_when_it_is_to_be_read(new_tram, tmp_path):
    path = write_reel(tmp_path / "reel.wav", ONE_TAKE)
    brought(new_tram, path, in_place=True)
    script_of(new_tram, tmp_path, script_text((*LINES[:3], ("7", "MISS PELL", "Sit down, small hat!"), *LINES[4:])))
    before = everything(new_tram)
    path.rename(tmp_path / "elsewhere.wav")

    (count, failures), _ = read_again(new_tram)
    assert count == 0
    assert len(failures) == 1
    assert "takes of S1 cannot be read: the recording reel.wav is missing: put it back at" in failures[0]
    assert everything(new_tram) == before
    (tmp_path / "reel.wav").write_bytes(b"another")
    assert "is not the recording reel.wav that was added" in read_again(new_tram)[0][1][0]
    (tmp_path / "reel.wav").unlink()
    brought(new_tram, tmp_path / "elsewhere.wav", in_place=True)
    assert len(keys_of(new_tram)) == 2


def test_a_recording_whose_samples_are_no_numbers_is_told_and_nothing_is_brought_in(new_tram, tmp_path):
    path = tmp_path / "broken.wav"
    path.write_bytes(wave(encoded([0.0, float("nan")] * 24000, "FLOAT"), fmt=fmt(subtype="FLOAT")))

    with pytest.raises(SoundError):
        brought(new_tram, path)
    assert (sessions(new_tram), sounds(new_tram)) == ((), ())


def test_a_session_in_a_book_that_is_closed_and_moved_goes_on(tmp_path, reel):
    with a_tram(tmp_path / "tram") as book, pytest.raises(Stopped):
        brought(book, reel, workers_here(most=3))
    (tmp_path / "tram").rename(tmp_path / "depot")

    with Book.open(tmp_path / "depot") as book:
        brought(book, reel)
        assert tuple(take.name for take in takes(book)) == FOUND
        assert len(keys_of(book)) == 5
