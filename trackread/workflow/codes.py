"""The code of an issue: short enough to be typed when the square one on the sheet is torn."""

from trackread.errors import BookError

# Douglas Crockford's Base 32: no letter in it is taken for another or for a digit (crockford.com/base32, from memory).
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
TAKEN_FOR = str.maketrans("OIL", "011")
PREFIX = "TR"
LETTERS = 8
BITS = 5


def code_of(digest: bytes) -> str:
    """The code that the first 40 bits of a digest give: `TR-7K3Q-9XWD`."""
    number = int.from_bytes(digest[: LETTERS * BITS // 8])
    letters = "".join(ALPHABET[number >> BITS * place & (1 << BITS) - 1] for place in reversed(range(LETTERS)))
    return f"{PREFIX}-{letters[:4]}-{letters[4:]}"


def code_typed(text: str) -> str:
    """A code as a person types it. Raises BookError if it cannot be one."""
    letters = "".join(letter for letter in text.upper() if letter.isalnum()).removeprefix(PREFIX)
    letters = letters.translate(TAKEN_FOR)
    if len(letters) != LETTERS or any(letter not in ALPHABET for letter in letters):
        raise BookError(
            f"{text!r} is not the code of a sheet: write it as {code_of(bytes(5))}, as it stands in the head"
        )
    return f"{PREFIX}-{letters[:4]}-{letters[4:]}"
