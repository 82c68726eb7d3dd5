"""The text of a cut list, every line ended by a line feed, and what is odd about how it is written."""

import codecs
import re
from pathlib import Path

from trackread.core.cut import Place, Remark
from trackread.errors import CutError

WIDE = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
# Letters of Latin-1 (ISO/IEC 8859-1) lie from A0 on: the rows below are controls there and letters elsewhere.
NOT_LATIN = re.compile(b"[\x80-\x9f]")
# Ends of lines to some programs and not to others: none here, so that lines count as an editor counts them.
ODD_ENDS = re.compile("[\v\f\x1c-\x1e\x85\u2028\u2029]")
END_OF_FILE = re.compile("\x1a\\s*$")  # as some systems close a text


def text_of(path: Path, *, latin: bool) -> tuple[str, list[Remark]]:
    """The text of a file, with a remark if it had to be read as Latin-1, which `latin` allows.

    Raises CutError for a file that cannot be read or is no text.
    """
    try:
        content = path.read_bytes()
    except OSError as error:
        raise CutError(f"{path}: cannot be read: {error.strerror}") from error
    return decoded(content, str(path), latin=latin)


def decoded(content: bytes, name: str, *, latin: bool) -> tuple[str, list[Remark]]:
    """The text of a file's bytes, as `text_of` gives it."""
    remarks: list[Remark] = []
    if content.startswith(WIDE):
        raise CutError(f"{name}:1: is UTF-16 text: save it as UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = line_of(error.object, error.start)
        if not latin or NOT_LATIN.search(content):
            raise CutError(f"{name}:{line}: is not UTF-8: save the file as UTF-8") from error
        text = content.removeprefix(codecs.BOM_UTF8).decode("latin-1")
        remarks.append(Remark(Place(name, line), f"not UTF-8, so read as Latin-1: {row_of(text, line)!r}"))
    if "\0" in text:
        raise CutError(f"{name}:{line_of(content, content.index(0))}: is no text: save the file as UTF-8 text")
    return ODD_ENDS.sub(" ", with_plain_ends(END_OF_FILE.sub("", text))), remarks


def with_plain_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def row_of(text: str, line: int) -> str:
    return with_plain_ends(text).split("\n")[line - 1].strip()


def line_of(content: bytes, start: int) -> int:
    """The line of a file in which a byte stands, counted from 1."""
    before = content[:start].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return before.count(b"\n") + 1
