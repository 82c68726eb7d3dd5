"""A sound file to one mono signal at 16 kHz, read in pieces; every file that cannot be read says why.

Samples are float32 from -1 to 1 at `RATE`; channels count from 1, as on a recorder.
"""

import hashlib
import re
import stat
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

import numpy as np
import soundfile
import soxr

from trackread.core.chunks import PLACEHOLDERS
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.errors import SoundError
from trackread.reading.wave_files import BLOCK, Format, WaveFile, ends_early, open_wave

RATE = 16000
PEAK = 0.7  # every take is read at one level, however it was recorded
LOWEST_RATE, HIGHEST_RATE = 8000, 768000  # hertz: below it no voice can be read, above it no recorder works
SILENT = 10 ** (-75 / 20)  # a peak of -75 dBFS: below the hiss of any microphone
LOUDEST = 2.0**31  # floats may pass full scale, or be integers of up to 32 bits that nobody divided
CLIPPED = (0.99, 1.0)  # floats above full scale are not clipped; the highest step of 8 bits is 0.992
CLIPPED_SHARE = 0.25

# The lines of libsndfile's log that say how long the sound should be and how long it is, in bytes.
LENGTHS = re.compile(r"^ *(?:data|SSND|riff|Riff size|Data Size) *: (\d+) \(should be (\d+)\)", re.MULTILINE)

Blocks = Iterator[np.ndarray]


Signal = np.ndarray  # float32, shape (samples,), at RATE


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
        file = soundfile.SoundFile(path)
    except soundfile.LibsndfileError as error:
        wave = refused_wave(path, error)
        return take_of(path, wave.format, wave.blocks(0, wave.format.frames), channel)
    with file:
        check_whole(path, file)
        return take_of(path, format_of(file), blocks_of(path, file), channel)


def take_of(path: Path, form: Format, blocks: Blocks, channel: int | None) -> Recording:
    check_format(path, form)
    check_channel(path, form, channel)
    signal = resample(checked_blocks(path, form, blocks, channel), form.sample_rate, form.frames)
    check_audible(path, signal)
    return Recording(Sound(digest(path), form.sample_rate, Sample(form.frames)), signal)


def refused_wave(path: Path, error: soundfile.LibsndfileError) -> WaveFile:
    """A wave file that libsndfile refuses, though nothing of its sound is missing: BW64, RF64 with an odd bext."""
    wave = open_wave(path)
    if wave is None:
        raise SoundError(f"{path}: not a sound file that can be read ({reason(error)})") from error
    if wave.format.cut_short:
        raise SoundError(f"{path}: {wave.format.remarks[0]}") from error
    return wave


def format_of(file: soundfile.SoundFile) -> Format:
    return Format(file.samplerate, file.channels, file.frames, file.subtype)


def reason(error: soundfile.LibsndfileError) -> str:
    return str(error.error_string).removeprefix("Error : ").rstrip(".")


def check_there(path: Path) -> None:
    try:
        status = path.stat()
        if stat.S_ISREG(status.st_mode):  # to open a device may wait for ever
            path.open("rb").close()
    except (FileNotFoundError, NotADirectoryError) as error:
        raise SoundError(f"{path}: no such file") from error
    except OSError as error:
        raise SoundError(f"{path}: cannot be opened: {error.strerror}") from error
    if not stat.S_ISREG(status.st_mode):
        raise SoundError(f"{path}: is a {'folder' if path.is_dir() else 'device'}, not a sound file")
    if status.st_size == 0:
        raise SoundError(f"{path}: the file is empty")
    if path.suffix.lower() == ".raw":
        raise SoundError(f"{path}: bare samples do not say what they are: save the take as WAV, AIFF or FLAC")


def check_whole(path: Path, file: soundfile.SoundFile) -> None:
    """Raises SoundError if the file holds fewer bytes than its header promises."""
    for promised, there in missing_bytes(file):
        raise SoundError(f"{path}: {ends_early(promised, there, 'bytes')}")


def missing_bytes(file: soundfile.SoundFile) -> Iterator[tuple[int, int]]:
    """How many bytes the header promises and how many are there, wherever that is fewer."""
    for promised, there in ((int(promised), int(there)) for promised, there in LENGTHS.findall(file.extra_info)):
        known = not any(promised in placeholders for placeholders in PLACEHOLDERS)
        # A last byte that only makes the length even is left out by some.
        if known and there + 1 < promised:
            yield promised, there


