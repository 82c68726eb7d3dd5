"""Wave files written byte by byte, whole or broken, as recorders and power failures leave them.

Layouts: EBU Tech 3285 v2 (bext), EBU Tech 3306 (RF64), ITU-R BS.2088 (BW64), RFC 2361 (kinds of samples).
"""

import struct

import numpy as np

# What samples of each kind are: format tag, bytes, numpy type of the whole word, full scale.
KINDS = {
    "PCM_U8": (1, 1, "u1", 2**7),
    "PCM_16": (1, 2, "<i2", 2**15),
    "PCM_24": (1, 3, "<i4", 2**23),
    "PCM_32": (1, 4, "<i4", 2**31),
    "FLOAT": (3, 4, "<f4", None),
    "DOUBLE": (3, 8, "<f8", None),
}
GUID_END = bytes.fromhex("000000001000800000aa00389b71")  # of KSDATAFORMAT_SUBTYPE_PCM and _IEEE_FLOAT
LONG = 0xFFFFFFFF


def encoded(samples, subtype="PCM_16"):
    """Samples from -1 to 1, shape (frames,) or (frames, channels), as the bytes of a data chunk."""
    _, width, kind, full = KINDS[subtype]
    if full is None:
        return np.asarray(samples).astype(kind).tobytes()
    numbers = np.clip(np.rint(np.asarray(samples, np.float64) * full), -full, full - 1).astype(np.int64)
    if subtype == "PCM_U8":
        numbers += full
    whole = numbers.astype(kind).reshape(-1, 1)
    return whole.view(np.uint8)[:, :width].tobytes()


def chunk(name, content, *, length=None, pad=True):
    """A chunk; `length` is what its header claims, if not the truth."""
    claimed = len(content) if length is None else length
    return struct.pack("<4sI", name, claimed) + content + b"\0" * (len(content) % 2 if pad else 0)


def fmt(channels=1, rate=48000, subtype="PCM_16", *, extensible=False):
    tag, width, *_ = KINDS[subtype]
    plain = struct.pack("<HIIHH", channels, rate, rate * channels * width, channels * width, 8 * width)
    if not extensible:
        return chunk(b"fmt ", struct.pack("<H", tag) + plain)
    more = struct.pack("<HHIH", 22, 8 * width, 0, tag) + GUID_END
    return chunk(b"fmt ", struct.pack("<H", 0xFFFE) + plain + more)


PLAIN = fmt()  # one channel of 16 bits at 48 kHz


def ds64(sound=0, frames=0, whole=0, *, table=()):
    rows = b"".join(struct.pack("<4sQ", name, length) for name, length in table)
    return chunk(b"ds64", struct.pack("<QQQI", whole, sound, frames, len(table)) + rows)


def bext(*, description=b"", originator=b"", date=b"", time=b"", reference=0, version=2, history=b""):
    """A bext chunk's content by the offsets of EBU Tech 3285: 0, 256, 288, 320, 330, 338, 346, 348, 412, 422, 602."""
    fields = bytearray(602)
    fields[0:256] = description.ljust(256, b"\0")
    fields[256:288] = originator.ljust(32, b"\0")
    fields[320:330] = date.ljust(10, b"\0")
    fields[330:338] = time.ljust(8, b"\0")
    fields[338:348] = struct.pack("<QH", reference, version)
    return bytes(fields) + history


def wave(sound, *, form=b"RIFF", fmt=PLAIN, before=b"", after=b"", length=None, pad=True):
    """A wave file around the bytes of its sound; RF64 and BW64 say its length in ds64."""
    body = b"WAVE"
    if form != b"RIFF":
        body += ds64(len(sound), whole=len(sound))
        length = LONG if length is None else length
    body += before + fmt + chunk(b"data", sound, length=length, pad=pad) + after
    return form + struct.pack("<I", len(body) if form == b"RIFF" else LONG) + body


def noise(*shape, peak=0.1, seed=0):
    """Samples from -1 to 1, the same at every call; a channel is a column."""
    return np.clip(np.random.default_rng(seed).normal(0, peak, shape), -1, 1)
