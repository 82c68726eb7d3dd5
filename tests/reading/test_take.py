"""A take is read whole: the same each time, wherever it lies in its file and however it was recorded."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile
import soxr

from trackread.core.phones import PAUSE
from trackread.core.reading import Reading, Source
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.errors import LineError, ReadingError
from trackread.reading.sounds import RATE, Recording, load
from trackread.reading.take import Reader

Takes = dict[str, tuple[Recording, str]]


def recorded(signal: np.ndarray) -> Recording:
    """A signal as if it had been recorded at 16 kHz."""
    return Recording(Sound("0" * 64, RATE, Sample(len(signal))), signal.astype(np.float32))


def starts(reading: Reading) -> np.ndarray:
    return np.array([reading.start(word) for word in reading.words]) / reading.sound.sample_rate


def test_reading_twice_gives_the_same_reading(reader: Reader, tram: Takes) -> None:
    recording, line = tram["05"]

    # The shared reader remembers what it heard; this one hears the take anew.
    assert Reader.read(reader, recording, line) == Reader.read(reader, recording, line)


def test_a_second_of_room_in_front_moves_every_word_by_a_second(reader: Reader, tram: Takes) -> None:
    recording, line = tram["03"]
    room = np.random.default_rng(0).normal(0, 3e-4, RATE)

    moved = reader.read(recorded(np.concatenate([room, recording.signal])), line)

    assert np.allclose(starts(moved), starts(reader.read(recording, line)) + 1, atol=0.03)


def test_a_quieter_copy_is_read_the_same(reader: Reader, tram: Takes) -> None:
    recording, line = tram["06"]
    quiet = reader.read(replace(recording, signal=recording.signal * 0.1), line)

    assert np.allclose(starts(quiet), starts(reader.read(recording, line)), atol=0.011)


@pytest.mark.parametrize("rate", [8000, 44100, 96000])
def test_words_fall_at_the_same_times_at_any_sample_rate(
    reader: Reader, tram: Takes, tmp_path: Path, rate: int
) -> None:
    recording, line = tram["12"]
    soundfile.write(tmp_path / "take.wav", soxr.resample(recording.signal, RATE, rate), rate)

    reading = reader.read(load(tmp_path / "take.wav"), line)

    # At 8 kHz half the spectrum is gone, and consonants with it.
    assert np.allclose(starts(reading), starts(reader.read(recording, line)), atol=0.05 if rate == 8000 else 0.011)
    assert reading.cuts[-1] == reading.sound.length


def test_a_long_take_is_read_as_its_lines_are_one_by_one(reader: Reader, tram: Takes) -> None:
    names = ("01", "02", "03", "05", "06", "09", "11", "14")
    alone = [reader.read(*tram[name]) for name in names]
    offsets = np.cumsum([0.0, *(tram[name][0].seconds for name in names)])
    signal = np.concatenate([tram[name][0].signal for name in names])
    told: list[float] = []

    together = reader.read(recorded(signal), " ".join(tram[name][1] for name in names), told.append)

    expected = np.concatenate([starts(reading) + at for reading, at in zip(alone, offsets, strict=False)])
    far = np.abs(starts(together) - expected)
    assert len(together.words) == len(expected)
    assert np.mean(far < 0.02) > 0.9
    assert told == sorted(told)
    assert told[-1] == 1
    assert len(told) > 1


def test_a_number_is_one_word_on_the_sheet_however_many_are_said(reader: Reader, tram: Takes) -> None:
    reading = reader.read(*tram["02"])

    word = next(word for word in reading.words if word.text == "42,")
    said = [phone.symbol for phone in reading.phones[word.first : word.stop] if phone.symbol != PAUSE]
    assert said == ["F", "AO", "R", "T", "IY", "T", "UW"]


def test_a_word_of_the_productions_own_is_said_its_way(reader: Reader, tram: Takes) -> None:
    reading = reader.read(*tram["14"])

    word = next(word for word in reading.words if word.text == "Mumblethorpe")
    assert word.source is Source.PRODUCTION
    assert [phone.symbol for phone in reading.phones[word.first : word.stop]] == "M AH M B AH L TH AO R P".split()


def test_a_word_of_no_dictionary_is_marked_as_a_guess(reader: Reader, tram: Takes) -> None:
    recording, line = tram["14"]

    reading = Reader(trees=reader.trees).read(recording, line)

    assert {word.text: word.source for word in reading.words}["Mumblethorpe"] is Source.GUESS


def test_the_longest_pause_lies_where_the_actor_pauses(reader: Reader, tram: Takes) -> None:
    reading = reader.read(*tram["07"])

    inside = range(reading.words[0].first, reading.words[-1].stop)
    longest = max(
        (k for k in inside if reading.phones[k].symbol == PAUSE),
        key=lambda k: reading.cuts[k + 1] - reading.cuts[k],
    )
    assert reading.words[0].text.startswith("Hats")
    assert longest == reading.words[0].stop


def test_whisper_has_words_and_no_pitch(reader: Reader, tram: Takes) -> None:
    reading = reader.read(*tram["04"])

    voiced = [value for value in reading.pitch.values if value is not None]
    assert len(reading.words) == 9
    assert len(voiced) < 0.05 * len(reading.pitch.values)


def test_every_line_of_the_tram_says_its_own_words_and_not_the_next_ones(reader: Reader, tram: Takes) -> None:
    names = list(tram)
    others = dict(zip(names, names[1:] + names[:1], strict=True))
    right = {name: reader.read(*tram[name]).match for name in names}
    wrong = {name: wrongly_paired(reader, tram[name][0], tram[others[name]][1]) for name in names}

    assert all(match.says_line for match in right.values())
    assert not any(wrong.values())


def wrongly_paired(reader: Reader, recording: Recording, line: str) -> bool:
    """Whether the take is taken to say another take's line; one that cannot even hold it does not."""
    try:
        return reader.read(recording, line).match.says_line
    except ReadingError:
        return False


def test_a_take_far_too_short_for_its_line_is_refused(reader: Reader) -> None:
    blip = recorded(np.random.default_rng(0).normal(0, 0.1, RATE // 5))

    with pytest.raises(ReadingError, match="too short"):
        reader.read(blip, "Sit down, small hat, for Mumblethorpe is next and nobody gets off before it.")


def test_a_line_without_words_is_refused(reader: Reader, tram: Takes) -> None:
    with pytest.raises(LineError, match="no words"):
        reader.read(tram["12"][0], "… — !")
