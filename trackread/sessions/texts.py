"""Texts as recorders write them: ASCII by the standards, and anything else in practice."""

import unicodedata
from collections.abc import Sequence

LINES = "\t\r\n"


def decoded(where: str, raw: bytes, encodings: Sequence[str], remarks: list[str]) -> str:
    """The text of some bytes in the first encoding that fits; "" with a remark if none does.

    Windows-1252 fits nearly anything, so it is told where it did.
    """
    for encoding in encodings:
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if encoding == "cp1252":
            remarks.append(f"{where} is neither ASCII nor UTF-8: read as Windows-1252")
        return text
    remarks.append(f"{where} is no text: left out")
    return ""


def printable(where: str, text: str, remarks: list[str]) -> str:
    """A text without blanks around it; "" with a remark if it has characters that no text has."""
    if any(unicodedata.category(sign) in ("Cc", "Cs") for sign in text if sign not in LINES):
        remarks.append(f"{where} has control characters: left out")
        return ""
    return text.strip()
