"""A second opinion on which phone sounds when: posteriors of the CTC phone model inside the hama package.

One row each 20 ms; its peaks come LATE seconds after the sound, which readers of the rows must allow for.
"""

import functools
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from hama import ASRModel

from trackread.core.phones import PHONES
from trackread.reading.sounds import RATE

HOP = 0.020
ROW = round(HOP * RATE)  # samples
LATE = 0.070  # measured on 535 hand-marked phones
SYMBOLS = tuple(PHONES)

# The model's IPA for each phone, where it is not the table's own.
MODEL_IPA = {
    "AH": ("ə", "ʌ"),
    "ER": ("ɝ", "ɚ"),
    "CH": ("t͡ʃ",),
    "JH": ("d͡ʒ",),
    "G": ("g", "ɡ"),
}


@dataclass(frozen=True, slots=True)
class Posteriors:
    """Log probabilities: `blank` (rows,), `phones` (rows, 39) in the order of SYMBOLS; float32."""

    blank: np.ndarray
    phones: np.ndarray

    def part(self, first: int, stop: int) -> "Posteriors":
        """The rows from `first` to before `stop`."""
        return Posteriors(self.blank[first:stop], self.phones[first:stop])


@functools.cache
def model() -> ASRModel:
    return ASRModel()


@functools.cache
def columns() -> tuple[tuple[int, ...], ...]:
    """The model's columns for each of our phones."""
    tokens = {token: k for k, token in enumerate(model().decoder_tokens)}
    wanted = {symbol: MODEL_IPA.get(symbol, (row[2],)) for symbol, row in PHONES.items()}
    return tuple(tuple(tokens[ipa] for ipa in wanted[symbol] if ipa in tokens) for symbol in SYMBOLS)


# Rows of a piece, at least and at most. The model hears a piece against the whole of it and its cost grows with the
# square of the length, so a take is cut where it is quietest, into pieces as long as a line.
LEAST, MOST = 200, 350
# Rows of silence put before and after each piece. A voice that starts on the first sample is misheard (`Hey` as
# `eye`): with silence in front, wrong pairs of take and line accepted at one right pair refused fell from 1.4 % to
# 0.3 % of 4014.
QUIET = 10


def posteriors(signal: np.ndarray) -> Posteriors:
    """What the model hears in a 16 kHz signal of any length, piece by piece; one row each HOP."""
    edges = quiet_edges(loudness(signal))
    pieces: list[Posteriors] = []
    for first, stop in pairwise(edges):
        piece = np.pad(signal[first * ROW : stop * ROW], QUIET * ROW)
        pieces.append(one_piece(np.pad(piece, (0, ROW))).part(QUIET, QUIET + stop - first))
    return Posteriors(
        np.concatenate([piece.blank for piece in pieces]), np.concatenate([piece.phones for piece in pieces])
    )


def loudness(signal: np.ndarray) -> np.ndarray:
    """The mean size of the samples of each row, the last row perhaps not full, shape (rows,)."""
    starts = range(0, len(signal) + 1, ROW)
    return np.array([np.abs(signal[start : start + ROW]).sum() / ROW for start in starts])


def quiet_edges(loud: np.ndarray) -> list[int]:
    """Where to cut rows of such loudness: 0, the quietest rows LEAST to MOST apart, and the end."""
    smooth = np.convolve(loud, np.ones(3), "same")
    edges = [0]
    while len(loud) - edges[-1] > MOST:
        edges.append(edges[-1] + LEAST + int(smooth[edges[-1] + LEAST : edges[-1] + MOST].argmin()))
    return [*edges, len(loud)]


def one_piece(signal: np.ndarray) -> Posteriors:
    net = model()
    feeds = {
        net._waveform_input_name: signal.astype(np.float32).reshape(1, -1),
        net._waveform_lengths_input_name: np.array([len(signal)]),
    }
    rows, lengths = net.session.run([net._log_probs_output_name, net._out_lengths_output_name], feeds)
    heard = np.asarray(rows[0])[: int(np.asarray(lengths).reshape(-1)[0])]
    silent = np.logaddexp(heard[:, net.blank_id], heard[:, net.decoder_tokens.index("<wb>")])
    phones = np.stack([heard[:, list(place)].max(1) for place in columns()], 1)
    return Posteriors(silent.astype(np.float32), phones.astype(np.float32))
