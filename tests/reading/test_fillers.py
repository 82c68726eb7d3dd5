"""Hesitations found in the sound, and laughs taken for words that give way to the hint that asks for them."""

from dataclasses import replace

import numpy as np
import pytest

from tests.reading.test_events import Sounding, a_laugh, a_scene, noise, through_mouth, voice, word
from tests.reading.test_said import LINE, told
from trackread.core.performance import DepartureKind, EventKind
from trackread.reading.course import Step, StepKind
from trackread.reading.events import Hint, events_in
from trackread.reading.fillers import fillers_in, with_fillers, without_asked
from trackread.reading.proposals import proposals_of
from trackread.reading.said import departures_in, said_words

NONE = ()


def uh(start: float, seconds: float = 0.4) -> Sounding:
    """A voice by itself."""
    return Sounding(start, voice(seconds), 120.0)


def um(start: float) -> Sounding:
    """A voice whose lips close."""
    closed = 0.3 * through_mouth(voice(0.25), (250.0,), width=60)
    return Sounding(start, np.concatenate([voice(0.35), closed]), 120.0)


def heard(scene) -> list[tuple[tuple[str, ...], float]]:
    rows = len(scene.voiced)
    closed = np.zeros(rows, bool)
    return [(step.phones, step.times[0]) for step in fillers_in(scene, closed)]


def test_a_voice_by_itself_is_a_hesitation_where_it_is():
    (found,) = heard(a_scene(uh(1.2), words=[word(0.3), word(2.2)]))

    assert found == (("AH",), pytest.approx(1.2, abs=0.05))


def test_a_voice_that_closes_its_lips_ends_in_m():
    (found,) = heard(a_scene(um(1.2), words=[word(0.3), word(2.4)]))

    assert found[0] == ("AH", "M")


def test_a_vowel_that_hangs_on_to_its_word_is_none():
    long = Sounding(0.8, voice(0.9), 120.0)

    assert heard(a_scene(long, words=[word(0.3), word(2.4)])) == []


@pytest.mark.parametrize("seconds", [0.05, 0.1])
def test_a_grunt_is_too_short_for_one(seconds):
    assert heard(a_scene(uh(1.2, seconds), words=[word(0.3), word(2.2)])) == []


def test_breath_and_silence_are_none():
    assert heard(a_scene(Sounding(1.2, 0.02 * noise(0.5), 0.0), words=[word(0.3), word(2.2)])) == []
    assert heard(a_scene(words=[word(0.3)])) == []


def test_a_laugh_is_none():
    scene = a_scene(*a_laugh(1.2), words=[word(0.3), word(3.0)])
    events = events_in(scene)
    take = told("0 1 2 3 4")

    assert [event.kind for event in events] == [EventKind.LAUGH]
    assert with_fillers(take, scene, events) == take


def spaced(said: str, *times: float):
    """A take in which the words of `said` are heard at these times, all phones of one together."""
    take = told(said)
    (each,) = take.said
    steps = tuple(
        replace(step, times=tuple(time + 0.01 * k for k in range(len(step.times))))
        for step, time in zip(each.steps, times, strict=True)
    )
    return replace(take, said=(replace(each, steps=steps),))


def test_a_hesitation_is_added_between_the_words_around_it():
    take = spaced("0 1 2 3 4", 0.4, 0.5, 0.6, 2.3, 2.5)
    scene = a_scene(uh(1.2), words=[word(0.3), word(2.2)])
    found = with_fillers(take, scene, NONE)
    words = said_words(found, LINE)
    (departure,) = departures_in(found, LINE, words)

    assert [one.text for one in words] == ["Route", "42", "42", "uh", "please,", "ticket"]
    assert (departure.kind, departure.first, departure.stop) == (DepartureKind.ADDED, 2, 3)
    assert words[3].departs
    assert words[3].written is None


def test_departures_after_a_hesitation_move_with_their_words():
    take = spaced("0 1 2 4", 0.4, 0.5, 0.6, 2.3)
    scene = a_scene(uh(1.2), words=[word(0.3), word(2.2)])
    found = with_fillers(take, scene, NONE)
    departures = departures_in(found, LINE, said_words(found, LINE))

    kinds = {one.kind: (one.first, one.stop, one.written) for one in departures}
    assert kinds[DepartureKind.ADDED][:2] == (2, 3)
    assert kinds[DepartureKind.DROPPED][2] == "please,"


def laughing(at: float) -> Step:
    return Step(StepKind.OTHER, None, ("HH", "AH", "HH", "AH"), (at, at + 0.1, at + 0.2, at + 0.3))


def test_what_was_taken_for_words_where_the_line_asks_for_a_laugh_goes():
    take = spaced("0 1 2 3 4", 0.4, 0.5, 0.6, 2.3, 2.5)
    (each,) = take.said
    with_laugh = with_steps_at(take, laughing(1.2), 3)
    asked = Hint(EventKind.LAUGH, 0.7, 2.2)
    elsewhere = Hint(EventKind.LAUGH, 2.4, 9.0)

    assert without_asked(with_laugh, [asked]).said[0].steps == each.steps
    assert without_asked(with_laugh, [asked]).said[0].departures == ()
    assert without_asked(with_laugh, [elsewhere]) == with_laugh
    assert without_asked(with_laugh, []) == with_laugh


def with_steps_at(take, step, place):
    """The take with a step that was heard at a place of its course, as what is added to the line there."""
    (each,) = take.said
    steps = (*each.steps[:place], step, *each.steps[place:])
    return replace(take, said=(replace(each, steps=steps, departures=proposals_of(steps, len(LINE.spoken))),))
