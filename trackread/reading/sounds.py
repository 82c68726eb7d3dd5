"""A sound file to one mono signal at 16 kHz, read in pieces; every file that cannot be read says why.

Samples are float32 from -1 to 1 at `RATE`; channels count from 1, as on a recorder.
"""

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile
import soxr

from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.errors import SoundError

RATE = 16000
BLOCK = 1 << 18
SILENT = 10 ** (-75 / 20)  # a peak of -75 dBFS: below the hiss of any microphone
FULL_SCALE = 0.999
CLIPPED_SHARE = 0.25


@dataclass(frozen=True, slots=True)
class Recording:
    """One channel of a file: what it is, and its signal at 16 kHz, shape (samples,), float32."""

    sound: Sound
    signal: np.ndarray

    @property
    def seconds(self) -> float:
        return self.sound.length / self.sound.sample_rate


def load(path: Path, channel: int | None = None) -> Recording:
    """The recording at `path`; a file of several different channels needs a `channel` (from 1).

    Raises SoundError for a file that is missing, empty, not sound, cut short, silent, clipped
    throughout, or holds numbers that are no sound.
    """
    check_there(path)
    try:
        with soundfile.SoundFile(path) as file:
            check_whole(path, file)
            check_channel(path, file, channel)
            blocks = checked_blocks(path, file, channel)
            signal = resample(blocks, file.samplerate)
            sound = Sound(digest(path), file.samplerate, Sample(file.frames))
    except soundfile.LibsndfileError as error:
        raise SoundError(f"{path}: not a sound file that can be read ({error.error_string.rstrip('.')})") from error
    check_audible(path, signal)
    return Recording(sound, signal)


def check_there(path: Path) -> None:
    if not path.exists():
        raise SoundError(f"{path}: no such file")
    if not path.is_file():
        raise SoundError(f"{path}: is a folder, not a sound file")
    if path.stat().st_size == 0:
        raise SoundError(f"{path}: the file is empty")


def check_whole(path: Path, file: soundfile.SoundFile) -> None:
    """Raises SoundError if the file holds no samples, or fewer than its header promises."""
    short = re.search(r"^data : (\d+) \(should be (\d+)\)", file.extra_info, re.MULTILINE)
    # A recorder that lost power leaves the header's length at 0 or at its maximum: those files are read as they are.
    if short and int(short[2]) < int(short[1]) < 0xFFFFFF00:
        raise SoundError(f"{path}: ends early: its header promises {short[1]} bytes of sound and {short[2]} are there")
    if file.frames == 0:
        raise SoundError(f"{path}: holds no samples")


def check_channel(path: Path, file: soundfile.SoundFile, channel: int | None) -> None:
    if channel is not None and not 1 <= channel <= file.channels:
        raise SoundError(f"{path}: has no channel {channel}: its channels are 1 to {file.channels}")


def checked_blocks(path: Path, file: soundfile.SoundFile, channel: int | None) -> Iterator[np.ndarray]:
    """The chosen channel in blocks; raises SoundError for numbers that are no sound or channels that differ."""
    done = clipped = 0
    for block in file.blocks(BLOCK, dtype="float32", always_2d=True):
        if channel is None and (block != block[:, :1]).any() and np.isfinite(block).all():
            raise SoundError(
                f"{path}: has {file.channels} different channels: choose one of 1 to {file.channels} with --channel"
            )
        one = block[:, (channel or 1) - 1]
        wrong = np.flatnonzero(~np.isfinite(one))
        if len(wrong):
            raise SoundError(f"{path}: sample {done + wrong[0]} is not a number: the file is damaged")
        clipped += int((np.abs(one) >= FULL_SCALE).sum())
        done += len(one)
        yield one
    if clipped > CLIPPED_SHARE * done:
        raise SoundError(f"{path}: {100 * clipped // done} % of its samples are at full scale: too clipped to read")


def resample(blocks: Iterator[np.ndarray], sample_rate: int) -> np.ndarray:
    """The signal at 16 kHz; sound of a lower rate simply has nothing above its own half rate."""
    if sample_rate == RATE:
        return np.concatenate(list(blocks))
    stream = soxr.ResampleStream(sample_rate, RATE, 1, dtype="float32", quality="HQ")
    pieces = [stream.resample_chunk(np.ascontiguousarray(block)) for block in blocks]
    pieces.append(stream.resample_chunk(np.zeros(0, np.float32), last=True))
    return np.concatenate(pieces)


def check_audible(path: Path, signal: np.ndarray) -> None:
    peak = float(np.abs(signal - signal.mean()).max()) if len(signal) else 0.0
    if peak < SILENT:
        raise SoundError(f"{path}: is silent from end to end: there is nothing to read")


def digest(path: Path) -> str:
    """The SHA-256 of the file's bytes, in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
