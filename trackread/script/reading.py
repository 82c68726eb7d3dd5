"""A file to a script, whichever way it is written."""

import codecs
import re
from collections.abc import Callable
from pathlib import Path

from trackread.core.script import Script
from trackread.errors import ScriptError
from trackread.script.fountain import read_fountain
from trackread.script.plain import is_said, read_plain
from trackread.script.rows import Source
from trackread.script.table import read_table

READERS: dict[str, Callable[[Source], Script]] = {
    ".fountain": read_fountain,
    ".csv": read_table,
    ".tsv": read_table,
}
# May be Fountain or plain.
TEXTS = ("", ".txt", ".text", ".md")
WIDE = {codecs.BOM_UTF16_LE: "UTF-16", codecs.BOM_UTF16_BE: "UTF-16"}
# Ends of lines to some programs and not to others: none here, so that lines count as an editor counts them.
ODD_ENDS = re.compile("[\v\f\x1c-\x1e\x85\u2028\u2029]")


def read_script(path: Path) -> Script:
    """The script in a file: Fountain, a table, or `NAME: words` a line.

    Raises ScriptError for a file that cannot be read, is no UTF-8 text or has faulty rows.
    """
    if path.suffix.lower() not in (*READERS, *TEXTS):
        raise ScriptError(
            f"{path}: {path.suffix} is no script that can be read: export it as Fountain (.fountain), "
            f"as a table (.csv) or as plain text (.txt)"
        )
    source = Source(str(path), text_of(path), title=path.stem)
    reader = READERS.get(path.suffix.lower()) or reader_for(source.text)
    return reader(source)


def reader_for(text: str) -> Callable[[Source], Script]:
    """Plain where at least half of the lines are `NAME: words`, else Fountain."""
    written = [line for line in text.split("\n") if line.strip() and not line.lstrip().startswith("#")]
    return read_plain if written and 2 * sum(map(is_said, written)) >= len(written) else read_fountain


def text_of(path: Path) -> str:
    """The text of a file, every line ended by a line feed."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise ScriptError(f"{path}: cannot be read: {error.strerror}") from error
    if wide := WIDE.get(content[:2]):
        raise ScriptError(f"{path}:1: is {wide} text, from byte 0: save it as UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # Counted in what was decoded: a byte order mark is not.
        start = error.start + (len(codecs.BOM_UTF8) if content.startswith(codecs.BOM_UTF8) else 0)
        raise ScriptError(f"{place_of(path, content, start)} is not UTF-8: save the file as UTF-8") from error
    if "\0" in text:
        raise ScriptError(f"{place_of(path, content, content.index(0))} is no text: save the file as UTF-8 text")
    return ODD_ENDS.sub(" ", text.replace("\r\n", "\n").replace("\r", "\n"))


def place_of(path: Path, content: bytes, start: int) -> str:
    """Where a byte of a file stands."""
    before = content[:start].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return f"{path}:{before.count(10) + 1}: byte {start} (0x{content[start]:02X})"
