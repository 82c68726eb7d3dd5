"""Files that libsndfile decodes (FLAC, AIFF and its like), read in pieces, and how much of a broken one can be read.

Samples are float32 from -1 to 1, shape (frames, channels); frames count from 0, `stop` is not included.
"""

from collections import deque
from dataclasses import dataclass, replace
from pathlib import Path

import soundfile

from trackread.errors import SoundError
from trackread.reading.sounds import Blocks, blocks_of, format_of, missing_bytes, reason
from trackread.reading.wave_files import Format, ends_early

NEVER_SAID = 1 << 62  # frames, as libsndfile has it where a FLAC does not say how many it holds
STEP = 4096  # frames: so many are lost at most at the end of a file that is cut short


@dataclass(frozen=True, slots=True)
class DecodedFile:
    """A file that libsndfile reads; unless it `seeks`, all before a piece must be decoded.

    libFLAC finds no place in a file that neither says its length nor ends as it should: so power failures leave them.
    """

    path: Path
    format: Format
    seeks: bool

    def blocks(self, start: int, stop: int, columns: slice = slice(None)) -> Blocks:
        """The frames from `start` to `stop` of some channels, `format.block` at once; fewer if the file has shrunk.

        Raises SoundError where the file is damaged.
        """
        size = self.format.block
        try:
            with soundfile.SoundFile(self.path) as file:
                if self.seeks:
                    file.seek(start)
                else:
                    deque(blocks_of(self.path, file, size=size, most=start), maxlen=0)
                for block in blocks_of(self.path, file, size=size, most=stop - start):
                    yield block[:, columns]
        except soundfile.LibsndfileError as error:
            raise SoundError(f"{self.path}: ends early or is damaged ({reason(error)})") from error


def open_decoded(path: Path) -> DecodedFile:
    """The file at `path`, with a remark on what is missing of it; raises SoundError if it is not sound."""
    try:
        with soundfile.SoundFile(path) as file:
            form = format_of(file)
            short = [ends_early(promised, there, "bytes") for promised, there in missing_bytes(file)]
    except soundfile.LibsndfileError as error:
        raise SoundError(f"{path}: not a sound file that can be read ({reason(error)})") from error
    seeks = form.frames < NEVER_SAID
    if form.frames == 0 or (seeks and can_read(path, form.frames - 1)):
        return DecodedFile(path, replace(form, remarks=tuple(short), cut_short=bool(short)), seeks)
    frames = frames_decoded(path)
    unknown = f"its header does not say how long it is: {frames} samples can be read, slowly, so save it anew"
    remark = ends_early(form.frames, frames, "samples") if seeks else unknown
    return DecodedFile(path, replace(form, frames=frames, remarks=(remark,), cut_short=seeks), seeks)


def can_read(path: Path, frame: int) -> bool:
    """Whether one frame can be had; the file is opened anew, since a decoder that failed is of no more use."""
    try:
        with soundfile.SoundFile(path) as file:
            file.seek(frame)
            return len(file.read(1)) == 1
    except soundfile.LibsndfileError:
        return False


def frames_decoded(path: Path) -> int:
    """How many frames come out of a file before its decoder gives up, found by decoding all of them."""
    frames = 0
    try:
        with soundfile.SoundFile(path) as file:
            for block in blocks_of(path, file, size=STEP):
                frames += len(block)
    except SoundError:  # here it ends
        pass
    return frames
