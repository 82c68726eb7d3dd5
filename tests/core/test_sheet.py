"""A sheet's values: what cannot be is our own bug, and is found at birth."""

from dataclasses import replace
from fractions import Fraction

import pytest

from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Heading, Phrase, Sheet, Voice
from trackread.core.timebase import Frame, FrameRate

OTHERS = ("character", "extension", "mouth_names", "beats", "phrases", "level", "pitch")


def a_sheet(*voices: Voice, length: int = 10, action: tuple[Cell, ...] = ()) -> Sheet:
    return Sheet(Heading(), FrameRate(Fraction(24)), Frame(length), 1, voices, action=action)


def a_voice(words: tuple[Cell, ...] = (), beats: tuple[Beat, ...] = (), level: tuple[float, ...] = ()) -> Voice:
    return Voice("BRACK", words, (), beats, level, ())


def test_a_sheet_has_a_frame_at_least():
    with pytest.raises(ValueError, match="a frame at least, not 0"):
        a_sheet(length=0)


def test_a_cell_lasts_a_frame_at_least():
    with pytest.raises(ValueError, match="at least a frame, not 4 to 4"):
        Cell(Frame(4), Frame(4), "Mind")


def test_nothing_lies_outside_the_sheet():
    late = Cell(Frame(9), Frame(11), "Mind")

    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(a_voice(words=(late,)))
    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(action=(late,))
    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(a_voice(beats=(Beat(Frame(-1), Frame(3), 1),)))


@pytest.mark.parametrize("kind", ["words", "sounds", "events", "manners", "pauses", "departures", "missing"])
def test_every_kind_of_text_of_a_voice_lies_on_the_sheet(kind: str):
    first, late = Cell(Frame(0), Frame(10), "laugh"), Cell(Frame(9), Frame(11), "laugh")

    assert getattr(a_sheet(replace(a_voice(), **{kind: (first,)})).voices[0], kind) == (first,)
    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(replace(a_voice(), **{kind: (late,)}))


@pytest.mark.parametrize(("first", "stop"), [(-1, 4), (4, 11), (4, 4), (6, 4)])
def test_a_phrase_lasts_a_frame_at_least_and_lies_on_the_sheet(first: int, stop: int):
    phrase = Phrase(Frame(first), Frame(stop), Tone.RISE, "quick")

    with pytest.raises(ValueError, match="outside frames 0 to 10"):
        a_sheet(replace(a_voice(), phrases=(phrase,)))


def test_all_that_stands_on_frames_is_among_the_spans_of_a_voice():
    """So that nothing escapes the checks above: every field of a voice that holds tuples of spans, once."""
    cells = {kind: (Cell(Frame(0), Frame(1), kind),) for kind in Voice.__dataclass_fields__ if kind not in OTHERS}
    beat, phrase = Beat(Frame(0), Frame(1), 2, Tone.PEAK, main=True), Phrase(Frame(0), Frame(1))
    voice = replace(a_voice(), **cells, beats=(beat,), phrases=(phrase,))

    assert set(voice.spans) == {*(cell for (cell,) in cells.values()), beat, phrase}
    assert len(voice.spans) == len(cells) + 2


def test_a_beat_is_no_main_beat_and_has_no_turn_unless_told():
    beat = Beat(Frame(0), Frame(1), 2)

    assert (beat.tone, beat.main) == (None, False)


def test_level_has_eight_points_for_each_frame_or_none():
    with pytest.raises(ValueError, match="BRACK has 79 points for 10 frames"):
        a_sheet(a_voice(level=(0.5,) * 79))

    assert a_sheet(a_voice(level=(0.5,) * 80)).voices[0].level
    assert not a_sheet(a_voice()).voices[0].level
