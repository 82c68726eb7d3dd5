"""What a person types on the command line, made fit for the book: texts, numbers of sessions, lines."""

import re

from trackread.errors import BookError

SESSION = re.compile("S?([0-9]{1,9})", re.IGNORECASE)
# Control characters, and those that turn the direction of writing (Unicode Standard Annex 9).
OBEYED = re.compile("[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
LINE = re.compile("L[0-9]{4,}", re.IGNORECASE)


def typed(text: str, what: str) -> str:
    """A text as one row of words. Raises BookError if it is empty, or is no UTF-8."""
    words = " ".join(text.split())
    if not words:
        raise BookError(f"{what} is empty: say it in words")
    return in_letters(words, what)


def in_letters(text: str, what: str) -> str:
    """The text itself. Raises BookError if it holds bytes that are no letters in UTF-8, or what a terminal obeys."""
    if found := OBEYED.search(text):
        raise BookError(f"{what} holds the control character U+{ord(found[0]):04X}: leave it out")
    try:
        text.encode()
    except UnicodeEncodeError as error:
        raise BookError(f"{what} is not UTF-8 text: {text!r}") from error
    return text


def session_number(text: str) -> int:
    """The number of a session that is written `S2`. Raises BookError if it is none."""
    found = SESSION.fullmatch(text.strip())
    if not found:
        raise BookError(f"{text!r} is not the name of a session: write it as S2")
    return int(found[1])


def line_name(text: str) -> str:
    """A line's id in capitals. Raises BookError if it cannot be one."""
    if not LINE.fullmatch(text.strip()):
        raise BookError(f"{text!r} is not the name of a line: write it as L0107")
    return text.strip().upper()
