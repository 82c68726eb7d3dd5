"""Words found in recordings whose times a synthesiser knows, and in sounds that hold no words at all."""

import json
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from trackread.core.phones import VOWELS
from trackread.errors import ReadingError
from trackread.reading.aligner import HOP, ROOM, Aligner, sounding
from trackread.reading.lexicon import bare
from trackread.reading.sounds import RATE, load

EXACT = sorted((Path(__file__).resolve().parent.parent.parent / "fixtures" / "exact").glob("*.json"))
NOISE = np.random.default_rng(0).normal(0, 0.1, 2 * RATE).astype(np.float32)


@pytest.fixture(scope="module")
def aligner():
    return Aligner()


@pytest.fixture(scope="module")
def ways_of(reader):
    """The ways of a line's words, as the reader offers them to the aligner."""
    return lambda line: reader.prepare(line).ways


@pytest.fixture(scope="module")
def exact(aligner, ways_of):
    """For each exact recording what the synthesiser says of it, the ways of its words, and the marks found."""
    assert len(EXACT) >= 5
    found = []
    for path in EXACT:
        truth = json.loads(path.read_text(encoding="utf-8"))
        ways = ways_of(truth["text"])
        found.append((truth, ways, aligner.align(load(path.with_suffix(".flac")).signal, ways)))
    return found


def spans(marks):
    """The start of the first and the stop of the last phone of each word."""
    numbers = sorted({mark.word for mark in marks})
    return [
        (min(mark.start for mark in marks if mark.word == k), max(mark.stop for mark in marks if mark.word == k))
        for k in numbers
    ]


# The synthesiser's own times; fixtures/exact/README.md tells how far they are from what is heard: up to 47 ms.
def test_most_words_of_exact_recordings_are_found_within_60_ms(exact):
    errors = []
    for truth, _, marks in exact:
        times = [(word["start"] / truth["sample_rate"], word["stop"] / truth["sample_rate"]) for word in truth["words"]]
        errors += np.abs(np.array(spans(marks)) - times).ravel().tolist()

    assert len(errors) > 60
    assert np.mean(np.array(errors) < 0.060) > 0.9
    assert np.median(errors) < 0.025


def test_every_word_is_said_in_one_of_its_ways_with_its_stress(exact):
    for _, ways, marks in exact:
        for number, choice in enumerate(ways):
            assert tuple(mark.phone for mark in marks if mark.word == number) in choice


def test_marks_follow_each_other_and_open_their_words(exact):
    for truth, ways, marks in exact:
        assert [mark.word for mark in marks if mark.opens_word] == list(range(len(ways)))
        assert all(a.stop <= b.start + 1e-9 and a.word in (b.word, b.word - 1) for a, b in pairwise(marks))
        assert all(mark.start < mark.stop for mark in marks)
        assert marks[-1].stop <= truth["samples"] / truth["sample_rate"] + 0.02


def test_a_pause_between_words_is_a_gap_between_marks(aligner, ways_of):
    path = EXACT[0].with_suffix(".flac")
    truth = json.loads(EXACT[0].read_text(encoding="utf-8"))
    signal = load(path).signal
    (cut,) = [word["start"] for word in truth["words"][3:4]]
    paused = np.concatenate([signal[:cut], np.zeros(RATE, np.float32), signal[cut:]])
    marks = aligner.align(paused, ways_of(truth["text"]))
    gaps = [b.start - a.stop for a, b in pairwise(marks)]

    assert max(gaps) == pytest.approx(1.0, abs=0.15)


def test_the_same_signal_gives_the_same_marks_whatever_was_read_before(aligner, ways_of):
    ways = ways_of("No ticket, no tram.")
    once = aligner.align(NOISE, ways)
    aligner.align(NOISE[: RATE // 2], ways_of("Hold tight!"))

    assert aligner.align(NOISE, ways) == once
    assert Aligner().align(NOISE, ways) == once


@pytest.mark.parametrize("noise", [0, 3e-5, 3e-4, 1e-3])
@pytest.mark.parametrize("times", [1, 5])
def test_silence_around_a_take_moves_no_word(aligner, ways_of, noise, times):
    path = EXACT[0]
    ways = ways_of(json.loads(path.read_text(encoding="utf-8"))["text"])
    signal = load(path.with_suffix(".flac")).signal
    padded = np.pad(signal, (times * len(signal), 4 * len(signal)))
    padded += np.random.default_rng(0).normal(0, noise, len(padded)).astype(np.float32)
    alone = np.array(spans(aligner.align(signal, ways)))
    moved = np.array(spans(aligner.align(padded, ways))) - times * len(signal) / RATE

    assert moved == pytest.approx(alone, abs=0.04)


def test_sound_is_what_lies_from_the_first_loud_place_to_the_last_with_some_room():
    signal = np.zeros(10 * RATE, np.float32)
    signal[3 * RATE] = signal[5 * RATE] = 0.5

    assert sounding(signal) == (3 * RATE - round(ROOM * RATE), 5 * RATE + round((ROOM + HOP) * RATE))
    assert sounding(signal + np.float32(0.3)) == sounding(signal)
    assert sounding(NOISE) == (0, len(NOISE))
    for nothing in (np.zeros(RATE), np.zeros(0), np.ones(7)):
        assert sounding(nothing.astype(np.float32)) == (0, len(nothing))


# Nothing in these says the line; that is for another judge to say.
@pytest.mark.parametrize(
    "signal",
    [
        NOISE,
        NOISE[::-1].cumsum() / 200,
        np.zeros(2 * RATE),
        np.sin(np.arange(2 * RATE) * 0.4),
        np.sign(np.sin(np.arange(2 * RATE) * 0.05)),
        np.eye(1, 2 * RATE, RATE)[0],
    ],
    ids=["noise", "rumble", "silence", "a tone", "a buzz", "a click"],
)
def test_no_sound_is_refused(aligner, ways_of, signal):
    marks = aligner.align(signal.astype(np.float32), ways_of("No ticket, no tram."))

    assert [mark.word for mark in marks if mark.opens_word] == [0, 1, 2, 3]
    assert -0.02 < marks[0].start < marks[-1].stop < 2.02


@pytest.mark.parametrize("samples", [0, 1, 100, RATE // 50, RATE // 5])
def test_a_sound_too_short_for_its_words_is_refused(aligner, ways_of, samples):
    with pytest.raises(ReadingError, match="the take is too short to hold the words of its line"):
        aligner.align(NOISE[:samples], ways_of("No ticket, no tram. " * 8))


def test_a_word_that_comes_again_is_one_entry_of_the_decoder(ways_of):
    aligner = Aligner()
    no, ticket = ways_of("no ticket")
    aligner.align(NOISE, [no, ticket, no])
    aligner.align(NOISE, [no, no, ticket])

    assert list(aligner.quick.names) == [no, ticket]
    assert aligner.quick.decoder.lookup_word("w0") == " ".join(bare(no[0]))
    assert aligner.quick.decoder.lookup_word("w2") is None


def test_a_word_of_ten_ways_and_a_word_of_one_way_are_both_said(aligner, ways_of):
    (many,) = ways_of("record")
    marks = aligner.align(NOISE, [many, (("SH",),)])

    assert len(many) == 10
    assert marks[-1].phone == "SH"
    assert any(mark.phone.rstrip("012") in VOWELS for mark in marks[:-1])
