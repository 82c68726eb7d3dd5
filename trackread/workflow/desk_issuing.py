"""Sheets issued at the desk: what is issued is what was seen.

The revision of some shots is the state of each, joined by points in the order in which they are named.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trackread.book.book import Book
from trackread.errors import BookError, ClashError
from trackread.workflow.counted import counted
from trackread.workflow.desk_cut import name_in, state_of
from trackread.workflow.issuing import Given, IssueWish, give_out
from trackread.workflow.kept_material import Kept

AT_ONCE = 20  # sheets that are issued in one go: some seconds, after which a page can tell how far it is


@dataclass(frozen=True, slots=True)
class ToIssue:
    """The shots whose sheets are to be issued, and the state of each that was seen."""

    shots: tuple[str, ...]
    states: tuple[str, ...]


def to_issue(seen: Kept, shots: Sequence[str], revision: str) -> ToIssue:
    """The shots by their names, with their states.

    Raises CutError for a shot that there is none of, BookError if there are none, too many, or not a state for each.
    """
    states = tuple(revision.split("."))
    if not 0 < len(shots) <= AT_ONCE:
        raise BookError(f"name 1 to {AT_ONCE} shots at once, not {len(shots)}")
    if len(states) != len(shots):
        raise BookError(f"{counted(len(shots), 'shot')} and {counted(len(states), 'state')}: name a state for each")
    return ToIssue(tuple(name_in(seen, shot) for shot in shots), states)


def others_now(seen: Kept, wanted: ToIssue) -> list[str]:
    """Those of the shots that are others than was seen, or are not in the cut any more."""
    pairs = zip(wanted.shots, wanted.states, strict=True)
    return [shot for shot, state in pairs if shot not in seen.shots or state_of(seen, shot) != state]


def issue_seen(book: Book, seen: Kept, wanted: ToIssue, wish: IssueWish, author: str) -> list[Given]:
    """Issues the sheets of the shots, all of them or none.

    Raises ClashError if one is another than was seen, or was issued by somebody else meanwhile, and BookError where a
    shot was never issued and no unit is said.
    """
    if others := others_now(seen, wanted):
        raise ClashError(f"changed since you looked: {', '.join(others)}. Nothing is issued: look again, then issue")
    homeless = [shot for shot in wanted.shots if not wish.unit and shot not in seen.out]
    if homeless:
        raise BookError(f"{', '.join(homeless)}: never issued before: say for which unit")
    briefs = [seen.brief(shot) for shot in wanted.shots]
    return list(give_out(book, seen.material, briefs, wish, author=author, workers=None))
