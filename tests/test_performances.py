"""What is found beside words in recordings of people, where those lie beside the checkout.

The rules of the reading were chosen on the acted takes (all of one man), so what is found there guards against breakage
and says nothing of accuracy. Nothing was chosen on the labelled recordings: there, whatever is found between words is
found wrongly. The laughs and breaths were marked by eye on spectrograms; nobody has listened.
"""

from pathlib import Path

import pytest

from tests.scripts.loading import script
from trackread.core.performance import MANNERS, EventKind
from trackread.reading.sounds import load
from trackread.reading.take import Reader
from trackread.workflow.score import labelled_in

BESIDE = Path(__file__).resolve().parents[2] / "shared" / "data"
ACTED, LABELLED = BESIDE / "acted" / "vocal", BESIDE / "labelled"
MEASURE = script("measure-events")

LAUGHS = [(0.64, 1.95), (3.62, 5.16), (6.39, 8.15), (9.35, 9.93)]
BREATHS = {EventKind.BREATH_IN, EventKind.BREATH_OUT, EventKind.SIGH, EventKind.GASP}
TAKES = ("mfa_laughter", "mfa_breaths", "whisper", "whisper2", "mfa_whisper", "mfa_creaky")


@pytest.fixture(scope="session")
def acted(reader):
    """The readings of the acted takes, each of its words as its transcript has them, by the names of the takes."""
    if not ACTED.is_dir():
        pytest.skip("no acted recordings beside the checkout")
    faithful = Reader(reader.lexicon, reader.trees, faithful=True)
    return {name: faithful.read(load(ACTED / f"{name}.flac"), transcript(name)) for name in TAKES}


@pytest.fixture(scope="session")
def labelled(reader):
    """The readings of the labelled recordings, by their names."""
    if not LABELLED.is_dir():
        pytest.skip("no labelled recordings beside the checkout")
    return {one.name: reader.read(load(one.sound), one.line) for one in labelled_in(LABELLED)}


def transcript(name):
    return MEASURE.line_of((ACTED / f"{name}.txt").read_text(encoding="utf-8"))


def seconds(reading, part):
    return part.start / reading.sound.sample_rate, part.stop / reading.sound.sample_rate


def found(reading, kinds):
    return [seconds(reading, event) for event in reading.events if event.kind in kinds]


def test_four_laughs_are_found_where_they_are(acted):
    laughs = found(acted["mfa_laughter"], {EventKind.LAUGH})

    assert len(laughs) == len(LAUGHS)
    for laugh, marked in zip(laughs, LAUGHS, strict=True):
        assert laugh == pytest.approx(marked, abs=0.15)


def test_no_word_lies_on_a_laugh(acted):
    reading = acted["mfa_laughter"]
    rate = reading.sound.sample_rate
    words = [(reading.start(word) / rate, reading.stop(word) / rate) for word in reading.words]

    assert len(words) == 3
    for start, stop in words:
        assert all(stop <= first + 0.05 or last - 0.05 <= start for first, last in LAUGHS)


def test_six_breaths_are_found_each_where_one_was_marked(acted):
    breaths = found(acted["mfa_breaths"], BREATHS)
    marked = [(start, stop) for _, start, stop in MEASURE.MARKED["mfa_breaths"]]

    assert len(breaths) == len(marked) == 6
    for (start, stop), (first, last) in zip(breaths, marked, strict=True):
        assert first < (start + stop) / 2 < last


@pytest.mark.parametrize("name", ["whisper", "whisper2", "mfa_whisper"])
def test_a_whispered_take_is_whispered_from_its_first_word_to_its_last(acted, name):
    reading = acted[name]
    whispers = [event for event in reading.events if event.kind is EventKind.WHISPER]

    assert whispers
    assert whispers[0].start == reading.start(reading.words[0])
    assert whispers[-1].stop == reading.stop(reading.words[-1])


@pytest.mark.parametrize("name", ["mfa_creaky", "mfa_breaths", "mfa_laughter"])
def test_a_voice_that_creaks_breathes_or_laughs_does_not_whisper(acted, name):
    assert not found(acted[name], {EventKind.WHISPER})


def test_events_between_words_lie_on_no_word(acted, labelled):
    for reading in (*acted.values(), *labelled.values()):
        between = [event for event in reading.events if event.kind not in MANNERS]
        words = [(reading.start(word), reading.stop(word)) for word in reading.words]

        assert all(event.stop <= start or stop <= event.start for event in between for start, stop in words)


def test_in_read_speech_nothing_is_heard_between_words(labelled):
    events = {name: [event.kind for event in reading.events] for name, reading in labelled.items()}

    assert len(events) > 10
    assert {name: kinds for name, kinds in events.items() if not set(kinds) <= MANNERS} == {}


def test_every_word_has_a_doubt_that_is_a_probability(acted, labelled):
    doubts = [word.doubt for reading in (*acted.values(), *labelled.values()) for word in reading.words]

    assert len(doubts) > 100
    assert all(0 <= doubt <= 1 for doubt in doubts)
    assert len(set(doubts)) > 1
