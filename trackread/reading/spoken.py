"""A line as written to the words that are spoken: `route 42, £3.50` to route, forty two, three pounds fifty.

A written word keeps its own spelling for the sheet; under it stand one or more spoken words, lower
case, of letters and apostrophes. Numbers follow British usage ("and" in hundreds, pounds and pence),
as num2words spells them.
"""

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

from num2words import num2words

from trackread.errors import LineError

LONGEST_WORD = 60  # letters; the longest word in a dictionary of English has 45
LONGEST_NUMBER = 15  # digits; longer ones are read digit by digit

SIGNS = {"&": "and", "%": "percent", "+": "plus", "=": "equals", "@": "at", "°": "degrees", "#": "number"}
CURRENCIES = {"£": ("pound", "penny", "pence"), "$": ("dollar", "cent", "cents"), "€": ("euro", "cent", "cents")}
TITLES = {"mr": "mister", "mrs": "missus", "dr": "doctor", "st": "saint", "vs": "versus"}
# Alone, and after a whole number.
FRACTIONS = {"½": ("half", "a half"), "¼": ("quarter", "a quarter"), "¾": ("three quarters", "three quarters")}

# A hint in brackets or parentheses says how, not what: it is no word of the line.
HINT = re.compile(r"\[[^\[\]]*\]|\([^()]*\)")
# A voice that breaks off: two words, though nothing is written between them.
BREAK = re.compile(r"(\w['’”\"]?(?:—|…|--|\.\.\.)[—….-]*)(?=['‘’“\"]?\w)")
DASHES = "-–—"
PLAIN = str.maketrans({"’": "'", "‘": "'", "ʼ": "'", "`": "'", "–": "-", "−": "-", "№": "#"})

