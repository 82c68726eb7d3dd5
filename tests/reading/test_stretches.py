"""A long take is cut where it rests, and each stretch gets the words that are said in it."""

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from trackread.reading.recogniser import HOP, LATE, ROW, SYMBOLS, Posteriors
from trackread.reading.sounds import RATE
from trackread.reading.stretches import MOST, Span, chosen_cuts, heard_phones, laid_beside, stretches

WAYS = [(("T", "R", "AE1", "M"),), (("S", "T", "EH1", "P"),), (("P", "EH1", "L"),), (("HH", "AE1", "T"),)]


def heard_at(phones: list[tuple[float, str]], seconds: float) -> Posteriors:
    """Posteriors of a recogniser that hears each phone for one row, and silence elsewhere."""
    rows = int(seconds / HOP) + 1
    blank, each = np.zeros(rows, np.float32), np.full((rows, len(SYMBOLS)), -12.0, np.float32)
    for time, phone in phones:
        row = round((time + LATE) / HOP)
        blank[row], each[row, SYMBOLS.index(phone)] = -9.0, -0.01
    return Posteriors(blank, each)


def said(words: list[int], starts: list[float]) -> list[tuple[float, str]]:
    return [
        (start + 0.1 * k, phone.rstrip("012"))
        for word, start in zip(words, starts, strict=True)
        for k, phone in enumerate(WAYS[word % len(WAYS)][0])
    ]


def test_a_short_take_is_one_stretch() -> None:
    assert stretches(np.zeros(RATE * 10), heard_at([], 10), WAYS) == [Span(0, RATE * 10, 0, 4)]


def test_a_long_take_is_cut_in_its_rests_with_the_right_words_on_each_side() -> None:
    starts = [1.0, 2.0, 9.0, 10.0, 18.0, 19.0, 27.0, 28.0]
    ways = WAYS * 2
    heard = heard_at(said(list(range(8)), starts), 36)

    found = stretches(np.zeros(RATE * 36), heard, ways)

    assert [(span.first, span.last) for span in found] == [(0, 4), (4, 6), (6, 8)]
    assert 10.4 < found[0].stop / RATE < 18.0
    assert 19.4 < found[1].stop / RATE < 27.0
    assert found[0].stop == found[1].start
    assert found[0].stop % ROW == 0


@given(st.lists(st.floats(0.3, 4.0), min_size=2, max_size=60))
def test_stretches_cover_the_take_and_its_words_once_in_order(gaps: list[float]) -> None:
    starts = np.cumsum(gaps).tolist()
    seconds = starts[-1] + 2
    ways = [WAYS[k % 4] for k in range(len(starts))]
    found = stretches(np.zeros(int(RATE * seconds)), heard_at(said(list(range(len(starts))), starts), seconds), ways)

    assert found[0].start == 0
    assert found[-1].stop == int(RATE * seconds)
    assert (found[0].first, found[-1].last) == (0, len(ways))
    assert all(a.stop == b.start and a.last == b.first for a, b in pairwise(found))
    assert all(span.stop > span.start for span in found)


def test_a_word_that_was_not_heard_stays_beside_its_neighbours() -> None:
    line = np.array([SYMBOLS.index(p) for p in ("S", "T", "EH", "P")])
    without_t = np.array([SYMBOLS.index(p) for p in ("S", "EH", "P")])

    assert laid_beside(line, without_t).tolist() == [0, -1, 1, 2]


def test_phones_heard_in_a_row_count_once_and_at_their_own_time() -> None:
    heard = heard_at([(0.5, "S"), (0.52, "S"), (0.7, "T")], 2)

    phones, times = heard_phones(heard)

    assert [SYMBOLS[phone] for phone in phones] == ["S", "T"]
    assert np.allclose(times, [0.5, 0.7], atol=0.011)


def test_no_stretch_grows_past_the_limit_while_there_are_rests() -> None:
    begins = np.arange(0, 200, 3.0)

    cuts = chosen_cuts(begins, begins + 0.5, 203.0)

    times = [0.0, *(time for _, time in cuts), 203.0]
    assert max(np.diff(times)) <= MOST + 3


def test_a_take_in_which_nothing_of_the_line_is_heard_still_has_all_words() -> None:
    found = stretches(np.zeros(RATE * 60), heard_at([], 60), WAYS)

    assert sum(span.last - span.first for span in found) == 4
