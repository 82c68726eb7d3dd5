"""The recogniser's rows do not depend on how a long signal is cut into pieces."""

from difflib import SequenceMatcher

import numpy as np

from trackread.reading.recogniser import (
    HOP,
    LEAST,
    MOST,
    ROW,
    SYMBOLS,
    Posteriors,
    columns,
    one_piece,
    posteriors,
    quiet_edges,
)
from trackread.reading.sounds import RATE, Recording
from trackread.reading.stretches import heard_phones


def test_every_phone_has_a_column_of_the_model() -> None:
    assert len(columns()) == len(SYMBOLS)
    assert all(columns())


def test_a_row_comes_every_hop() -> None:
    for samples in (1, ROW - 1, ROW, RATE * 3 + 7):
        rows = posteriors(np.zeros(samples, np.float32))
        assert len(rows.blank) == samples // ROW + 1
        assert rows.phones.shape == (len(rows.blank), len(SYMBOLS))


def test_a_long_signal_is_heard_much_as_in_one_piece(tram: dict[str, tuple[Recording, str]]) -> None:
    signal = np.concatenate([recording.signal for recording, _ in tram.values()])[: 28 * RATE]

    heard, whole = phones_of(posteriors(signal)), phones_of(one_piece(signal))

    assert SequenceMatcher(None, heard, whole, autojunk=False).ratio() > 0.7
    assert len(signal) > 2 * MOST * ROW


def phones_of(heard: Posteriors) -> list[int]:
    return heard_phones(heard)[0].tolist()


def test_rows_beyond_a_seam_keep_their_time(tram: dict[str, tuple[Recording, str]]) -> None:
    word, _ = tram["12"]
    late = np.concatenate([np.zeros((MOST + 100) * ROW, np.float32), word.signal])

    first = heard_phones(posteriors(word.signal))[1][0]

    assert abs(heard_phones(posteriors(late))[1][0] - (MOST + 100) * HOP - first) < 0.06


def test_a_signal_is_cut_where_it_is_quietest() -> None:
    loud = np.ones(1000)
    loud[269:272] = loud[540:543] = 0

    assert quiet_edges(loud)[:3] == [0, 270, 541]


def test_no_piece_is_longer_or_shorter_than_stated() -> None:
    for count in (1, LEAST, MOST, MOST + 1, 5000):
        pieces = np.diff(quiet_edges(np.random.default_rng(0).random(count)))
        assert pieces.sum() == count
        assert pieces.max() <= MOST
        assert (pieces[:-1] >= LEAST).all()
