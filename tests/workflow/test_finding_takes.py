"""A part of a session listened through: what is no line, no sound or no word makes no trouble."""

import numpy as np
import pytest
import soxr

from tests.reels import ACORNS, LINES, RATE, joined, voice
from tests.waves import noise
from trackread.core.session import StretchKind
from trackread.reading.lexicon import Lexicon
from trackread.sessions.stretches import Part
from trackread.workflow.finding_takes import Searcher, Wanted

PART = Part(0, 100 * RATE, RATE)
WANTED = tuple(Wanted(f"L{number:04}", text) for number, (*_, text) in enumerate(LINES, 1))


@pytest.fixture(scope="module")
def searcher():
    """The engines that look for the lines of tests/reels.py."""
    return Searcher(WANTED, Lexicon())


def at_16k(signal):
    return soxr.resample(np.asarray(signal, np.float32), RATE, 16000)


def found_in(searcher, signal):
    return [(one.kind, *(guess.line for guess in one.guesses[:1])) for one in searcher.stretches(at_16k(signal), PART)]


def test_a_take_is_found_where_it_is_said(searcher):
    (found,) = searcher.stretches(at_16k(joined(((14, None, 1.0),))), PART)
    said = len(voice(14))

    assert (found.kind, found.guesses[0].line) == (StretchKind.TAKE, "L0004")
    # The voice begins after a second of room, and the file has some silence of its own at both ends.
    assert RATE <= found.start < found.stop <= 2 * RATE + said
    assert found.stop - found.start > 0.8 * said


def test_a_line_that_is_not_wanted_is_no_take_of_another(searcher):
    assert StretchKind.TAKE not in [kind for kind, *_ in found_in(searcher, joined(((11, None, 1.0), (7, None, 1.0))))]


@pytest.mark.parametrize(
    "signal",
    [np.zeros(0), np.zeros(1), np.zeros(RATE * 5), np.full(RATE * 5, 0.25), noise(RATE * 5, peak=1e-6)],
    ids=["nothing", "a sample", "silence", "an offset", "hiss"],
)
def test_where_there_is_no_sound_nothing_is_found(searcher, signal):
    assert searcher.stretches(np.asarray(signal, np.float32), PART) == ()


@pytest.mark.parametrize("seconds", [0.01, 0.05, 0.3, 3])
def test_no_take_is_found_in_noise_however_short(searcher, seconds):
    assert StretchKind.TAKE not in [kind for kind, *_ in found_in(searcher, noise(int(seconds * RATE)))]


def test_a_recorders_offset_changes_nothing(searcher):
    signal = joined(((14, None, 1.0),))

    assert found_in(searcher, signal + 0.1) == found_in(searcher, signal)


def test_a_quiet_recording_has_the_takes_of_a_loud_one(searcher):
    signal = joined(((14, None, 1.0), (3, None, 1.0)))

    assert found_in(searcher, signal / 50) == found_in(searcher, signal)


def test_lines_without_words_are_looked_for_by_nobody():
    searcher = Searcher([Wanted("L0001", "(laughs)"), Wanted("L0002", "..."), Wanted("L0003", ACORNS)], Lexicon())

    assert [line.id for line in searcher.finder.lines] == ["L0003"]
    assert found_in(searcher, joined(((12, None, 1.0),))) == [(StretchKind.TAKE, "L0003")]


def test_where_no_line_has_words_all_that_is_said_is_other_talk():
    searcher = Searcher([Wanted("L0001", "(laughs)")], Lexicon())

    assert found_in(searcher, joined(((12, None, 1.0),))) == [(StretchKind.CHATTER,)]
