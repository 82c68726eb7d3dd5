"""A line as written to the words that are spoken: `route 42, £3.50` to route, forty two, three pounds fifty.

A written word keeps its own spelling for the sheet; under it stand one or more spoken words, lower
case, of letters and apostrophes. Numbers follow British usage ("and" in hundreds, pounds and pence),
as num2words spells them.
"""

import re
import unicodedata
from dataclasses import dataclass

from num2words import num2words

from trackread.errors import LineError

LONGEST_WORD = 60  # letters; the longest word in a dictionary of English has 45
LONGEST_NUMBER = 15  # digits; longer ones are read digit by digit

SIGNS = {"&": "and", "%": "percent", "+": "plus", "=": "equals", "@": "at", "°": "degrees", "#": "number"}
CURRENCIES = {"£": ("pound", "penny", "pence"), "$": ("dollar", "cent", "cents"), "€": ("euro", "cent", "cents")}
TITLES = {"mr": "mister", "mrs": "missus", "dr": "doctor", "st": "saint", "vs": "versus"}

MONEY = re.compile(r"([£$€])(\d[\d,]*)(?:\.(\d\d))?")
ORDINAL = re.compile(r"(\d[\d,]*)(?:st|nd|rd|th)", re.IGNORECASE)
CLOCK = re.compile(r"(\d{1,2}):(\d\d)")
NUMBER = re.compile(r"(\d[\d,]*)(?:\.(\d+))?")
LETTERS = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*'?|'[^\W\d_]+(?:'[^\W\d_]+)*")
PIECE = re.compile("|".join(f"(?:{p.pattern})" for p in (MONEY, ORDINAL, CLOCK, NUMBER, LETTERS)) + r"|[&%+=@°#]")

# A hint in brackets or parentheses says how, not what: it is no word of the line.
HINT = re.compile(r"\[[^\]]*\]|\([^)]*\)")


@dataclass(frozen=True, slots=True)
class WrittenWord:
    """One word as the line writes it, punctuation and all, and the words that are spoken for it."""

    text: str
    spoken: tuple[str, ...]


def written_words(line: str) -> tuple[WrittenWord, ...]:
    """The words of a line that are spoken; signs without a sound join the word before them.

    Raises LineError if nothing is left to speak, or a word cannot be one.
    """
    plain = unicodedata.normalize("NFKC", line).translate(QUOTES)
    found: list[WrittenWord] = []
    for token in HINT.sub(" ", plain).split():
        spoken = spoken_forms(token)
        if spoken:
            found.append(WrittenWord(token, spoken))
        elif found and not token.isalnum():
            found[-1] = WrittenWord(f"{found[-1].text} {token}" if token in "-–—" else found[-1].text, found[-1].spoken)
    if not found:
        raise LineError(f"the line {line.strip()!r} has no words that could be spoken")
    return tuple(found)


QUOTES = str.maketrans({"’": "'", "‘": "'", "ʼ": "'", "`": "'", "…": " … ", "“": '"', "”": '"', "—": " — ", "–": "-"})


def spoken_forms(token: str) -> tuple[str, ...]:
    """What is said for one written token: nothing for pure punctuation or emoji.

    Raises LineError for letters that English spelling does not use, and for words of absurd length.
    """
    spoken: list[str] = []
    for piece in PIECE.finditer(token):
        spoken.extend(said(piece[0]))
    for word in spoken:
        if len(word) > LONGEST_WORD:
            raise LineError(f"{word[:20] + '…'!r} has {len(word)} letters: that is no word (the limit is {LONGEST_WORD})")
        if not re.fullmatch(r"[a-z']+", word):
            raise LineError(f"{word!r} is not written in English letters: write it as it sounds")
    return tuple(spoken)


def said(piece: str) -> list[str]:
    """The spoken words of one piece: a word, a number, a sum of money, a clock time or a sign."""
    if piece in SIGNS:
        return [SIGNS[piece]]
    if money := MONEY.fullmatch(piece):
        return money_said(money[1], money[2], money[3])
    if ordinal := ORDINAL.fullmatch(piece):
        return number_words(ordinal[1], to="ordinal")
    if clock := CLOCK.fullmatch(piece):
        minutes = ["o'clock"] if clock[2] == "00" else after_oh(clock[2])
        return number_words(clock[1]) + minutes
    if number := NUMBER.fullmatch(piece):
        decimals = ["point", *(word for digit in number[2] for word in number_words(digit))] if number[2] else []
        return number_words(number[1]) + decimals
    word = fold(piece).lower()
    return [TITLES.get(word, word)] if word.strip("'") else []


def fold(word: str) -> str:
    """Letters without their accents: `café` as `cafe`."""
    return "".join(c for c in unicodedata.normalize("NFKD", word) if not unicodedata.combining(c))


def number_words(digits: str, to: str = "cardinal") -> list[str]:
    bare = digits.replace(",", "")
    if len(bare) > LONGEST_NUMBER or (len(bare) > 1 and bare[0] == "0"):
        return [word for digit in bare for word in number_words(digit)]
    # 1984 and 1905 are said in two halves, as years and tram numbers are.
    if to == "cardinal" and len(bare) == 4 and "," not in digits and bare[1] != "0":
        return number_words(bare[:2]) + (["hundred"] if bare[2:] == "00" else after_oh(bare[2:]))
    return re.findall(r"[a-z]+", num2words(int(bare), lang="en_GB", to=to))


def after_oh(two_digits: str) -> list[str]:
    """The minutes of a clock time or the end of a year: `05` as oh five."""
    return ["oh"] * (two_digits[0] == "0") + number_words(two_digits.lstrip("0"))


def money_said(sign: str, whole: str, part: str | None) -> list[str]:
    """`£3.50` as three pounds fifty, `£1` as one pound, `$0.05` as five cents."""
    unit, small_one, small_many = CURRENCIES[sign]
    units, parts = int(whole.replace(",", "")), int(part or 0)
    said_whole = [*number_words(whole), unit if units == 1 else unit + "s"]
    if not parts:
        return said_whole
    if not units:
        return [*number_words(str(parts)), small_one if parts == 1 else small_many]
    return said_whole + number_words(str(parts))
