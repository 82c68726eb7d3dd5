"""What is known of the start of each word, from readings by the engines and scenes made by hand."""

from dataclasses import fields, replace

import numpy as np
import pytest

from tests.reading.test_events import a_scene, word
from trackread.core.phones import PAUSE
from trackread.core.reading import Reading
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.reading.doubt import Signs, doubt_of
from trackread.reading.signs import doubted
from trackread.reading.sounds import RATE, Recording
from trackread.reading.take import Reader

Takes = dict[str, tuple[Recording, str]]
Signed = tuple[Reading, tuple[Signs, ...]]
NAMES = ("02", "05", "09")


@pytest.fixture(scope="module")
def signed(reader: Reader, tram: Takes) -> dict[str, Signed]:
    """Takes with the signs of their words."""
    return {name: reader.read_with_signs(*tram[name]) for name in NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_every_word_has_its_signs(signed: dict[str, Signed], name: str) -> None:
    reading, signs = signed[name]

    assert len(signs) == len(reading.words) > 2
    assert all(one.apart >= 0 for one in signs)
    for one in signs:
        numbers = [getattr(one, field.name) for field in fields(one) if field.type is float]
        assert np.isfinite(numbers).all()


@pytest.mark.parametrize("name", NAMES)
def test_a_word_is_after_a_pause_where_one_lies_before_it(signed: dict[str, Signed], name: str) -> None:
    reading, signs = signed[name]
    before = [reading.phones[word.first - 1].symbol if word.first else PAUSE for word in reading.words]

    assert [one.after_pause for one in signs] == [symbol == PAUSE for symbol in before]
    assert signs[0].after_pause


@pytest.mark.parametrize("name", NAMES)
def test_the_recogniser_hears_most_words_of_a_clear_take_about_where_they_start(
    signed: dict[str, Signed], name: str
) -> None:
    assert np.abs([one.heard for one in signed[name][1]]).max() < 0.3
    assert np.median([one.heard for one in signed[name][1]]) == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize("name", NAMES)
def test_words_stand_above_the_room(signed: dict[str, Signed], name: str) -> None:
    assert min(one.above_room for one in signed[name][1]) > 0


@pytest.mark.parametrize("name", NAMES)
def test_most_words_start_near_the_middle_of_what_is_heard_around_it(signed: dict[str, Signed], name: str) -> None:
    between = [one.between for one in signed[name][1] if not one.after_pause]

    assert np.median(between) == pytest.approx(0.04, abs=0.04)


def test_a_whole_recording_is_not_narrow(signed: dict[str, Signed]) -> None:
    assert not any(one.narrow for _, signs in signed.values() for one in signs)


def test_a_word_departs_where_its_reading_departs_from_the_line(reader: Reader, tram: Takes) -> None:
    recording, line = tram["09"]
    words = line.split()
    reading, signs = reader.read_with_signs(recording, " ".join([*words[:1], *words[2:]]))
    departing = {k for one in reading.departures for k in range(one.first, one.stop)}

    assert departing
    assert {k for k, one in enumerate(signs) if one.departs} == departing


def test_in_a_take_of_its_line_no_word_departs_and_none_of_the_production_is_guessed(signed: dict[str, Signed]) -> None:
    assert not any(one.departs or one.guessed for _, signs in signed.values() for one in signs)


def test_the_words_of_a_guess_are_guessed(reader: Reader, tram: Takes) -> None:
    recording, line = tram["14"]
    reading, signs = Reader(trees=reader.trees).read_with_signs(recording, line)
    guessed = {word.text for word, one in zip(reading.words, signs, strict=True) if one.guessed}

    assert [text for text in guessed if "Mumblethorpe" in text]
    assert len(guessed) == 1


@pytest.mark.parametrize("name", NAMES)
def test_a_doubted_reading_is_the_same_but_for_its_doubts(signed: dict[str, Signed], name: str) -> None:
    reading, signs = signed[name]
    found = doubted(reading, signs)

    assert [(word.doubt, word.reasons) for word in found.words] == [doubt_of(one) for one in signs]
    assert replace(found, words=tuple(replace(word, doubt=0.0, reasons=()) for word in found.words)) == reading


def test_the_reader_gives_the_doubts_of_its_own_signs(reader: Reader, tram: Takes, signed: dict[str, Signed]) -> None:
    assert reader.read(*tram["09"]) == doubted(*signed["09"])


def test_signs_of_too_few_words_are_refused(signed: dict[str, Signed]) -> None:
    reading, signs = signed["09"]

    with pytest.raises(ValueError, match="shorter"):
        doubted(reading, signs[:-1])


def test_noise_in_the_room_shows(reader: Reader, tram: Takes, signed: dict[str, Signed]) -> None:
    recording, line = tram["09"]
    signal = recording.signal + np.random.default_rng(0).normal(0, 0.02, len(recording.signal)).astype(np.float32)
    noisy = Recording(Sound("0" * 64, RATE, Sample(len(signal))), signal)
    _, signs = reader.read_with_signs(noisy, line)

    assert np.median([one.above_room for one in signs]) < np.median([one.above_room for one in signed["09"][1]]) - 10


def test_the_loudness_of_a_stretch_is_the_middle_of_its_levels() -> None:
    scene = a_scene(words=[word(1.0)])

    assert scene.loudness(1.1, 1.4) == pytest.approx(float(np.median(scene.view.level[110:140])))
    assert scene.loudness(1.2, 1.2) == pytest.approx(float(scene.view.level[120]))
    assert scene.loudness(99.0, 99.5) == pytest.approx(float(scene.view.level[-1]))
    assert scene.loudness(1.1, 1.4) > scene.loudness(2.0, 2.5) + 30
