"""The check movie as MP4: H.264 and AAC, which every browser plays, the same bytes for the same film.

Frame k is shown from exactly k/rate. No picture waits for a later one, so the first is there at once and a player can
step backwards as well as forwards. The encoder of the sound begins with silence of its own: an edit list leaves it out
(ISO/IEC 14496-12), which players heed.
"""

from collections.abc import Iterator
from fractions import Fraction
from heapq import merge
from math import lcm
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeAlias

import av
import numpy as np
from av.audio.stream import AudioStream
from av.container import OutputContainer
from av.packet import Packet
from av.video.reformatter import ColorPrimaries, ColorRange, Colorspace, ColorTrc
from av.video.stream import VideoStream
from numpy.typing import NDArray
from PIL import Image

from trackread.film.film import Film
from trackread.film.frames import frames_of
from trackread.film.places import HEIGHT, WIDTH
from trackread.film.sound import RATE, Soundtrack, frame_of, sound_of

AnyPacket: TypeAlias = "Packet[VideoStream] | Packet[AudioStream]"

SOUND_BITS = 192_000  # a second
CHUNK = 1024  # samples in a packet of AAC (ISO/IEC 14496-3)
# One thread, since what is encoded depends on how many there are. A whole picture each half second or so, to seek by.
PICTURE = {
    "preset": "veryfast",
    "crf": "17",
    "x264-params": "bframes=0:threads=1:lookahead-threads=1:keyint=12:min-keyint=12:scenecut=0",
}


def movie_of(film: Film, sound: Soundtrack | None = None) -> bytes:
    """A film as MP4, its head at the beginning so that it plays while it is still being fetched.

    Raises FilmError for a film without voices or with more than eight, a picture of a mouth that cannot be read, or a
    sound that is longer or shorter than the film by more than a frame.
    """
    pictures = frames_of(film)
    samples = None if sound is None else sound_of(sound, film)
    # To bring the head to the beginning, the file is read again while it is written.
    with TemporaryDirectory() as folder:
        path = Path(folder) / "film.mp4"
        with av.open(path, "w", format="mp4", options=_options(film)) as container:
            seen = _pictures(container, film, pictures)
            heard: Iterator[AnyPacket] = iter(()) if samples is None else _sounds(container, samples)
            for packet in merge(seen, heard, key=_time):
                container.mux(packet)
        return path.read_bytes()


def _options(film: Film) -> dict[str, str]:
    """What the file is like; times of the whole are told in units of which frames and samples are both multiples."""
    unit = lcm(film.rate.per_second.numerator, RATE)
    return {"movflags": "+faststart", "movie_timescale": str(unit), "fflags": "+bitexact"}


def _pictures(container: OutputContainer, film: Film, pictures: Iterator[Image.Image]) -> Iterator[AnyPacket]:
    """Adds the track of pictures; what it is made of comes as it is asked for."""
    stream = container.add_stream("libx264", rate=film.rate.per_second, options=PICTURE)
    stream.width, stream.height, stream.pix_fmt = WIDTH, HEIGHT, "yuv420p"
    stream.time_base = 1 / film.rate.per_second
    context = stream.codec_context
    context.thread_count = 1
    context.time_base = 1 / film.rate.per_second
    context.color_range, context.colorspace = ColorRange.MPEG, Colorspace.ITU709
    context.color_primaries, context.color_trc = ColorPrimaries.BT709, ColorTrc.BT709

    def packets() -> Iterator[AnyPacket]:
        for number, picture in enumerate(pictures):
            yield from stream.encode(_frame(picture, number, film))
        yield from stream.encode(None)

    return packets()


def _frame(picture: Image.Image, number: int, film: Film) -> av.VideoFrame:
    frame = av.VideoFrame.from_ndarray(np.asarray(picture), format="rgb24").reformat(
        format="yuv420p", dst_colorspace=Colorspace.ITU709, dst_color_range=ColorRange.MPEG, threads=1
    )
    frame.pts, frame.time_base, frame.duration = number, 1 / film.rate.per_second, 1
    return frame


def _sounds(container: OutputContainer, samples: NDArray[np.float32]) -> Iterator[AnyPacket]:
    """Adds the track of sound; what it is made of comes as it is asked for."""
    stream = container.add_stream("aac", rate=RATE)
    first = frame_of(samples[:, :CHUNK], RATE)
    stream.codec_context.layout = first.layout
    stream.codec_context.format = first.format
    stream.codec_context.bit_rate = SOUND_BITS
    stream.codec_context.thread_count = 1

    def packets() -> Iterator[AnyPacket]:
        for start in range(0, samples.shape[1], CHUNK):
            frame = frame_of(samples[:, start : start + CHUNK], RATE)
            frame.pts = start
            yield from stream.encode(frame)
        yield from stream.encode(None)

    return packets()


def _time(packet: AnyPacket) -> Fraction:
    """When a packet is needed."""
    return (packet.dts or 0) * packet.time_base
