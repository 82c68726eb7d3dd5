"""Finds each phone of known words in a signal with pocketsphinx: words first, then phones, never refusing.

No best-path search, which refused 17 of 280 clean files in the second pass. Beams so wide that what they
leave out never mattered on 27 takes, at two thirds of the time; where they do refuse, none at all.
Marks stand on the aligner's 10 ms grid and come 8 ms early on people, which is mended here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from pocketsphinx import Decoder

from trackread.errors import ReadingError
from trackread.reading.lexicon import Pronunciation, bare
from trackread.reading.sounds import RATE

HOP = 0.010
EARLY = 0.008  # measured on 148 hand-marked words: the aligner marks 8-9 ms before people do
WIDE, UNBOUNDED = 1e-200, 0.0  # beams: how much less likely than the best a path may be
DITHER = 2e-5  # digital silence has no spectrum; half a bit of noise gives it one
# The aligner hears every sound beside the mean of all it is given, and much silence moves that: with as much as the
# take again, or four times as much, at both ends 13 % of 645 boundaries moved by over 0.1 s. So it is not given that
# silence: with these values, chosen among 18, 1 % moved by over 0.04 s and none by 0.1.
SILENT = 45.0  # dB below the loudest 10 ms
ROOM = 0.5  # seconds of silence that are left at each end

# The decoder keeps log likelihoods in whole steps of 1024 and gives the exponential of what is kept.
SCORE_SCALE = 1024

Ways = tuple[Pronunciation, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """One phone found: ARPAbet with stress digit, seconds, and whether it opens word `word` of the request."""

    phone: str
    start: float
    stop: float
    word: int
    opens_word: bool


class Aligner:
    """Decoders kept for many lines: one quick, and one that never refuses, made when it is first needed."""

    def __init__(self, *, early: float = EARLY) -> None:
        self.early = early
        self.quick = Engine(WIDE)
        self.sure: Engine | None = None

    def align(self, signal: np.ndarray, words: Sequence[Ways]) -> tuple[Mark, ...]:
        """The phones of `words` (each given as its possible pronunciations) in a 16 kHz signal, in order.

        A gap between marks is a pause. Raises ReadingError if the signal is too short for the words.
        """
        for first, stop in (sounding(signal), (0, len(signal))):
            if found := self.marks(signal[first:stop], words):
                later = self.early + first / RATE
                return tuple(replace(mark, start=mark.start + later, stop=mark.stop + later) for mark in found)
        raise ReadingError("the take is too short to hold the words of its line")

    def fit(self, signal: np.ndarray, words: Sequence[Ways]) -> float | None:
        """The log likelihood of the signal if these words are said in it, in nats; None if they cannot be."""
        return self.quick.fit(as_pcm(signal), words) if words and len(signal) else None

    def marks(self, signal: np.ndarray, words: Sequence[Ways]) -> list[Mark]:
        """The marks as the decoders count them; none if the signal is too short."""
        if not len(signal):
            return []
        pcm = as_pcm(signal)
        if found := self.quick.align(pcm, words):
            return found
        self.sure = self.sure or Engine(UNBOUNDED)
        return self.sure.align(pcm, words)


class Engine:
    """One pocketsphinx decoder; words are added to it under names of our own, once each."""

    def __init__(self, beam: float) -> None:
        self.decoder = Decoder(lm=None, bestpath=False, beam=beam, pbeam=beam, wbeam=beam, loglevel="FATAL")
        self.names: dict[Ways, str] = {}

    def align(self, pcm: bytes, words: Sequence[Ways]) -> list[Mark]:
        """The marks as the decoder counts them; none if it finds no path within its beam."""
        try:
            self.decoder.reinit_feat()  # else it takes for noise what it took for noise in the take before
            self.decoder.set_align_text(" ".join(self.name_of(ways) for ways in words))
            self.run(pcm)
            self.decoder.set_alignment()
            self.run(pcm)
        except RuntimeError:
            return []
        marks: list[Mark] = []
        number = -1
        # Words and phones are views of the decoder's own memory, and die as the next one is asked for: never keep them.
        for word in self.decoder.get_alignment():
            if word.name[0] in "<[":
                continue
            number += 1
            phones = [(phone.name, phone.start, phone.duration) for phone in word]
            way = way_said(words[number], tuple(name for name, _, _ in phones))
            for k, (_, start, length) in enumerate(phones):
                marks.append(Mark(way[k], start * HOP, (start + length) * HOP, number, k == 0))
        return marks

    def fit(self, pcm: bytes, words: Sequence[Ways]) -> float | None:
        """As Aligner.fit, by the first pass alone, within this decoder's beam."""
        try:
            self.decoder.reinit_feat()
            self.decoder.set_align_text(" ".join(self.name_of(ways) for ways in words))
            self.run(pcm)
            best = self.decoder.hyp()
        except RuntimeError:
            return None
        return math.log(best.score) * SCORE_SCALE if best and best.score > 0 else None

    def name_of(self, ways: Ways) -> str:
        """The decoder's name for a word said in these ways."""
        if ways not in self.names:
            self.names[ways] = f"w{len(self.names)}"
            for number, way in enumerate(ways, 1):
                name = self.names[ways] + (f"({number})" if number > 1 else "")
                self.decoder.add_word(name, " ".join(bare(way)), number == len(ways))
        return self.names[ways]

    def run(self, pcm: bytes) -> None:
        self.decoder.start_utt()
        self.decoder.process_raw(pcm, full_utt=True)
        self.decoder.end_utt()


def sounding(signal: np.ndarray) -> tuple[int, int]:
    """The samples, `stop` not included, from where the sound comes up to where it falls silent, with some room."""
    hop = round(HOP * RATE)
    levels = signal[: len(signal) // hop * hop].reshape(-1, hop).std(1)
    loud = np.flatnonzero(levels > levels.max(initial=0.0) * 10 ** (-SILENT / 20))
    if not len(loud):
        return 0, len(signal)
    room = round(ROOM * RATE)
    return max(0, int(loud[0]) * hop - room), min(len(signal), int(loud[-1] + 1) * hop + room)


def as_pcm(signal: np.ndarray) -> bytes:
    """16-bit samples with a little fixed noise."""
    noise = np.random.default_rng(0).normal(0, DITHER, len(signal))
    return bytes((np.clip(signal + noise, -1, 1) * 32767).astype(np.int16).tobytes())


def way_said(ways: Ways, phones: Pronunciation) -> Pronunciation:
    """The pronunciation, stress digits and all, that the decoder chose."""
    return next(way for way in ways if bare(way) == phones)
