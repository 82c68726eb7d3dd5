"""Voice sessions put together from recordings of people whose words are known: what measures and benches hear.

A session has takes of lines in any order, some repeated at another speed and level, some cut off or begun again, talk
that is in no script, slates, and the noise of a room, with gaps from 0.3 s. The truth is kept beside it.
"""

import ctypes
import functools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import espeakng_loader
import numpy as np
import soxr
from num2words import num2words
from praatio import textgrid

from trackread.reading.sounds import RATE, load

EDGE_LEVEL = 40.0  # dB below its loudest at which a recording's voice begins and ends
HOP = RATE // 100
LONGEST = 15.0  # seconds
BESIDE = 0.05  # seconds left beside the labels
QUIET_LABELS = ("sil", "sp", "pau", "h#", "#", "<p:>")
SLATES = ("scene {scene} take {take}", "take {take}", "line {scene} take {take}")
VOICES = ("en-gb", "en-us")
CALLBACK = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p)
RETRIEVE = 1  # espeak-ng's AUDIO_OUTPUT_RETRIEVAL: it calls back with the samples and plays nothing


@dataclass(frozen=True, slots=True)
class Clip:
    """A recording of one line: its voice alone at 16 kHz, and its words."""

    name: str
    text: str
    signal: np.ndarray


@dataclass(frozen=True, slots=True)
class Part:
    """What truly is from `start` to `stop`, seconds: a `whole`, `cut off` or `restarted` take of `text`, `chatter`,
    `slate`."""

    start: float
    stop: float
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Made:
    """A session: its signal at 16 kHz, and what is in it in order of time."""

    signal: np.ndarray
    parts: tuple[Part, ...]


def clips_in(folder: Path) -> Iterator[Clip]:
    """Every recording under a folder that has its words beside it, but for those with marks of their own.

    Where people labelled it, what lies before their first and after their last label is left out: some say more than
    their words. What lasts longer than LONGEST is no line of a script.
    """
    for text in sorted(folder.rglob("*.txt")):
        sounds = [text.with_suffix(ending) for ending in (".wav", ".flac") if text.with_suffix(ending).exists()]
        words = text.read_text(encoding="utf-8").strip()
        if sounds and "<" not in words:
            voice = voice_of(labelled_part(load(sounds[0]).signal, text.with_suffix(".TextGrid")))
            if len(voice) <= LONGEST * RATE:
                yield Clip(text.stem, " ".join(words.split()), voice)


def labelled_part(signal: np.ndarray, labels: Path) -> np.ndarray:
    """What people put labels on, and a little around it; all where nobody did."""
    if not labels.exists():
        return signal
    grid = textgrid.openTextgrid(str(labels), includeEmptyIntervals=False)
    tiers = [grid.getTier(name) for name in grid.tierNames]
    times = [entry for tier in tiers if isinstance(tier, textgrid.IntervalTier) for entry in tier.entries]
    spoken = [entry for entry in times if entry.label.strip() and entry.label.lower() not in QUIET_LABELS]
    first, stop = min(entry.start for entry in spoken), max(entry.end for entry in spoken)
    return signal[max(0, int((first - BESIDE) * RATE)) : int((stop + BESIDE) * RATE)]


