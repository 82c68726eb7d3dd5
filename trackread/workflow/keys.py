"""Keys to the server: made, typed, revoked; and the cookies of browsers that have signed in with them.

A key is its number and 28 letters that are drawn by chance, 140 bits: `3-7K3Q-9XWD-…`. Its letters are those of the
codes of sheets, so that none is taken for another.
"""

import hashlib
import hmac
import re
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from trackread.book.book import Book
from trackread.book.keys import (
    Hashed,
    KeyNote,
    add_key,
    begin_visit,
    end_visit,
    forget_visits,
    hashed_key,
    keys,
    revoke_key,
    visit,
)
from trackread.errors import BookError
from trackread.workflow.codes import ALPHABET, TAKEN_FOR
from trackread.workflow.typed import typed

LETTERS = 28
GROUP = 4
LONGEST = 100  # letters that are looked at of what is typed as a key
TYPED = re.compile(f"([0-9]{{1,9}})([{ALPHABET}]{{{LETTERS}}})")
# scrypt (RFC 7914) with 16 MB: a key has more chances than could be tried, so its cost matters little.
COST = {"n": 2**14, "r": 8, "p": 1, "dklen": 32}
NOBODY = Hashed(bytes(16), bytes(32))  # compared with where there is no such key, so that this takes as long
DAYS = 14  # that a browser stays signed in
REMEMBERED = 30  # days that the book remembers that it had


class Role(StrEnum):
    """An editor may do all; a unit reads its own shots and says what is shot; the office reads."""

    EDITOR = "editor"
    UNIT = "unit"
    OFFICE = "office"


@dataclass(frozen=True, slots=True)
class NewKey:
    """A key as it is shown, once, to whom it is for."""

    text: str
    note: KeyNote


@dataclass(frozen=True, slots=True)
class SignedIn:
    """What the cookie of a browser holds, and whose key it has signed in with."""

    token: str
    note: KeyNote


def make_key(book: Book, role: str, name: str, unit: str, author: str) -> NewKey:
    """A new key. Raises BookError for a role that is none, or a unit that is missing or said of who is of none."""
    if role not in set(Role):
        raise BookError(f"{role!r} is no role: it is {', '.join(Role)}")
    if role == Role.UNIT and not unit.strip():
        raise BookError("the key of a unit needs its name: say it with --unit")
    if role != Role.UNIT and unit:
        raise BookError(f"the key of {role} is of no unit: leave --unit out")
    letters = "".join(secrets.choice(ALPHABET) for _ in range(LETTERS))
    salt = secrets.token_bytes(16)
    unit = typed(unit, "the unit") if unit else ""
    hashed = Hashed(salt, scrypt(letters, salt))
    note = add_key(book, hashed, role=role, name=typed(name, "the name"), unit=unit, author=author)
    groups = (letters[first : first + GROUP] for first in range(0, LETTERS, GROUP))
    return NewKey("-".join((str(note.number), *groups)), note)


def scrypt(letters: str, salt: bytes) -> bytes:
    return hashlib.scrypt(letters.encode(), salt=salt, **COST)


def all_keys(book: Book, *, revoked: bool) -> tuple[KeyNote, ...]:
    """The keys that open, with those that have been `revoked` if they are wanted."""
    return tuple(note for note in keys(book) if revoked or not note.revoked)


def revoke(book: Book, number: int) -> KeyNote:
    """Ends a key, and signs out who came in with it. Raises BookError if there is none such."""
    return revoke_key(book, number)


def number_of(book: Book, text: str) -> int | None:
    """The number of the key that is typed, None if it opens nothing; takes as long whether there is one or not."""
    letters = "".join(letter for letter in text[:LONGEST].upper() if letter.isalnum()).translate(TAKEN_FOR)
    found = TYPED.fullmatch(letters)
    number, secret = (int(found[1]), found[2]) if found else (0, "")
    hashed = hashed_key(book, number)
    same = hmac.compare_digest(scrypt(secret, (hashed or NOBODY).salt), (hashed or NOBODY).digest)
    return number if same and hashed else None


def sign_in(book: Book, number: int) -> SignedIn | None:
    """Signs a browser in with a key that it has shown; None if that has been revoked meanwhile."""
    token = secrets.token_urlsafe(32)
    note = begin_visit(book, digest_of(token), number)
    return SignedIn(token, note) if note else None


def signed_in(book: Book, token: str) -> KeyNote | None:
    """Whose key a browser with this cookie has signed in with; None if it has not, or no longer."""
    return visit(book, digest_of(token), days_ago(DAYS))


def days_ago(days: int) -> str:
    """The time so many days ago, as the book writes it."""
    return (datetime.now(UTC) - timedelta(days=days)).strftime("%Y-%m-%dT%H:%M:%SZ")


def forget_old_visits(book: Book) -> int:
    """Forgets which browsers signed in long ago, which let nobody in any more, and says how many those were."""
    return forget_visits(book, days_ago(REMEMBERED))


def sign_out(book: Book, token: str) -> None:
    """Signs a browser out."""
    end_visit(book, digest_of(token))


def digest_of(token: str) -> str:
    """What a cookie is known again by; it is drawn by chance from 256 bits, so one round of SHA-256 is enough."""
    return hashlib.sha256(token.encode()).hexdigest()


def editor_at_hand(book: Book, name: str) -> KeyNote:
    """The key of an editor of this name, made if there is none; nobody is told it."""
    has = (note for note in all_keys(book, revoked=False) if (note.role, note.name) == (Role.EDITOR, name))
    return next(has, None) or make_key(book, Role.EDITOR, name, "", name).note
