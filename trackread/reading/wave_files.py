"""Wave files as chunks of samples, read in pieces by ourselves: RIFF, RF64 and BW64, whole or broken.

libsndfile refuses BW64, an RF64 whose bext is of odd length, and much that a recorder without power leaves behind.
Samples are float32 from -1 to 1, shape (frames, channels); frames count from 0, `stop` is not included.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from trackread.core.chunks import Chunk, chunks_in, content
from trackread.errors import SoundError

BLOCK = 1 << 18  # samples read at once, about
EXTENSIBLE = 0xFFFE
# WAVE_FORMAT_EXTENSIBLE: the kind of samples is the first two bytes of a GUID that ends so, in all kinds there are.
GUID = bytes.fromhex("000000001000800000aa00389b71")
PCM, FLOAT = 1, 3
# The kind of samples and the bytes of each, by the names that libsndfile has for them.
SUBTYPES = {
    (PCM, 1): "PCM_U8",
    (PCM, 2): "PCM_16",
    (PCM, 3): "PCM_24",
    (PCM, 4): "PCM_32",
    (FLOAT, 4): "FLOAT",
    (FLOAT, 8): "DOUBLE",
}
# 24 bits are read as 32, the highest of which belong to the next sample and are shifted out.
TYPES = {"PCM_U8": "u1", "PCM_16": "<i2", "PCM_24": "<i4", "PCM_32": "<i4", "FLOAT": "<f4", "DOUBLE": "<f8"}
STEPS = {"PCM_U8": 2.0**-7, "PCM_16": 2.0**-15, "PCM_24": 2.0**-31, "PCM_32": 2.0**-31}
# Registered numbers of what is no plain samples; those that a recorder may have (RFC 2361).
COMPRESSED = {2: "ADPCM", 6: "A-law", 7: "mu-law", 0x11: "ADPCM", 0x31: "GSM", 0x50: "MPEG", 0x55: "MP3"}


@dataclass(frozen=True, slots=True)
class Format:
    """What a file says of its sound; `remarks` are sentences on what is broken in it, the first says if it ends early.

    `subtype` is how samples are written: `PCM_24`, `FLOAT`. `frames` counts those that are there.
    """

    sample_rate: int
    channels: int
    frames: int
    subtype: str
    remarks: tuple[str, ...] = ()
    cut_short: bool = False

    @property
    def block(self) -> int:
        """Whole seconds, with about BLOCK samples in all channels."""
        return max(1, BLOCK // (self.sample_rate * self.channels)) * self.sample_rate


@dataclass(frozen=True, slots=True)
class WaveFile:
    """A wave file with plain samples; the first begins at byte `start`, and a frame of them has `size` bytes."""

    path: Path
    format: Format
    start: int
    size: int

    def blocks(self, start: int, stop: int, columns: slice = slice(None)) -> Iterator[np.ndarray]:
        """The frames from `start` to `stop` of some channels, `format.block` at once; fewer if the file has shrunk."""
        with self.path.open("rb") as file:
            file.seek(self.start + start * self.size)
            for first in range(start, stop, self.format.block):
                count = min(self.format.block, stop - first)
                raw = bytearray(count * self.size + 1)  # 24 bits are read as 32, those of the last one too
                there = file.readinto(memoryview(raw)[:-1]) // self.size
                yield self._numbers(raw, there, columns)

    def _numbers(self, raw: bytearray, count: int, columns: slice) -> np.ndarray:
        subtype, channels = self.format.subtype, self.format.channels
        strides = (self.size, self.size // channels)
        numbers = np.ndarray((count, channels), TYPES[subtype], raw, strides=strides)[:, columns]
        if subtype == "PCM_24":
            numbers = numbers << 8
        with np.errstate(over="ignore", invalid="ignore"):  # a double may be no sound; who reads it is told so
            samples = numbers.astype(np.float32)
        samples *= np.float32(STEPS.get(subtype, 1.0))
        if subtype == "PCM_U8":
            samples -= 1
        return samples


def open_wave(path: Path) -> WaveFile | None:
    """The wave file at `path`; None if it is no wave file at all.

    Raises SoundError if it does not say what its samples are, or if they are no plain ones.
    """
    with path.open("rb") as file:
        chunks = chunks_in(file)
        if not chunks:
            return None
        named = {chunk.name: chunk for chunk in reversed(chunks)}
        if "fmt " not in named:
            raise SoundError(f"{path}: not a sound file that can be read (no chunk in it says what its samples are)")
        sample_rate, channels, subtype, width = _fmt(path, content(file, named["fmt "], 40))
    sound = named.get("data", Chunk("data", 0, 0, 0))
    size = channels * width
    remarks = remarks_on(chunks, path.stat().st_size)
    cut_short = sound.length is not None and sound.there < sound.length
    form = Format(sample_rate, channels, sound.there // size, subtype, remarks, cut_short)
    return WaveFile(path, form, sound.start, size)


def _fmt(path: Path, chunk: bytes) -> tuple[int, int, str, int]:
    """Sample rate, channels, how samples are written, and the bytes of each one, as the fmt chunk has them."""
    if len(chunk) < 16:
        raise SoundError(
            f"{path}: not a sound file that can be read (what says how its samples are written is cut off)"
        )
    kind, channels, sample_rate, _, size, bits = struct.unpack_from("<HHIIHH", chunk)
    if kind == EXTENSIBLE and chunk[26:] == GUID:
        kind = struct.unpack_from("<H", chunk, 24)[0]
    # 20 bits lie in three bytes: what a frame takes is surer than what is used of it.
    widths = (size // max(channels, 1), -(-bits // 8))
    width = next((width for width in widths if (kind, width) in SUBTYPES), None)
    if channels == 0 or width is None:
        known = COMPRESSED.get(kind, f"of format {kind} with {bits} bits")
        raise SoundError(
            f"{path}: not a sound file that can be read (its samples are {known} in {channels} channels): "
            "save it as PCM of 16 or 24 bits"
        )
    return sample_rate, channels, SUBTYPES[kind, width], width


def remarks_on(chunks: tuple[Chunk, ...], size: int) -> tuple[str, ...]:
    """What is broken in a wave file of `size` bytes, the loss of sound first."""
    remarks = []
    for chunk in sorted(chunks, key=lambda chunk: chunk.name != "data"):
        if chunk.length is None:
            remarks.append("its header does not say how long it is: read to the end of the file")
        elif chunk.there < chunk.length:
            ends = ends_early(chunk.length, chunk.there, "bytes")
            remarks.append(ends if chunk.name == "data" else f"its chunk {chunk.name!r} {ends}")
        if not chunk.padded:
            remarks.append(f"no pad byte after its odd chunk {chunk.name!r}")
    last = chunks[-1]
    beyond = size - last.start - last.there - last.there % 2
    if beyond > 0:
        remarks.append(f"{beyond} bytes after its last chunk {last.name!r} are in none and were left")
    return tuple(remarks)


def ends_early(promised: int, there: int, what: str) -> str:
    return f"ends early: its header promises {promised} {what} and {there} are there"