WHOLE = r"(?:\d{1,3}(?:,\d{3})+(?!\d)|\d+)"
LETTER = r"[^\W\d_]"
# What a written token is made of; the first that fits is taken.
KINDS = {
    "money": rf"[£$€]{WHOLE}(?:\.\d+)?",
    "ordinal": rf"{WHOLE}(?:st|nd|rd|th)(?!{LETTER})",
    "clock": r"(?<!\d)(?:[01]?\d|2[0-3]):[0-5]\d(?!\d)",
    "decade": rf"{WHOLE}(?<=0)'?s(?!{LETTER})",
    "number": rf"{WHOLE}(?:\.\d+)?|\.\d+",
    "half_day": rf"(?<=\d)[ap]m(?!{LETTER})",
    "minus": r"(?<!\S)-(?=[£$€.]?\d)",
    "word": rf"{LETTER}+(?:'{LETTER}+)*'?|'{LETTER}+(?:'{LETTER}+)*",
    "sign": "[&%+=@°#]",
}
PIECE = re.compile("|".join(f"(?P<{kind}>{pattern})" for kind, pattern in KINDS.items()), re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class WrittenWord:
    """One word as the line writes it, punctuation and all, and the words that are spoken for it."""

    text: str
    spoken: tuple[str, ...]


def written_words(line: str) -> tuple[WrittenWord, ...]:
    """The words of a line that are spoken; a dash that stands alone joins the word before it, a sign is left out.

    Raises LineError if nothing is left to speak, or a word cannot be one.
    """
    found: list[WrittenWord] = []
    for token in BREAK.sub(r"\1 ", without_hints(visible(line))).split():
        if spoken := spoken_forms(token):
            found.append(WrittenWord(token, spoken))
        elif found and not token.strip(DASHES):
            found[-1] = WrittenWord(f"{found[-1].text} {token}", found[-1].spoken)
    if not found:
        raise LineError(
            f"the line {line.strip()!r} has no words that could be spoken: write what is said, outside brackets"
        )
    return tuple(found)


def hints_in(line: str) -> tuple[tuple[str, int], ...]:
    """The hints of a line, without their brackets, each with the number of written words before it."""
    marked = visible(line)
    hints: list[re.Match[str]] = []
    while found := list(HINT.finditer(marked)):  # those inside others first
        hints += found
        marked = HINT.sub(lambda hint: " " * len(hint[0]), marked)
    return tuple(
        (hint[0][1:-1].strip(), len(written_words(before)) if any(map(str.isalnum, before)) else 0)
        for hint in sorted(hints, key=re.Match.start)
        for before in [marked[: hint.start()]]
    )


def visible(line: str) -> str:
    """The line without characters that nobody sees (soft hyphens, marks of byte order), accents on their letters."""
    if any(unicodedata.category(c) == "Cs" for c in line):
        raise LineError(f"the line {line!r} is not UTF-8 text")
    spaced = line.replace("\u200b", " ")  # a space of no width, but a space
    seen = (c for c in spaced if c.isspace() or unicodedata.category(c) not in ("Cc", "Cf"))
    return unicodedata.normalize("NFC", "".join(seen))


def without_hints(line: str) -> str:
    """The line without its hints, and the hints in those."""
    while (less := HINT.sub(" ", line)) != line:
        line = less
    return line


def spoken_forms(token: str) -> tuple[str, ...]:
    """What is said for one written token: nothing for pure punctuation or emoji.

    Raises LineError for letters that English spelling does not use, and for words of absurd length.
    """
    plain = fold(unicodedata.normalize("NFKC", with_fractions(token).translate(PLAIN)))
    spoken = [word for piece in PIECE.finditer(plain) for word in SAID[piece.lastgroup or ""](piece[0].lower())]
    for word in spoken:
        if len(word) > LONGEST_WORD:
            told = f"{word[:20]}…"
            raise LineError(f"{told!r} has {len(word)} letters: that is no word (the limit is {LONGEST_WORD})")
        if not re.fullmatch(r"[a-z']+", word):
            raise LineError(f"{token!r} is not written in English letters: write it as it sounds")
    return tuple(spoken)


def with_fractions(token: str) -> str:
    """`3½` as 3 and a half, `½` as half."""
    signs = "".join(FRACTIONS)
    token = re.sub(rf"(?<=\d)[{signs}]", lambda sign: f" and {FRACTIONS[sign[0]][1]}", token)
    return re.sub(rf"[{signs}]", lambda sign: FRACTIONS[sign[0]][0], token)


def fold(word: str) -> str:
    """Letters without their accents: `café` as `cafe`."""
    return "".join(c for c in unicodedata.normalize("NFKD", word) if not unicodedata.combining(c))


def number_words(digits: str, to: str = "cardinal") -> list[str]:
    bare = digits.replace(",", "")
    if len(bare) > LONGEST_NUMBER or (len(bare) > 1 and bare[0] == "0"):
        return [word for digit in bare for word in number_words(digit)]
    # 1984, 1905 and 2024 are said in two halves, as years and tram numbers are; 2000 and 2005 are not.
    if to == "cardinal" and len(bare) == 4 and "," not in digits and bare[1:3] != "00":
        return number_words(bare[:2]) + (["hundred"] if bare[2:] == "00" else after_oh(bare[2:]))
    return re.findall(r"[a-z]+", num2words(int(bare), lang="en_GB", to=to))


def after_oh(two_digits: str) -> list[str]:
    """The minutes of a clock time or the end of a year: `05` as oh five."""
    return ["oh"] * (two_digits[0] == "0") + number_words(two_digits.lstrip("0"))


def clock_said(time: str) -> list[str]:
    """`10:05` as ten oh five, `10:00` as ten o'clock, `13:00` as thirteen hundred."""
    hour, minutes = time.split(":")
    if minutes == "00":
        return [*number_words(hour), "o'clock" if 1 <= int(hour) <= 12 else "hundred"]
    return number_words(hour) + after_oh(minutes)


def number_said(number: str) -> list[str]:
    """`3.14` as three point one four."""
    whole, point, decimals = number.partition(".")
    after = [word for digit in decimals for word in number_words(digit)]
    return (number_words(whole) if whole else []) + ["point"] * bool(point) + after


def decade_said(years: str) -> list[str]:
    """`1990s` as nineteen nineties."""
    *first, last = number_words(years.rstrip("s'"))
    return [*first, last[:-1] + "ies" if last.endswith("y") else last + "s"]


def money_said(money: str) -> list[str]:
    """`£3.50` as three pounds fifty, `£1` as one pound, `$0.05` as five cents, `£3.5` as three point five pounds."""
    unit, small_one, small_many = CURRENCIES[money[0]]
    whole, _, part = money[1:].partition(".")
    if len(part) not in (0, 2):
        return [*number_said(money[1:]), unit + "s"]
    units, parts = int(whole.replace(",", "")), int(part or 0)
    if parts and not units:
        return [*number_words(str(parts)), small_one if parts == 1 else small_many]
    return [*number_words(whole), unit if units == 1 else unit + "s", *(number_words(str(parts)) if parts else [])]


# How the pieces of each kind are said, in lower case.
SAID: dict[str, Callable[[str], list[str]]] = {
    "money": money_said,
    "ordinal": lambda piece: number_words(piece[:-2], to="ordinal"),
    "clock": clock_said,
    "decade": decade_said,
    "number": number_said,
    "half_day": list,
    "minus": lambda _: ["minus"],
    "word": lambda piece: [TITLES.get(piece, piece)],
    "sign": lambda piece: [SIGNS[piece]],
}
