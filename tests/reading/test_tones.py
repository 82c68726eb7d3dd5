"""Contours of one vowel at 10 ms a value, in semitones above 100 Hz."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.performance import Tone
from trackread.core.reading import Track
from trackread.core.timebase import Sample
from trackread.reading.tones import LEAST, MOVES, contour, tone_of

HOP = 480


def a_pitch(semitones: Sequence[float | None]) -> Track:
    return Track(HOP, tuple(None if value is None else 100 * 2 ** (value / 12) for value in semitones))


def heard(semitones: Sequence[float | None]) -> Tone | None:
    return tone_of(a_pitch(semitones), ["AA"], [Sample(0), Sample(len(semitones) * HOP)])


def glide(*points: float, frames: int = 24) -> list[float]:
    return np.interp(np.linspace(0, len(points) - 1, frames), range(len(points)), points).tolist()


@pytest.mark.parametrize(
    ("points", "tone"),
    [
        ((0, 5), Tone.RISE),
        ((5, 0), Tone.FALL),
        ((0, 6, 0), Tone.PEAK),
        ((5, 0, 5), Tone.RISE),  # fall-rise: what the ear keeps is where it goes
        ((0, 0), Tone.LEVEL),
        ((0, 1), Tone.LEVEL),
    ],
)
def test_a_syllable_is_named_by_the_turn_of_its_pitch(points: tuple[float, ...], tone: Tone) -> None:
    assert heard(glide(*points)) is tone


def test_whisper_has_no_tone() -> None:
    assert heard([None] * 30) is None


def test_a_few_voiced_frames_have_no_tone() -> None:
    assert heard([None] * 10 + [0.0] * (LEAST - 1) + [None] * 10) is None


# A deliberate leap is held; the tracker's own are over in some tens of milliseconds.
def test_a_held_leap_of_an_octave_is_a_rise_and_a_slip_of_the_tracker_is_none() -> None:
    assert heard([0.0] * 15 + [12.0] * 15) is Tone.RISE
    assert heard([0.0] * 15 + [12.0] * 4) is Tone.LEVEL
    assert heard([-12.0] * 3 + [0.0] * 15) is Tone.LEVEL


# A singer's vibrato: 5 to 7 times a second, a semitone to either side (Sundberg 1987; from memory).
@given(st.integers(20, 200), st.floats(5, 7), st.floats(0, 2 * np.pi))
def test_a_held_note_with_vibrato_is_level(frames: int, rate: float, phase: float) -> None:
    assert heard(np.sin(phase + 2 * np.pi * rate * np.arange(frames) / 100).tolist()) is Tone.LEVEL


def test_a_word_sung_for_forty_picture_frames_has_its_last_turn() -> None:
    held = np.sin(2 * np.pi * 6 * np.arange(167) / 100)

    assert heard((held + np.array(glide(0, 0, 0, 7, frames=167))).tolist()) is Tone.RISE


@given(st.lists(st.floats(0, 24), min_size=2, max_size=4), st.integers(20, 60))
def test_a_glide_played_backwards_turns_the_other_way(points: list[float], frames: int) -> None:
    forwards, backwards = (
        heard(glide(*sorted(points), frames=frames)),
        heard(glide(*sorted(points)[::-1], frames=frames)),
    )
    swapped = {Tone.RISE: Tone.FALL, Tone.LEVEL: Tone.LEVEL}

    assert backwards is swapped[forwards]


@given(st.lists(st.floats(0, 8), min_size=2, max_size=5), st.floats(-12, 36))
def test_a_higher_voice_has_the_same_tones(points: list[float], higher: float) -> None:
    frames = [round(value, 3) for value in glide(*points)]
    values = contour(a_pitch(frames), ["AA"], [Sample(0), Sample(24 * HOP)])
    moved = contour(a_pitch([value + higher for value in frames]), ["AA"], [Sample(0), Sample(24 * HOP)])

    assert moved - higher == pytest.approx(values)


def test_stops_and_fricatives_carry_no_tone() -> None:
    cuts = [Sample(k * HOP) for k in (0, 20, 30)]
    pitch = a_pitch([0.0] * 20 + glide(0, 3 * MOVES, frames=10))

    assert tone_of(pitch, ["AA", "Z"], cuts) is Tone.LEVEL
    assert tone_of(pitch, ["AA", "L"], cuts) is Tone.RISE


def test_a_buzz_alone_has_its_tone() -> None:
    assert tone_of(a_pitch(glide(0, 5)), ["Z"], [Sample(0), Sample(24 * HOP)]) is Tone.RISE
