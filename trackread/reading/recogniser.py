"""A second opinion on which phone sounds when: posteriors of the CTC phone model inside the hama package.

One row each 20 ms; its peaks come LATE seconds after the sound, which readers of the rows must allow for.
"""

import functools
from dataclasses import dataclass

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


# Rows: pieces of 10 s, each heard with half a second of its neighbours, or of silence beyond the ends. A voice that
# starts on the first sample is misheard (`Hey` as `eye`): with silence in front, wrong pairs of take and line accepted
# at one right pair refused fell from 1.4 % to 0.3 % of 4014.
# The model hears a piece against the whole of it, and no more than 30 s at once: other pieces, slightly other phones.
PIECE, MARGIN = 500, 25


def posteriors(signal: np.ndarray) -> Posteriors:
    """What the model hears in a 16 kHz signal of any length, piece by piece; one row each HOP."""
    rows = len(signal) // ROW + 1
    pieces: list[Posteriors] = []
    for first in range(0, rows, PIECE):
        count = min(PIECE, rows - first)
        around = cut_out(signal, (first - MARGIN) * ROW, (first + count + MARGIN) * ROW)
        pieces.append(one_piece(around).part(MARGIN, MARGIN + count))
    return Posteriors(
        np.concatenate([piece.blank for piece in pieces]), np.concatenate([piece.phones for piece in pieces])
    )


def cut_out(signal: np.ndarray, start: int, stop: int) -> np.ndarray:
    """Samples `start` to `stop`, silence where the signal has none."""
    before, after = max(0, -start), max(0, stop - len(signal))
    return np.pad(signal[max(0, start) : min(stop, len(signal))], (before, after))


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
