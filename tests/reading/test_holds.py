"""Long sounds before a pause last as long as the voice does."""

from dataclasses import replace

import pytest

from tests.reading.test_events import Sounding, a_scene, voice
from trackread.core.performance import EventKind
from trackread.reading.aligner import Mark
from trackread.reading.events import Found
from trackread.reading.holds import held
from trackread.reading.placement import Placed

LONG = Sounding(0.5, voice(1.5), 120.0)


def phone(symbol: str, start: float, stop: float) -> Placed:
    return Placed(Mark(symbol, start, stop, 0, opens_word=False), start, stop, 1.0, 1.0)


def stops(placed, scene, events=()):
    return [one.stop for one in held(placed, scene, events)]


@pytest.mark.parametrize("symbol", ["AO1", "N", "L"])
def test_a_sound_that_is_held_lasts_to_where_its_voice_stops(symbol):
    assert stops([phone(symbol, 0.5, 1.0)], a_scene(LONG)) == [pytest.approx(2.0, abs=0.06)]


def test_it_gives_way_to_the_next_word():
    assert stops([phone("AO1", 0.5, 1.0), phone("T", 1.6, 1.9)], a_scene(LONG)) == [pytest.approx(1.6), 1.9]


@pytest.mark.parametrize("symbol", ["S", "T", "F"])
def test_a_sound_without_voice_stays_as_it_is(symbol):
    assert stops([phone(symbol, 0.5, 1.0)], a_scene(LONG)) == [1.0]


def test_where_the_voice_stops_with_it_nothing_changes():
    assert stops([phone("AO1", 0.5, 2.0)], a_scene(LONG)) == [pytest.approx(2.0, abs=0.03)]
    assert stops([phone("AO1", 0.5, 2.2)], a_scene(LONG)) == [2.2]


def test_a_voice_that_fades_is_not_followed_to_its_last_breath():
    faded = replace(LONG, signal=LONG.signal * ([1.0] * 8000 + [0.1] * 16000))

    assert stops([phone("AO1", 0.5, 1.0)], a_scene(faded)) == [pytest.approx(1.0, abs=0.06)]


def test_a_laugh_behind_a_word_is_no_voice_of_it():
    laugh = Found(EventKind.LAUGH, 1.0, 2.0, 0.9)

    assert stops([phone("AO1", 0.5, 1.0)], a_scene(LONG), [laugh]) == [1.0]
