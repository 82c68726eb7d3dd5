"""The recording of a whole session as a file of any length: pieces of it, its loudness, and what is broken in it.

It is read in blocks, so memory never grows with its length. Samples count from 0 at the file's own rate, `stop` not
included; channels count from 1. `channel` None is the only channel, or all where they are alike; `mix` is the mean of
all, for two actors on two microphones. A number that is no sound is told when the piece it lies in is read.
"""

from dataclasses import dataclass, replace
from math import gcd
from pathlib import Path

import numpy as np

from trackread.core.sound import MIDNIGHT, Sound
from trackread.core.timebase import Sample, resampled
from trackread.errors import SoundError
from trackread.reading.decoded_files import DecodedFile, open_decoded
from trackread.reading.sounds import (
    RATE,
    Blocks,
    Recording,
    check_alike,
    check_channel,
    check_format,
    check_numbers,
    check_there,
    digest,
    joined,
    resample,
)
from trackread.reading.wave_files import BLOCK, Format, WaveFile, ends_early, open_wave

ROWS = 50  # a second: rows of 20 ms
CONTEXT = RATE // 10  # samples at 16 kHz on either side of a piece, far longer than the filter of the resampler


@dataclass(frozen=True, slots=True)
class LongRecording:
    """A session's sound file, as it lies on the disk; nothing of it is held in memory."""

    file: WaveFile | DecodedFile

    @property
    def path(self) -> Path:
        return self.file.path

    @property
    def format(self) -> Format:
        """Its sample rate, channels, frames that are there, and remarks on what is broken."""
        return self.file.format

    def sound(self, start: Sample = MIDNIGHT) -> Sound:
        """What the book knows it by; reads all of the file once, for its digest. `start` is what the recorder noted."""
        return Sound(digest(self.path), self.format.sample_rate, Sample(self.format.frames), start)

    def piece(self, start: int, stop: int, channel: int | None = None, *, mix: bool = False) -> np.ndarray:
        """One channel from `start` to `stop`, at the file's own rate: float32, shape (stop - start,).

        Raises SoundError for a channel that is not there, different channels of which none was chosen, a number that
        is no sound, or a place that is damaged.
        """
        return joined(self.blocks(start, stop, channel, mix=mix), stop - start)

    def piece_at_16k(
        self, start: int, stop: int, channel: int | None = None, *, whole: Sound, mix: bool = False
    ) -> Recording:
        """The same as `load` would give it if the piece were a file; `whole` is the Sound of the session.

        Its first sample is that at `start`, and it is resampled with what lies around it, so that it is the same as in
        the whole recording. Raises SoundError as `piece` does.
        """
        rate, frames = self.format.sample_rate, self.format.frames
        common = gcd(rate, RATE)
        step, step_at_16k = rate // common, RATE // common
        # From a whole number of steps before, or the samples at 16 kHz would lie between those of the whole recording.
        around = -(-CONTEXT // step_at_16k)
        first = max(start - around * step, start % step)
        last = min(stop + around * step, frames)
        # At the ends the recorder's offset matters, and is that of the whole recording.
        at_end = first < step or last == frames
        offset = self.piece(0, min(BLOCK, frames), channel, mix=mix).mean() if at_end else None
        signal = resample(self.blocks(first, last, channel, mix=mix), rate, last - first, offset=offset)
        begins = (start - first) // step * step_at_16k
        sound = replace(whole, length=Sample(stop - start), start=Sample(whole.start + start))
        return Recording(sound, signal[begins : begins + resampled(stop - start, rate, RATE)])

    def blocks(self, start: int, stop: int, channel: int | None = None, *, mix: bool = False) -> Blocks:
        """As `piece`, but in blocks of whole seconds, the last one shorter."""
        if not 0 <= start < stop <= self.format.frames:
            raise ValueError(f"a piece lies within the {self.format.frames} samples, not from {start} to {stop}")
        check_channel(self.path, self.format, channel)
        return self._heard(start, stop, channel, mix=mix)

    def _heard(self, start: int, stop: int, channel: int | None, *, mix: bool) -> Blocks:
        heard = slice(None) if channel is None or mix else slice(channel - 1, channel)
        done = start
        for block in self.file.blocks(start, stop, heard):
            check_numbers(self.path, block, done)
            if mix:
                block = block @ np.full(
                    (block.shape[1], 1), 1 / block.shape[1], np.float32
                )  # `mean` takes ten times as long
            check_alike(self.path, block)
            done += len(block)
            yield block[:, 0]
        if done < stop:
            raise SoundError(f"{self.path}: {ends_early(self.format.frames, done, 'samples')}")


def open_recording(path: Path) -> LongRecording:
    """The recording at `path`: WAV, Broadcast Wave, RF64, BW64, FLAC, AIFF or whatever else libsndfile decodes.

    What is broken but can be read is told in `format.remarks`. Raises SoundError for a file that is missing, empty,
    not sound, compressed in a way that is not read, or that holds no samples.
    """
    check_there(path)
    recording = LongRecording(open_wave(path) or open_decoded(path))
    check_format(path, recording.format)
    return recording


def levels(recording: LongRecording, channel: int | None = None, *, mix: bool = False) -> np.ndarray:
    """How loud each 20 ms are: root mean square, float32, shape (rows,); 1 is full scale.

    Row k begins with sample k * rate // 50; the last one may be shorter. Reads the whole file once, and raises
    SoundError as `LongRecording.piece` does.
    """
    rate, frames = recording.format.sample_rate, recording.format.frames
    return np.concatenate([levels_in(block, rate) for block in recording.blocks(0, frames, channel, mix=mix)])


def levels_in(signal: np.ndarray, rate: int) -> np.ndarray:
    """The levels of a signal that begins with a whole second, as every block does."""
    edges = np.arange(-(-len(signal) * ROWS // rate)) * rate // ROWS
    lengths = np.diff(edges, append=len(signal))
    return np.sqrt(np.add.reduceat(np.square(signal), edges) / lengths.astype(np.float32))
