"""What a recorder wrote into a wave file: the bext chunk of Broadcast Wave, and iXML.

The layout of bext is that of EBU Tech 3285, version 2: texts of fixed lengths and a TimeReference of 64 bits, the
samples from midnight to the first one, at the file's own rate. iXML alone has a timecode rate. Nothing here fails on
what is damaged: what cannot be used is dropped, and a remark says which and why.
"""

import re
import struct
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

from wavinfo.wave_bext_reader import WavBextReader

from trackread.core.chunks import chunks_in, content
from trackread.core.session import RecorderNotes
from trackread.core.sound import MIDNIGHT
from trackread.core.timebase import Sample
from trackread.errors import SoundError
from trackread.sessions.ixml import IXML_MOST, with_ixml
from trackread.sessions.texts import decoded, printable

BEXT = 602  # bytes before the coding history
TIME_REFERENCE_STOP = 346  # in those bytes
ENCODINGS = ("utf-8", "cp1252")
DATE = re.compile(r"([0-9]{4})[^0-9]([0-9]{2})[^0-9]([0-9]{2})")
TIME = re.compile(r"([0-9]{2})[^0-9]([0-9]{2})[^0-9]([0-9]{2})")


@dataclass(frozen=True, slots=True)
class Noted:
    """The notes, the samples from midnight to the first one, and what was dropped or is not as it should be."""

    notes: RecorderNotes
    start: Sample
    remarks: tuple[str, ...]


def recorder_notes(path: Path) -> Noted:
    """What the recorder wrote into the file at `path`; nothing where that is no wave file, or has neither chunk.

    Raises SoundError only if the file cannot be opened.
    """
    try:
        with path.open("rb") as file:
            chunks = {chunk.name: chunk for chunk in reversed(chunks_in(file))}
            most = {"fmt ": 8, "bext": BEXT, "iXML": IXML_MOST + 1}
            found = {name: content(file, chunks[name], most[name]) if name in chunks else b"" for name in most}
    except OSError as error:
        raise SoundError(f"{path}: cannot be opened: {error.strerror}") from error
    remarks: list[str] = []
    bext = bext_of(found["bext"], remarks)
    notes = with_ixml(with_bext(bext, remarks), found["iXML"], remarks)
    # All of a TimeReference or none: without its high bytes it is another time.
    reference = bext.time_reference if len(found["bext"]) >= TIME_REFERENCE_STOP else 0
    return Noted(notes, start_at(reference, found["fmt "], remarks), tuple(remarks))


def bext_of(chunk: bytes, remarks: list[str]) -> WavBextReader:
    """The fields of a bext chunk; those that it is too short for are empty."""
    if 0 < len(chunk) < BEXT:
        remarks.append(f"bext has {len(chunk)} of the {BEXT} bytes that it should: what lay in the others is missing")
    # Latin-1 gives each byte a letter and never fails: `decoded` makes text of them.
    return WavBextReader(chunk.ljust(BEXT, b"\0"), "latin_1")


def with_bext(bext: WavBextReader, remarks: list[str]) -> RecorderNotes:
    def text(name: str, raw: str) -> str:
        where = f"bext {name}"
        return printable(where, decoded(where, raw.encode("latin_1"), ENCODINGS, remarks), remarks)

    day, clock = text("OriginationDate", bext.originator_date), text("OriginationTime", bext.originator_time)
    return RecorderNotes(
        description=text("Description", bext.description),
        originator=text("Originator", bext.originator),
        date=written_as_iso(day, DATE, lambda parts: date.fromisoformat("-".join(parts)), remarks),
        time=written_as_iso(clock, TIME, lambda parts: time.fromisoformat(":".join(parts)), remarks),
    )


def written_as_iso(
    text: str, shape: re.Pattern[str], made: Callable[[tuple[str, ...]], date | time], remarks: list[str]
) -> str:
    """A date or a time of day with the separators of ISO 8601, whatever the recorder put between the numbers."""
    if not text:
        return ""
    found = shape.fullmatch(text)
    try:
        if found:
            return made(found.groups()).isoformat()
    except ValueError:  # no such day, or no such time
        pass
    remarks.append(f"bext {'date' if shape is DATE else 'time'} {text!r} does not exist: left out")
    return ""


def start_at(reference: int, fmt: bytes, remarks: list[str]) -> Sample:
    """A TimeReference as the samples from midnight, as long as a clock can have stood there.

    A day of labels at 23.976 lasts 86486.4 s; timecode begins again where it ends, as `label_of_sample` does.
    """
    rate = struct.unpack_from("<I", fmt, 4)[0] if len(fmt) == 8 else 0
    if reference > 2 * 86400 * rate:
        remarks.append(f"bext TimeReference {reference} is no time of day at {rate} samples a second: left out")
        return MIDNIGHT
    if 10 * reference >= 864864 * rate > 0:
        remarks.append(f"bext TimeReference {reference} is more than a day: timecode begins again at 00:00:00:00")
    return Sample(reference)
