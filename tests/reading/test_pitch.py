"""Voices here are synthesised, so their pitch is known at every sample: harmonics that fall 6 dB an octave, or the
targets of scripts/measure-pitch, glottal pulses through formants."""

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.scripts.loading import script
from trackread.reading.pitch import pitch_at
from trackread.reading.sounds import RATE, load

ACTED = Path(__file__).parents[3] / "shared" / "data" / "acted" / "vocal"
TARGETS = script("measure-pitch")
GROSS = 0.2  # the field's bound of a gross error: a fifth off


def a_voice(hertz: np.ndarray, loudness: float = 0.2) -> np.ndarray:
    """The signal whose pitch is `hertz` at every sample."""
    phase = 2 * np.pi * np.cumsum(hertz) / RATE
    harmonics = [np.where(k * hertz < 7500, np.sin(k * phase) / k, 0) for k in range(1, 20)]
    return (loudness * np.sum(harmonics, axis=0)).astype(np.float32)


def heard(signal: np.ndarray) -> np.ndarray:
    """The pitch every 10 ms, NaN for none."""
    return np.array(pitch_at(signal, np.arange(0, len(signal) / RATE, 0.01)), float)


def errors(hertz: np.ndarray) -> np.ndarray:
    """How far off the pitch of a voice is heard every 10 ms, as a share of it."""
    return np.abs(heard(a_voice(hertz)) / hertz[:: RATE // 100] - 1)


def held(*parts: tuple[float, float]) -> np.ndarray:
    """A pitch for so many seconds, then the next."""
    return np.concatenate([np.full(round(seconds * RATE), hertz) for hertz, seconds in parts])


@pytest.mark.parametrize("hertz", [70, 100, 150, 220, 330, 500, 650, 800])
def test_a_steady_voice_has_its_pitch_throughout(hertz: float) -> None:
    wrong = errors(held((hertz, 1.0)))

    assert np.isfinite(wrong).mean() > 0.97
    assert np.nanmax(wrong) < 0.005


@pytest.mark.parametrize(("low", "high"), [(100, 300), (300, 90), (80, 700)])
def test_a_glide_is_followed(low: float, high: float) -> None:
    wrong = errors(low * (high / low) ** np.linspace(0, 1, 2 * RATE))

    assert np.isfinite(wrong).mean() > 0.97
    assert np.nanmedian(wrong) < 0.002
    assert np.nanmax(wrong) < 0.03


@pytest.mark.parametrize(
    "parts",
    [
        [(120, 1.0), (240, 1.0)],
        [(120, 2.0), (260, 0.25), (120, 1.0)],
        [(110, 2.0), (440, 0.25), (110, 1.0)],
        [(400, 2.0), (180, 0.3), (400, 1.0)],
        [(200, 3.0), (900, 0.3), (200, 1.0)],
    ],
)
def test_a_leap_is_kept_however_far_it_lies_from_the_rest_of_the_take(parts: list[tuple[float, float]]) -> None:
    wrong = errors(held(*parts))

    assert np.isfinite(wrong).mean() > 0.97
    assert np.nanmean(wrong > GROSS) < 0.01


def test_a_murmur_after_a_shout_has_a_pitch() -> None:
    murmur = a_voice(held((110, 1.0)), loudness=0.02)
    take = np.concatenate([a_voice(held((300, 1.0)), loudness=0.4), np.zeros(RATE // 2, np.float32), murmur])

    assert np.nanmedian(heard(take)[160:]) == pytest.approx(110, rel=0.01)


@pytest.mark.parametrize("seed", range(3))
def test_noise_has_no_pitch(seed: int) -> None:
    noise = np.random.default_rng(seed).normal(0, 0.1, 5 * RATE).astype(np.float32)

    assert set(pitch_at(noise, np.arange(0, 5, 0.01))) == {None}


@pytest.mark.parametrize("formant", [450, 600, 850])
def test_breath_ringing_in_a_whispering_mouth_has_no_pitch(formant: float) -> None:
    # A resonance of noise, 100 Hz wide: the bandwidth of a whispered first formant is 60 to 130 Hz (from memory).
    noise = np.random.default_rng(2).normal(0, 0.1, 3 * RATE)
    gain = 1 / (1 + ((np.fft.rfftfreq(len(noise), 1 / RATE) - formant) / 50) ** 2)
    whisper = np.fft.irfft(np.fft.rfft(noise) * np.sqrt(gain)).astype(np.float32)

    assert not np.isfinite(heard(whisper)).any()


def speaker(body: str, seed: int = 0):
    """A voice of the targets, with a chance of its own."""
    return TARGETS.Speaker(TARGETS.BODIES[body], np.random.default_rng(seed))


def wrong_of(takes: list, noises: list[str]) -> dict[str, float]:
    """The share of wrong frames of these targets in all these noises, by the name of the error."""
    chance = np.random.default_rng(0)
    signals = [(take, TARGETS.in_noise(take, TARGETS.NOISES[noise], chance)) for take in takes for noise in noises]
    wrong, of = sum(TARGETS.tally(take, heard(signal)) for take, signal in signals).T
    return dict(zip(TARGETS.COLUMNS, wrong / np.maximum(of, 1), strict=True))


@pytest.mark.parametrize("body", ["man", "woman", "child", "squeak"])
def test_an_octave_leapt_and_held_is_kept_in_any_body(body: str) -> None:
    wrong = wrong_of([TARGETS.leaps(speaker(body, seed)) for seed in range(4)], ["clean", "white noise 20 dB"])

    assert wrong["up"] + wrong["down"] < 0.01
    assert wrong["missed"] < 0.05


@pytest.mark.parametrize("seed", range(5))  # each another vowel, or the same in other formants
def test_a_squeak_at_900_hertz_is_read(seed: int) -> None:
    found = heard(speaker("squeak", seed).says(TARGETS.steady(900, 0.5)).signal)

    assert found[3:-3] == pytest.approx(np.full(len(found) - 6, 900.0), rel=0.01)


def test_creak_is_read_right_or_not_at_all() -> None:
    wrong = wrong_of([TARGETS.creak(speaker("man", seed)) for seed in range(6)], ["clean", "pink noise 20 dB"])

    assert wrong["up"] == wrong["down"] == 0
    assert wrong["gross"] < 0.01


def test_a_creak_is_not_taken_for_the_formant_that_rings_at_every_pulse() -> None:
    # Seed 2 has a creak of 76 pulses a second, long and short by turns, in a mouth that rings at 290 Hz.
    wrong = wrong_of([take for kind, take in TARGETS.takes_of(2) if kind == "creak"], ["clean", "white noise 20 dB"])

    assert wrong["gross"] < 0.01
    assert wrong["missed"] < 1


@pytest.mark.parametrize("body", ["man", "woman", "child"])
def test_whisper_has_no_pitch(body: str) -> None:
    wrong = wrong_of([TARGETS.whisper(speaker(body, seed)) for seed in range(4)], ["clean", "pink noise 20 dB"])

    assert wrong["false"] == 0


def test_a_room_has_no_pitch() -> None:
    wrong = wrong_of([TARGETS.room(speaker("man", seed)) for seed in range(4)], ["clean", "pink noise 10 dB"])

    assert wrong["false"] == 0


def test_gross_and_octave_errors_of_all_targets_stay_within_the_bounds() -> None:
    takes = [take for _, take in TARGETS.takes_of(50)]
    wrong = wrong_of(takes, ["clean", "pink noise 10 dB"])

    assert len(takes) > 20
    assert wrong["gross"] <= 0.01
    assert wrong["up"] + wrong["down"] <= 0.003
    assert wrong["missed"] < 0.06
    assert wrong["false"] < 0.02


@pytest.mark.skipif(not ACTED.is_dir(), reason="the acted recordings do not lie beside this checkout")
@pytest.mark.parametrize(
    ("name", "lowest", "highest"),
    [("whisper", None, None), ("whisper2", None, None), ("falsetto", 350, 700), ("mfa_falsetto", 300, 650)],
)
def test_people_who_whisper_have_no_pitch_and_a_falsetto_is_high(
    name: str, lowest: float | None, highest: float | None
) -> None:
    found = heard(load(ACTED / f"{name}.flac").signal)
    voiced = found[np.isfinite(found)]

    if lowest is None or highest is None:
        assert not len(voiced)
    else:
        assert len(voiced) > 50
        assert lowest < voiced.min() < voiced.max() < highest


@pytest.mark.parametrize("samples", [0, 1, 100, 4000])
def test_silence_of_any_length_has_no_pitch(samples: int) -> None:
    assert pitch_at(np.zeros(samples, np.float32), [0.0, 0.1]) == (None, None)
    assert pitch_at(np.full(samples, 0.25, np.float32), [0.0, 0.1]) == (None, None)


def test_there_is_no_pitch_outside_the_signal() -> None:
    assert pitch_at(a_voice(held((150, 0.5))), [-0.1, 0.6, 100.0]) == (None, None, None)


def test_times_may_lie_anywhere() -> None:
    times = np.arange(441, 30000, 110.25) / 22050
    found = np.array(pitch_at(a_voice(held((150, 2.0))), times), float)

    assert found == pytest.approx(np.full(len(times), 150.0), rel=0.002)


def test_a_voice_over_the_seams_of_a_long_recording_is_heard_as_one() -> None:
    hertz = 150 + 40 * np.sin(2 * np.pi * 0.37 * np.arange(65 * RATE) / RATE)
    found = heard(a_voice(hertz))
    shifted = heard(a_voice(hertz)[7 * RATE :])

    assert np.abs(found / hertz[:: RATE // 100] - 1).max() < 0.005
    assert found[710:-10] == pytest.approx(shifted[10:-10], rel=1e-4)


MEASURE = """
import resource, numpy as np
from trackread.reading.pitch import pitch_at
from trackread.reading.level import level_at
signal = np.tile(np.sin(np.arange(16000, dtype=np.float32) * np.float32(0.05)), 600)
times = np.arange(0, 600, 0.01)
pitch_at(signal[:16000], times[:100])
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
pitch_at(signal, times), level_at(signal, times)
print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) // 1024)
"""


def test_ten_minutes_take_less_than_150_megabytes() -> None:
    grown = subprocess.run([sys.executable, "-c", MEASURE], capture_output=True, text=True, check=True).stdout

    assert int(grown) < 150
