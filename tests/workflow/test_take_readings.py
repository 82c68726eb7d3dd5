"""What a reading depends on, and the reading of a take as it stands with its corrections."""

from dataclasses import replace

import pytest

from tests.cli.tram import SCRIPT, a_production_with_takes, read_by_hand, script_of
from tests.makers import a_reading
from trackread.book.book import Book
from trackread.book.corrections import append_correction
from trackread.book.drafts import lines_by_id
from trackread.book.sessions import session
from trackread.book.takes import assign, take_named
from trackread.workflow.correcting import correct, move, respell, right
from trackread.workflow.seen_take import seen_take
from trackread.workflow.take_readings import (
    current_reading,
    first_reading,
    key_of,
    pins_digest,
    pins_for,
    pronunciations_digest,
)

TAKE = "L0001-3"
TEXT = "Mind the step, ticket!"
CHANGED = SCRIPT.replace(TEXT, "Mind that step, ticket!")


@pytest.fixture
def book(tmp_path):
    """The production of tests/cli/tram.py, whose takes of L0001 were read by hand."""
    with Book.open(a_production_with_takes(tmp_path)) as opened:
        yield opened


def asked(book, name=TAKE):
    """A take, and its session."""
    take = take_named(book, name)
    return take, session(book, take.session)


def key(book, **changes):
    take, recording = asked(book)
    return key_of(take, recording, **{"text": TEXT, "pronunciations": "", "pins": (), **changes})


def pins_of_take(book, name=TAKE):
    return pins_for(book, *asked(book, name))


def test_a_reading_depends_on_the_words_the_pronunciations_and_the_pins(book):
    correct(book, TAKE, move("step", 13), "ANN")
    pins = pins_of_take(book)
    keys = [
        key(book),
        key(book, text="Mind the step, Ticket!"),
        key(book, pronunciations="ab"),
        key(book, pins=pins),
        key(book, pins=[replace(pins[0], sample=pins[0].sample + 1)]),
    ]

    assert len(pins) == 1
    assert len(set(keys)) == len(keys)
    assert key(book) == keys[0]


def test_a_reading_depends_on_the_samples_and_the_channel_that_are_heard(book):
    take, recording = asked(book)
    span = replace(take, stretch=replace(take.stretch, stop=take.stretch.stop + 1))
    keys = {
        key_of(*one, TEXT, pronunciations="")
        for one in ((take, recording), (span, recording), (take, replace(recording, channel=2)))
    }

    assert len(keys) == 3


def test_pins_are_the_same_in_any_order(book):
    correct(book, TAKE, move("step", 13), "ANN")
    correct(book, TAKE, move("ticket", 22), "ANN")
    pins = pins_of_take(book)

    assert len(pins) == 2
    assert pins_digest(pins) == pins_digest(pins[::-1]) != ""
    assert pins_digest(()) == ""


def test_pronunciations_are_told_apart_by_what_they_hold(book):
    none = pronunciations_digest(book.folder)
    path = book.folder / "pronunciations.txt"
    digests = []
    for text in ("tram  T R AE1 M\n", "tram  T R AE2 M\n", "tram  T R AE1 M\n"):
        path.write_text(text, encoding="utf-8")
        digests.append(pronunciations_digest(book.folder))

    assert none == ""
    assert digests[0] == digests[2] != digests[1]


def test_a_take_that_has_not_been_read_has_no_reading(book):
    assert first_reading(book, *asked(book, "L0003-1"), "Don't look at me.") is None
    assert current_reading(book, *asked(book, "L0003-1"), "Don't look at me.") is None


def test_the_newest_reading_of_these_words_counts(book):
    (book.folder / "pronunciations.txt").write_text("tram  T R AE1 M\n", encoding="utf-8")
    newer = a_reading(sample_rate=24000, lengths=[1700] * 18)
    read_by_hand(book, TAKE, newer)

    assert first_reading(book, *asked(book), TEXT).cuts == newer.cuts
    assert first_reading(book, *asked(book), "Other words.") is None


def test_corrections_are_replayed_over_the_reading_in_their_order(book):
    correct(book, TAKE, respell("step", "Stop,"), "ANN")
    correct(book, TAKE, respell("Stop", "Steep,"), "BEA")
    found = current_reading(book, *asked(book), TEXT)

    assert [word.text for word in found.reading.words][2] == "Steep,"
    assert [word.text for word in first_reading(book, *asked(book), TEXT).words][2] == "step,"


def test_a_correction_that_has_no_place_any_more_is_kept_and_told(book):
    correct(book, TAKE, right("step"), "ANN")
    lost = {**seen_take(book, TAKE).notes[0].body}
    lost["word"] = {**lost["word"], "text": "hat"}
    append_correction(book, TAKE, lost, "BEA", after=1)

    assert len(current_reading(book, *asked(book), TEXT).astray) == 1


def test_a_take_that_nobody_has_corrected_has_no_pins(book):
    assert pins_of_take(book) == ()
    assert pins_of_take(book, "S1-003") == ()


def test_pins_are_those_of_the_newest_words_that_the_take_was_read_with(book, tmp_path):
    correct(book, TAKE, move("step", 13), "ANN")
    (before,) = pins_of_take(book)
    script_of(book, tmp_path, CHANGED)
    waiting = pins_of_take(book)
    read_by_hand(book, TAKE)
    correct(book, TAKE, move("step", 14), "ANN")
    (after,) = pins_of_take(book)

    assert lines_by_id(book)["L0001"].line.text == "Mind that step, ticket!"
    assert waiting == (before,)
    assert after.sample > before.sample


def test_a_take_that_becomes_another_lines_leaves_its_pins(book):
    correct(book, TAKE, move("step", 13), "ANN")
    moved = assign(book, TAKE, "L0003", "ANN")

    assert pins_of_take(book, moved.name) == ()
    assign(book, moved.name, "L0001", "ANN")
    assert len(pins_of_take(book, TAKE)) == 1
