"""Shots as they were when their sheets were given out: twos go on changing on the frames on which they did."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from trackread.book.book import Book
from trackread.book.issues import Issue, issues
from trackread.core.cut import Shot
from trackread.core.plain_cut import shot_from_plain, shot_to_plain

OF_SHOT = "of_shot"  # beside what an issue rests on, the shot as it was


@dataclass(frozen=True, slots=True)
class IssuedShot:
    """A shot as it was when its sheet was given out, and the frame on which its twos changed, 0 or 1."""

    shot: Shot
    beat: int


def issued_shots(book: Book) -> dict[str, IssuedShot]:
    """The shots that are out, by name, as they were; those without mouths are left out."""
    return {issue.shot: found for issue in issues(book, current=True) if (found := issued_shot(issue))}


def issued_shot(issue: Issue) -> IssuedShot | None:
    """The shot of an issue; None if that is older than that shots were kept with it."""
    plain = cast(Mapping[str, Any] | None, issue.rests_on.get(OF_SHOT))
    return IssuedShot(shot_from_plain(plain["shot"]), plain["beat"]) if plain else None


def plain_issued(shot: Shot, beat: int) -> dict[str, object]:
    """A shot that is given out, as its issue has it."""
    return {OF_SHOT: {"shot": shot_to_plain(shot), "beat": beat}}
