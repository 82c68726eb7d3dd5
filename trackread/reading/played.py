"""A stretch of a recording as it is given back: a wave file with exactly its samples, and lows and highs to draw.

Samples of 8 and 16 bits are given in 16, those of 24 bits in 24, all others as float32: as wave_files.py reads them,
so none is changed. Samples and bytes count from the first of the stretch, `stop` is not included.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from trackread.reading.long_recordings import LongRecording
from trackread.reading.wave_files import FLOAT, PCM

# Bytes of a sample that is given as PCM, by how it lies in the recording; what is not here is given as float32.
WIDTHS = {"PCM_S8": 2, "PCM_U8": 2, "PCM_16": 2, "PCM_24": 3}
FLOAT_WIDTH = 4


@dataclass(frozen=True, slots=True)
class Played:
    """The samples `start` to before `stop` of one channel of a recording, as LongRecording has channels."""

    recording: LongRecording
    start: int
    stop: int
    channel: int | None = None

    @property
    def samples(self) -> int:
        return self.stop - self.start

    @property
    def width(self) -> int:
        """Bytes of a sample in the wave file."""
        return WIDTHS.get(self.recording.format.subtype, FLOAT_WIDTH)

    @property
    def size(self) -> int:
        """Bytes of the wave file, with the pad byte that RIFF wants after an odd number of them."""
        there = len(self.header()) + self.samples * self.width
        return there + there % 2

    @property
    def rate(self) -> int:
        return self.recording.format.sample_rate

    def piece(self, first: int, stop: int) -> np.ndarray:
        """Some of the samples: float32, shape (stop - first,). Raises SoundError as LongRecording.piece does."""
        return self.recording.piece(self.start + first, self.start + stop, self.channel)

    def header(self) -> bytes:
        """What stands before the samples: RIFF, fmt, for float a fact (RFC 2361), and the head of data."""
        rate, width = self.rate, self.width
        floats = width == FLOAT_WIDTH
        form = struct.pack("<HHIIHH", FLOAT if floats else PCM, 1, rate, rate * width, width, 8 * width)
        chunks = chunk(b"fmt ", form + b"\0\0") if floats else chunk(b"fmt ", form)
        if floats:
            chunks += chunk(b"fact", struct.pack("<I", self.samples))
        length = self.samples * width
        rest = len(b"WAVE") + len(chunks) + 8 + length + length % 2
        return b"RIFF" + struct.pack("<I", rest) + b"WAVE" + chunks + b"data" + struct.pack("<I", length)

    def content(self, first: int, stop: int) -> Iterator[bytes]:
        """The bytes `first` to before `stop` of the wave file. Raises SoundError as LongRecording.piece does."""
        header = self.header()
        if first < len(header):
            yield header[first:stop]
        begin, end = max(first - len(header), 0), min(stop - len(header), self.samples * self.width)
        if begin < end:
            yield from self._sound(begin, end)
        if stop == self.size and first < stop and (len(header) + self.samples * self.width) % 2:
            yield b"\0"

    def extremes(self, first: int, stop: int, count: int) -> tuple[list[float], list[float]]:
        """The lowest and the highest of the samples in each of `count` parts of a stretch, as even as can be.

        There are as many parts as samples at most, so that each has one. Raises SoundError as `content` does.
        """
        edges = first + np.arange(count + 1) * (stop - first) // count
        lows, highs = np.full(count, np.inf, np.float32), np.full(count, -np.inf, np.float32)
        position = first
        for block in self.recording.blocks(self.start + first, self.start + stop, self.channel):
            part = int(np.searchsorted(edges, position, "right")) - 1
            last = int(np.searchsorted(edges, position + len(block), "left"))
            starts = np.maximum(edges[part:last] - position, 0)
            np.minimum(lows[part:last], np.minimum.reduceat(block, starts), out=lows[part:last])
            np.maximum(highs[part:last], np.maximum.reduceat(block, starts), out=highs[part:last])
            position += len(block)
        return lows.tolist(), highs.tolist()

    def _sound(self, begin: int, end: int) -> Iterator[bytes]:
        """Bytes of the samples alone; they begin and end within one where they must."""
        first, stop = begin // self.width, -(-end // self.width)
        skip, left = begin % self.width, end - begin
        for block in self.recording.blocks(self.start + first, self.start + stop, self.channel):
            some = encoded(block, self.width)[skip : skip + left]
            skip, left = 0, left - len(some)
            yield some


def chunk(name: bytes, content: bytes) -> bytes:
    return name + struct.pack("<I", len(content)) + content


def encoded(samples: np.ndarray, width: int) -> bytes:
    """Samples as bytes of a wave file; whole numbers of this width come out as they went in."""
    if width == FLOAT_WIDTH:
        return samples.astype("<f4").tobytes()
    if width == 2:
        return (samples * np.float32(2**15)).astype("<i2").tobytes()
    return (samples * np.float32(2**23)).astype("<i4").view(np.uint8).reshape(-1, 4)[:, :3].tobytes()
