"""The chunks of a wave file, where each lies and how long it is, in files that are whole and in files that are broken.

RIFF is little-endian chunks of four letters, a length of 32 bits and that many bytes, made even by a pad byte. RF64
(EBU Tech 3306) and BW64 (ITU-R BS.2088) are the same with lengths of 64 bits in a first chunk `ds64`, for every chunk
whose own length reads FFFFFFFF. Places count bytes from the start of the file; the caller opens it.
"""

import os
import re
import struct
from dataclasses import dataclass
from typing import BinaryIO

FORMS = (b"RIFF", b"RF64", b"BW64")
NAME = re.compile(rb"[ -~]{4}")
# Those that recorders write: what shows where a chunk begins if the pad byte before it was left out.
KNOWN = frozenset(
    name.ljust(4).encode("ascii")
    for name in "ds64 fmt fact data bext iXML LIST JUNK junk PAD FLLR cue axml chna smpl id3 ID3".split()
)
LONG = 0xFFFFFFFF  # the length stands in ds64
# What writes to a pipe, or lost power, leaves a length near 2 or 4 GiB, or the largest of 64 bits.
PLACEHOLDERS = (range(0x7FFFF000, 0x80000000), range(0xFFFFF000, 0x100000000), range(2**64 - 1, 2**64))
MOST = 1000  # chunks: no recorder writes so many, rubbish may look like more


@dataclass(frozen=True, slots=True)
class Chunk:
    """`length` is what the header says, None where it was never filled in; `there` is what the file has of it.

    `padded` is false where a pad byte is missing after it.
    """

    name: str
    start: int
    length: int | None
    there: int
    padded: bool = True


def chunks_in(file: BinaryIO) -> tuple[Chunk, ...]:
    """The chunks in their order, up to where the file ends or is rubbish; none if it is no wave file."""
    size = file.seek(0, os.SEEK_END)
    form, _, kind = struct.unpack("<4s4s4s", bytes_at(file, 0, 12).ljust(12, b"\0"))
    if form not in FORMS or kind != b"WAVE":
        return ()
    found: list[Chunk] = []
    lengths: dict[bytes, int] = {}
    place = 12
    while place + 8 <= size and len(found) < MOST:
        name, length = struct.unpack("<4sI", bytes_at(file, place, 8))
        if not NAME.fullmatch(name):
            break
        if form != b"RIFF" and length in (0, LONG):
            length = lengths.get(name, length)
        chunk = _chunk(file, name.decode("ascii"), place + 8, length)
        found.append(chunk)
        if name == b"ds64":
            lengths = _long_lengths(bytes_at(file, chunk.start, chunk.there))
        place = chunk.start + chunk.there + (chunk.there % 2 if chunk.padded else 0)
    return tuple(found)


def content(file: BinaryIO, chunk: Chunk, most: int) -> bytes:
    """The bytes of a chunk, at `most` so many."""
    return bytes_at(file, chunk.start, min(chunk.there, most))


def bytes_at(file: BinaryIO, place: int, count: int) -> bytes:
    file.seek(place)
    return file.read(count)


def _chunk(file: BinaryIO, name: str, start: int, length: int) -> Chunk:
    size = file.seek(0, os.SEEK_END)
    stop = start + length
    if name == "data" and not _ends_well(file, start, length, size):
        return Chunk(name, start, None, size - start)
    padded = length % 2 == 0 or _begins_chunk(file, stop + 1) or not _begins_chunk(file, stop)
    return Chunk(name, start, length, min(length, size - start), padded)


def _ends_well(file: BinaryIO, start: int, length: int, size: int) -> bool:
    """Whether the length of the sound may be believed: one that looks unfilled is only if it ends where it should."""
    if length and not any(length in placeholders for placeholders in PLACEHOLDERS):
        return True
    stop = start + length
    return size - stop in (0, length % 2) or _begins_chunk(file, stop) or _begins_chunk(file, stop + length % 2)


def _begins_chunk(file: BinaryIO, place: int) -> bool:
    return bytes_at(file, place, 4) in KNOWN


def _long_lengths(ds64: bytes) -> dict[bytes, int]:
    """The lengths of 64 bits by the names of their chunks; none where ds64 is too short or was never filled in."""
    if len(ds64) < 28:
        return {}
    _, sound, _, entries = struct.unpack_from("<QQQI", ds64)
    rows = range(28, min(len(ds64) - 11, 28 + 12 * entries), 12)
    table = dict(struct.unpack_from("<4sQ", ds64, row) for row in rows)
    return {name: length for name, length in {**table, b"data": sound}.items() if length}