def check_format(path: Path, form: Format) -> None:
    """Raises SoundError if there are no samples, or samples at a rate of no recorder."""
    if form.frames == 0:
        raise SoundError(f"{path}: holds no samples, or its header says so ({path.stat().st_size} bytes in all)")
    if not LOWEST_RATE <= form.sample_rate <= HIGHEST_RATE:
        raise SoundError(
            f"{path}: has {form.sample_rate} samples a second: those of {LOWEST_RATE} to {HIGHEST_RATE} can be read"
        )


def check_channel(path: Path, form: Format, channel: int | None) -> None:
    if channel is not None and not 1 <= channel <= form.channels:
        has = "only one" if form.channels == 1 else f"1 to {form.channels}"
        raise SoundError(f"{path}: has no channel {channel}: it has {has}")


def checked_blocks(path: Path, form: Format, blocks: Blocks, channel: int | None) -> Blocks:
    """The chosen channel in blocks; raises SoundError for numbers that are no sound or channels that differ."""
    heard = slice(None) if channel is None else slice(channel - 1, channel)
    done = clipped = 0
    for block in blocks:
        check_numbers(path, block[:, heard], done)
        if channel is None:
            check_alike(path, block)
        one = block[:, heard][:, 0]
        clipped += int(((np.abs(one) >= CLIPPED[0]) & (np.abs(one) <= CLIPPED[1])).sum())
        done += len(one)
        yield one
    if done < form.frames:
        raise SoundError(f"{path}: {ends_early(form.frames, done, 'samples')}")
    if clipped > CLIPPED_SHARE * done:
        raise SoundError(f"{path}: {100 * clipped // done} % of its samples are at full scale: too clipped to read")


def blocks_of(path: Path, file: soundfile.SoundFile, *, size: int = BLOCK, most: int = sys.maxsize) -> Blocks:
    """All channels, shape (samples, channels), `most` samples from where the file stands.

    Raises SoundError where the file cannot be decoded.
    """
    try:
        # Not file.blocks: where a decoder gives less than it promised, that yields what lay in memory.
        while most and len(block := file.read(min(size, most), dtype="float32", always_2d=True)):
            yield block
            most -= len(block)
    except soundfile.LibsndfileError as error:
        raise SoundError(f"{path}: ends early or is damaged ({reason(error)})") from error


def check_alike(path: Path, block: np.ndarray) -> None:
    """Raises SoundError where channels differ and none was chosen."""
    if (block != block[:, :1]).any():
        count = block.shape[1]
        raise SoundError(f"{path}: has {count} different channels: choose one of 1 to {count} with --channel")


def check_numbers(path: Path, block: np.ndarray, done: int) -> None:
    """Raises SoundError for numbers that are no sound; `done` samples stand before the block."""
    wrong = ~(np.abs(block) <= LOUDEST)
    if wrong.any():
        raise SoundError(
            f"{path}: sample {done + wrong.any(1).argmax()} is not a number that sound has: the file is damaged"
        )


def resample(blocks: Blocks, sample_rate: int, frames: int, *, offset: float | None = None) -> np.ndarray:
    """The signal at 16 kHz of `frames` samples; of a lower rate it has nothing above that rate's own half.

    `offset` is a recorder's, which would be a click at both ends: the mean of the first block unless given.
    """
    room = frames * RATE // sample_rate + RATE
    if sample_rate == RATE:
        return joined(blocks, room)
    stream = soxr.ResampleStream(sample_rate, RATE, 1, dtype="float32", quality="HQ")
    first = next(blocks)
    level = np.float32(first.mean() if offset is None else offset)
    pieces = (stream.resample_chunk(block - level) for block in chain([first], blocks))
    rest = (stream.resample_chunk(np.zeros(0, np.float32), last=True) for _ in range(1))
    signal = joined(chain(pieces, rest), room)
    signal += level
    return signal


def joined(pieces: Iterable[np.ndarray], room: int) -> np.ndarray:
    """Pieces in one, never held twice: there is `room` for all of them."""
    signal = np.empty(room, np.float32)
    done = 0
    for piece in pieces:
        signal[done : done + len(piece)] = piece
        done += len(piece)
    return signal[:done]


def check_audible(path: Path, signal: np.ndarray) -> None:
    if len(signal) == 0 or peak_of(signal, float(signal.mean())) < SILENT:
        raise SoundError(f"{path}: is silent from end to end: there is nothing to read")


def at_one_level(signal: Signal) -> Signal:
    """The signal as loud as all are read, however it was recorded; its middle is at 0."""
    return np.asarray(signal * (PEAK / peak_of(signal, 0.0)))


def peak_of(signal: np.ndarray, middle: float) -> float:
    """How far a signal goes from its middle, without a copy of it."""
    return max(float(signal.max()) - middle, middle - float(signal.min()))


def digest(path: Path) -> str:
    """The SHA-256 of the file's bytes, in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
