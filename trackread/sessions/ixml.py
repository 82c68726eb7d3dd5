"""The iXML chunk of a wave file: scene, take and what else a recorder writes as XML, where everything is optional.

By the iXML specification the root is BWFXML and there is no schema; elements are found wherever they stand.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Protocol

from wavinfo.wave_ixml_reader import WavIXMLFormat

from trackread.core.session import RecorderNotes
from trackread.core.timebase import DROP_RATES, parse_rate
from trackread.errors import RateError
from trackread.sessions.texts import decoded, printable

IXML_MOST = 1 << 20  # bytes: recorders write some 20 kB
# A document type may name entities that grow a thousandfold or lie in other files; iXML has none.
DOCTYPE = re.compile("<!(doctype|entity)", re.IGNORECASE)
DECLARATION = re.compile(r"\A\s*<\?xml.*?\?>", re.DOTALL)
UTF_16 = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16", b"<\0": "utf-16-le", b"\0<": "utf-16-be"}
CIRCLED = {"": None, "TRUE": True, "FALSE": False}
FLAGS = {"": None, "DF": True, "NDF": False}
NAMES = ("SCENE", "TAKE", "TAPE", "NOTE", "CIRCLED", "TIMECODE_RATE", "TIMECODE_FLAG")
INDEX = re.compile("[0-9]{1,4}")


class Element(Protocol):
    """What is used of an element of lxml."""

    text: str | None

    def find(self, path: str) -> "Element | None": ...
    def findall(self, path: str) -> Iterable["Element"]: ...


def with_ixml(notes: RecorderNotes, chunk: bytes, remarks: list[str]) -> RecorderNotes:
    """The notes with what an iXML chunk adds to them."""
    root = root_of(xml_in(chunk, remarks), remarks)
    if root is None:
        return notes
    text = {name: text_of(root.find(f".//{name}"), name, remarks) for name in NAMES}
    rate = rate_in(text["TIMECODE_RATE"], remarks)
    return replace(
        notes,
        scene=text["SCENE"],
        take=text["TAKE"],
        tape=text["TAPE"],
        note=text["NOTE"],
        circled=choice("CIRCLED", text["CIRCLED"], CIRCLED, remarks),
        rate=rate,
        drop=drop_in(text["TIMECODE_FLAG"], rate, remarks),
        tracks=tracks_in(root, remarks),
    )


def xml_in(chunk: bytes, remarks: list[str]) -> str:
    """The XML of a chunk as text, without its declaration; "" with a remark if it is none that may be read."""
    if len(chunk) > IXML_MOST:
        remarks.append(f"iXML is longer than {IXML_MOST} bytes: left out")
        return ""
    # What it declares is not asked: recorders declare UTF-8 and write Windows-1252.
    encodings = [UTF_16[chunk[:2]]] if chunk[:2] in UTF_16 else ["utf-8-sig", "cp1252"]
    text = decoded("iXML", chunk if len(encodings) > 1 else chunk[: len(chunk) // 2 * 2], encodings, remarks)
    if DOCTYPE.search(text):
        remarks.append("iXML has a document type, which it may not: left out")
        return ""
    return DECLARATION.sub("", text.strip("\0\ufeff \t\r\n"))


def root_of(xml: str, remarks: list[str]) -> Element | None:
    """The root element; None with a remark if there is none, None without where nothing is written."""
    if not xml:
        return None
    try:
        tree = WavIXMLFormat(xml.encode("utf-8")).parsed
        root: Element | None = tree.getroot()
    except SyntaxError:  # lxml's XMLSyntaxError is one
        root = None
    if root is None:
        remarks.append("iXML is no XML: left out")
    elif tree.parser.error_log.filter_from_errors():
        remarks.append("iXML is damaged: only what could be read of it is kept")
    return root


def text_of(element: Element | None, name: str, remarks: list[str]) -> str:
    return printable(f"iXML {name}", (element.text if element is not None else None) or "", remarks)


def choice(name: str, text: str, meanings: dict[str, bool | None], remarks: list[str]) -> bool | None:
    """What one of a few words means; None with a remark for any other."""
    if text.upper() not in meanings:
        known = " or ".join(word for word in meanings if word)
        remarks.append(f"iXML {name} is {text!r}, not {known}: left out")
    return meanings.get(text.upper())


def rate_in(text: str, remarks: list[str]) -> str:
    """A timecode rate as it is written; "" with a remark if there is no such rate."""
    if text:
        try:
            parse_rate(text)
        except RateError as error:
            remarks.append(f"iXML TIMECODE_RATE left out: {error}")
            return ""
    return text


def drop_in(text: str, rate: str, remarks: list[str]) -> bool | None:
    """Whether the count is drop-frame, as far as a rate has such a count."""
    drop = choice("TIMECODE_FLAG", text, FLAGS, remarks)
    if drop and rate and parse_rate(rate).per_second not in DROP_RATES:
        remarks.append(f"iXML TIMECODE_FLAG says drop-frame, which {rate} is not: left out")
        return None
    return drop


def tracks_in(root: Element, remarks: list[str]) -> tuple[str, ...]:
    """The names of the tracks, in the order of the file's channels where that is told, else as they are written."""
    tracks = list(root.findall(".//TRACK_LIST/TRACK"))
    names = [text_of(track.find("NAME"), "track NAME", remarks) for track in tracks]
    places = [text_of(track.find("INTERLEAVE_INDEX"), "INTERLEAVE_INDEX", remarks) for track in tracks]
    if all(map(INDEX.fullmatch, places)):
        names = [name for _, name in sorted(zip(map(int, places), names, strict=True), key=lambda pair: pair[0])]
    return tuple(names)