def voice_of(signal: np.ndarray) -> np.ndarray:
    """A recording without the silence around its voice, at one level."""
    levels = signal[: len(signal) // HOP * HOP].reshape(-1, HOP).std(1)
    loud = np.flatnonzero(levels > levels.max() * 10 ** (-EDGE_LEVEL / 20))
    voice = signal[int(loud[0]) * HOP : int(loud[-1] + 1) * HOP]
    return np.asarray(voice * (0.5 / np.abs(voice).max()), np.float32)


def said_again(clip: np.ndarray, random: np.random.Generator, *, again: bool) -> np.ndarray:
    """A clip as it is the first time, at another speed and level the next."""
    speed = random.uniform(0.9, 1.12) if again else 1.0
    level = 10 ** (random.uniform(-8, 4) / 20)
    return np.asarray(soxr.resample(clip, RATE * speed, RATE) * level, np.float32)


def faded(voice: np.ndarray) -> np.ndarray:
    """A voice that stops short: its last 15 ms fall to nothing, as a voice does and a knife does not."""
    count = min(len(voice), RATE * 15 // 1000)
    return np.asarray(
        np.concatenate([voice[: len(voice) - count], voice[len(voice) - count :] * np.linspace(1, 0, count)]),
        np.float32,
    )


def room_noise(count: int, level: float, random: np.random.Generator) -> np.ndarray:
    """Noise whose power falls by 3 dB an octave, `level` dB below full scale."""
    blocks = []
    for start in range(0, count, 1 << 18):
        spectrum = np.fft.rfft(random.normal(size=1 << 18))
        spectrum /= np.sqrt(np.maximum(np.arange(len(spectrum)), 8))
        pink = np.fft.irfft(spectrum)
        blocks.append(pink[: count - start] / pink.std())
    return np.asarray(np.concatenate(blocks) * 10 ** (level / 20), np.float32)


@dataclass(frozen=True, slots=True)
class Recipe:
    """How a session is made: its length in seconds, and how much of what is in it."""

    seconds: float
    cut_off: float = 0.15
    restarted: float = 0.05
    chatter: float = 0.12
    slated: float = 0.15
    gaps: tuple[float, float] = (0.3, 2.5)


def make(lines: Sequence[Clip], others: Sequence[Clip], slates: Sequence[Clip], recipe: Recipe, seed: int) -> Made:
    """A session of takes of `lines`, with chatter from `others`."""
    random = np.random.default_rng(seed)
    pieces: list[np.ndarray] = []
    parts: list[Part] = []
    done = 0
    seen: set[str] = set()
    order: list[Clip] = []

    def add(voice: np.ndarray, kind: str, text: str) -> None:
        nonlocal done
        parts.append(Part(done / RATE, (done + len(voice)) / RATE, kind, text))
        pieces.append(voice)
        done += len(voice)

    def rest(seconds: float) -> None:
        nonlocal done
        pieces.append(np.zeros(int(seconds * RATE), np.float32))
        done += len(pieces[-1])

    rest(1.0)
    while done < recipe.seconds * RATE:
        order = order or [lines[k] for k in random.permutation(len(lines))]
        clip = order.pop()
        if slates and random.random() < recipe.slated:
            slate = slates[random.integers(len(slates))]
            add(said_again(slate.signal, random, again=True), "slate", slate.text)
            rest(random.uniform(*recipe.gaps))
        if others and random.random() < recipe.chatter:
            other = others[random.integers(len(others))]
            add(said_again(other.signal, random, again=True), "chatter", other.text)
            rest(random.uniform(*recipe.gaps))
        for _ in range(1 + int(random.integers(3))):
            voice = said_again(clip.signal, random, again=clip.name in seen)
            seen.add(clip.name)
            kind, draw = "whole", random.random()
            if len(clip.text.split()) > 1:
                short = faded(voice[: int(random.uniform(0.3, 0.7) * len(voice))])
                if draw < recipe.cut_off:
                    kind, voice = "cut off", short
                elif draw < recipe.cut_off + recipe.restarted:
                    kind = "restarted"
                    voice = np.concatenate([short, np.zeros(int(random.uniform(0.05, 0.25) * RATE), np.float32), voice])
            add(voice, kind, clip.text)
            rest(random.uniform(*recipe.gaps))
    signal = np.concatenate(pieces)
    signal += room_noise(len(signal), random.uniform(-65, -48), random)
    return Made(signal, tuple(parts))


def slates(count: int, seed: int) -> list[Clip]:
    """Slates as espeak-ng says them: no recording of people at hand says any."""
    random = np.random.default_rng(seed)
    return [slate(random) for _ in range(count)]


def slate(random: np.random.Generator) -> Clip:
    pattern = SLATES[random.integers(len(SLATES))]
    text = pattern.format(scene=num2words(random.integers(1, 200)), take=num2words(random.integers(1, 13)))
    text = text.replace("-", " ")
    return Clip(text, text, voice_of(synthesised(text, VOICES[random.integers(len(VOICES))])))


def synthesised(text: str, voice: str) -> np.ndarray:
    """What espeak-ng says, at 16 kHz."""
    speaker = Speaker.only()
    return np.asarray(soxr.resample(speaker.say(text, voice), speaker.rate, RATE), np.float32)


class Speaker:
    """espeak-ng, of which a process has one; its library calls back into memory that must outlive it."""

    @staticmethod
    @functools.cache
    def only() -> "Speaker":
        return Speaker()

    def __init__(self) -> None:
        self.blocks: list[np.ndarray] = []
        self.library = ctypes.CDLL(espeakng_loader.get_library_path())
        self.rate = self.library.espeak_Initialize(RETRIEVE, 0, espeakng_loader.get_data_path().encode(), 0)
        self.callback = CALLBACK(self.keep)
        self.library.espeak_SetSynthCallback(self.callback)

    def keep(self, samples: "ctypes._Pointer[ctypes.c_short]", count: int, _events: int) -> int:
        if samples and count > 0:
            self.blocks.append(np.ctypeslib.as_array(samples, (count,)).copy())
        return 0

    def say(self, text: str, voice: str) -> np.ndarray:
        self.blocks.clear()
        self.library.espeak_SetVoiceByName(voice.encode())
        said = text.encode()
        self.library.espeak_Synth(said, ctypes.c_size_t(len(said) + 1), 0, 0, 0, 1, None, None)
        self.library.espeak_Synchronize()
        return np.concatenate(self.blocks).astype(np.float32) / 32768
