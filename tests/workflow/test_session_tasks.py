"""What is done in worker processes: what a task needs travels with it, and what fails comes back in words."""

import pickle
from dataclasses import replace

import pytest

from tests.reels import LINES, RATE, write_reel
from trackread.core.plain import reading_from_plain
from trackread.core.session import Stretch, StretchKind
from trackread.core.timebase import parse_rate
from trackread.editing.places import cut_at
from trackread.reading.long_recordings import open_recording
from trackread.workflow.failure import Failure
from trackread.workflow.finding_takes import Wanted
from trackread.workflow.session_tasks import Place, ToHear, ToRead, Words, listen, read

NO_WORDS = Words(None, "")
WANTED = (Wanted("L0004", LINES[3][2]),)


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """The whole of a recording with one take."""
    path = write_reel(tmp_path_factory.mktemp("studio") / "reel.wav", ((14, None, 1.0),))
    recording = open_recording(path)
    return Place(path, recording.sound(), None, 0, recording.format.frames)


def reading(place, text=LINES[3][2], words=NO_WORDS, pins=()):
    return ToRead(place, text, words, parse_rate("24"), pins)


@pytest.mark.parametrize("make", [lambda place: ToHear(place, WANTED, NO_WORDS), reading])
def test_a_task_is_the_same_once_it_has_travelled(place, make):
    task = make(place)

    assert pickle.loads(pickle.dumps(task)) == task
    assert hash(pickle.loads(pickle.dumps(task))) == hash(task)


def test_a_part_is_listened_through_in_samples_of_the_recording(place):
    late = replace(place, start=RATE // 2)
    (whole,), (part,) = (listen(ToHear(one, WANTED, NO_WORDS)) for one in (place, late))

    assert isinstance(whole, Stretch)
    assert (whole.kind, part.kind) == (StretchKind.TAKE, StretchKind.TAKE)
    assert abs(whole.start - part.start) <= RATE // 50


def test_a_take_is_read_as_a_sound_of_its_own(place):
    plain = read(reading(replace(place, start=RATE)))
    found = reading_from_plain(plain)

    assert [word.text for word in found.words] == "Sit down, small hat. Mumblethorpe is next.".split()
    assert found.sound.length == place.stop - RATE
    assert found.match.says_line


def test_a_pin_stays_where_it_is(place):
    first = reading_from_plain(read(reading(place)))
    cut = first.words[-1].first
    pin = replace(cut_at(first, cut), sample=first.cuts[cut] + 700)
    again = reading_from_plain(read(reading(place, pins=(pin,))))

    assert pin.sample not in first.cuts
    assert pin.sample in again.cuts


def test_the_productions_own_words_are_heard_as_it_says(place, tmp_path):
    path = tmp_path / "pronunciations.txt"
    path.write_text("hat  HH AA1 T\n", encoding="utf-8")
    found = reading_from_plain(read(reading(place, words=Words(path, "1"))))
    hat = found.words[3]

    assert [phone.symbol for phone in found.phones[hat.first : hat.stop]] == ["HH", "AA", "T"]


@pytest.mark.parametrize("text", ["(laughs)", "..."])
def test_a_line_that_cannot_be_read_comes_back_in_words(place, text):
    failure = read(reading(place, text))

    assert isinstance(failure, Failure)
    assert "no word" in failure.reason


def test_a_take_that_is_too_short_for_its_line_comes_back_in_words(place):
    failure = read(reading(replace(place, start=RATE, stop=RATE + 300)))

    assert isinstance(failure, Failure)
    assert failure.reason


def test_a_recording_that_is_gone_comes_back_in_words(place, tmp_path):
    gone = replace(place, path=tmp_path / "gone.wav")
    failures = [listen(ToHear(gone, WANTED, NO_WORDS)), read(reading(gone))]

    assert all(isinstance(failure, Failure) for failure in failures)
    assert all("gone.wav" in failure.reason for failure in failures)


def test_pronunciations_that_cannot_be_used_come_back_in_words(place, tmp_path):
    path = tmp_path / "pronunciations.txt"
    path.write_text("hat  XX\n", encoding="utf-8")
    failure = read(reading(place, words=Words(path, "2")))

    assert isinstance(failure, Failure)
    assert "pronunciations.txt" in failure.reason
