"""How many frames of a shot are shot, as tablets on the floor tell it that may be without a network for hours.

The rule: a count takes the place of those that its page knew of when it was told, and of no others; of those that still
stand, the furthest is how many frames are shot. An undo is a count like any other, one lower. So what is told depends
on which counts there are, and neither on their order nor on how often or how late they come in; and a count that no one
has seen and taken back is never lost. What the office tells by hand takes the place of all that had come in by then.

Counts are frames of the issue that they were told from. Two issues are compared by the picture: frames that were cut
off the shot's head in between are taken off the count.
"""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from trackread.book.book import Book
from trackread.book.issues import Issue, issues, snapshot_of
from trackread.book.shooting import Counts, FloorCount, Speaker, counts_of, keep_counts
from trackread.book.shot_notes import ShotNote
from trackread.core.cut import Shot
from trackread.core.plain_cut import shot_from_plain
from trackread.core.timebase import FrameRate
from trackread.cutting.comparing import lost_at_head
from trackread.errors import BookError
from trackread.workflow.issued_sheet import issued_sheet
from trackread.workflow.issued_shots import issued_shot
from trackread.workflow.shot_told import NoteKind, timed_body

ID = re.compile("[A-Za-z0-9_-]{16,64}")
MOST_OVER = 100  # a page knows of no more counts that stand side by side than there are tablets
MOST_AT_ONCE = 1000
BY_HAND = "note-"  # before the number of a note, shorter than any id of a page


@dataclass(frozen=True, slots=True)
class Statement:
    """That `count` frames are shot, in place of what is said `over`; `shot` is what the frames are counted of."""

    id: str
    count: int
    over: frozenset[str]
    shot: Shot


@dataclass(frozen=True, slots=True)
class Shooting:
    """How many frames of an issue are shot, and the counts that stand, by their ids, on its frames too.

    A count is below 0 or beyond the issue where those frames are no longer in it; `done` is not.
    """

    done: int
    standing: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of a count: it is `kept`, now or before; or why not."""

    id: str
    kept: bool
    again: bool = False
    why: str = ""


def standing(said: Iterable[Statement]) -> list[Statement]:
    """Those whose place nobody has taken."""
    every = list(said)
    replaced = frozenset[str]().union(*(one.over for one in every))
    return [one for one in every if one.id not in replaced]


def count_on(one: Statement, shot: Shot, rate: FrameRate) -> int:
    """A count on the frames of the shot as it was at another time."""
    return one.count - (lost_at_head(one.shot, shot, rate) or 0)


def furthest(said: Iterable[Statement], shot: Shot, rate: FrameRate) -> Statement | None:
    """The count that holds, None if nothing is told."""
    return max(standing(said), key=lambda one: (count_on(one, shot, rate), one.id), default=None)


def statements(counts: Counts, shots: Mapping[int, Shot]) -> list[Statement]:
    """All that is told, `shots` being the shot as it was on each issue."""
    floor = [Statement(one.id, one.count, frozenset(one.over), shots[one.issue]) for one in counts.floor]
    if counts.by_hand is None:
        return floor
    frames, shot = told_in(counts.by_hand)
    return [Statement(f"{BY_HAND}{counts.by_hand.id}", frames, frozenset(), shot), *floor]


def told_in(note: ShotNote) -> tuple[int, Shot]:
    """The frames that a note tells to be shot, and the shot that they are counted of."""
    body = cast(Mapping[str, Any], note.body)
    return body["frames"], shot_from_plain(body["shot"])


def done_by_note(note: ShotNote | None, shot: Shot, rate: FrameRate) -> int:
    """How many frames of a shot, as it was at some time, are shot by the note that counts."""
    if note is None:
        return 0
    frames, was = told_in(note)
    return min(max(frames - (lost_at_head(was, shot, rate) or 0), 0), shot.seen)


def shooting_on(book: Book, issue: Issue) -> Shooting:
    """What is shot of an issue."""
    said = statements(counts_of(book, issue.shot, NoteKind.DONE), shots_of(book, issue.shot))
    shot, rate = shot_of(book, issue), book.production.rate
    stands = {one.id: count_on(one, shot, rate) for one in standing(said)}
    return Shooting(min(max([0, *stands.values()]), shot.seen), stands)


def tell_counts(book: Book, its: Sequence[Issue], events: object, speaker: Speaker) -> tuple[Answer, ...]:
    """Keeps what a page tells of a shot, given all issues of that; what cannot be is refused, each for itself.

    Who speaks for a unit tells of that unit's issues only. Raises BookError for events that are none.
    """
    told = [count_from_plain(one) for one in listed(events)]
    shot, rate = its[-1].shot, book.production.rate
    shots = {issue.number: shot_of(book, issue) for issue in its}
    units = {issue.number: issue.unit for issue in its if speaker.unit in ("", issue.unit)}
    wrong = {one.id: why for one in told if (why := problem_of(one, shots, units))}

    def note_of(counts: Counts) -> dict[str, object]:
        now = furthest(statements(counts, shots), shots[its[-1].number], rate)
        if now is None:
            raise BookError(f"the counts of {shot} take the place of one another all round: tell one anew")
        return timed_body(now.shot, frames=now.count)

    new = keep_counts(book, (shot, NoteKind.DONE), [one for one in told if one.id not in wrong], speaker, note_of)
    return tuple(answered(one.id, new, wrong) for one in told)


def listed(events: object) -> list[object]:
    """The events of a page. Raises BookError if they are no list, or too many."""
    if not isinstance(events, list) or len(events) > MOST_AT_ONCE:
        raise BookError(f"frames are told as a list of events, {MOST_AT_ONCE} at most")
    return events


def count_from_plain(event: object) -> FloorCount:
    """A count of its plain values. Raises BookError for what is none."""
    match event:
        case {"id": str(own), "issue": int(issue), "count": int(count), "over": list(over)} if all(
            isinstance(one, str) for one in over
        ):
            return FloorCount(own, issue, count, tuple(over))
        case _:
            raise BookError(f"a frame is told with id, issue, count and what it is over, not as {event!r:.200}")


def answered(its_id: str, new: Collection[str], wrong: Mapping[str, str]) -> Answer:
    if its_id in wrong:
        return Answer(its_id, kept=False, why=wrong[its_id])
    return Answer(its_id, kept=True, again=its_id not in new)


def problem_of(one: FloorCount, shots: Mapping[int, Shot], units: Mapping[int, str]) -> str:
    """Why a count cannot be kept, "" if it can."""
    if not ID.fullmatch(one.id) or one.id in one.over or len(one.over) > MOST_OVER:
        return "a count has an id of 16 to 64 letters and digits, and takes the place of others, at most 100"
    if one.issue not in units:
        there = f"issue {one.issue} is not yours" if one.issue in shots else f"there is no issue {one.issue}"
        return f"{there}: tell frames of a sheet that your unit has had"
    seen = shots[one.issue].seen
    if not 0 <= one.count <= seen:
        return f"issue {one.issue} has {seen} frames: so many can be shot, or fewer, not {one.count}"
    return ""


def shots_of(book: Book, name: str) -> dict[int, Shot]:
    """The shot as it was on each of its issues, by their numbers."""
    return {issue.number: shot_of(book, issue) for issue in issues(book, shot=name)}


def shot_of(book: Book, issue: Issue) -> Shot:
    """The shot as it was on an issue."""
    found = issued_shot(issue)
    return found.shot if found else issued_sheet(snapshot_of(book, issue)).shot
