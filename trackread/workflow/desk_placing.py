"""The cut changed by hand at the desk: each change is made on a cut that was seen, and on no other.

What is asked is plain values: `do` says what, beside what `trackread place` and `trackread shot` are told of it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from trackread.book.book import Book
from trackread.book.cuts import CutNote
from trackread.core.cut import Cut, Placement
from trackread.cutting.by_hand import find_shot, trimmed, with_placement, with_shot, without_placement, without_shot
from trackread.errors import ClashError, CutError
from trackread.workflow.current_cut import all_cuts, current_cut, keep_cut
from trackread.workflow.placing import by_hand, clip_of, length_of, placement_of
from trackread.workflow.typed import typed

Change = Callable[[Cut], Cut]
Asked = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class ByHand:
    """A change that is asked for: what it is in words, and what it makes of a cut."""

    words: str
    change: Change


@dataclass(frozen=True, slots=True)
class CutMade:
    """The cut that came of a change: its number, and what there is to remark of the change."""

    number: int
    words: str
    remarks: tuple[str, ...]


def change_at_desk(book: Book, asked: ByHand, author: str, seen: int) -> CutMade:
    """Changes the cut by hand if it still is the one that was seen.

    Raises ClashError, having changed nothing, if it is another by now, and what the change raises.
    """
    before = current_cut(book)
    if before.number != seen:
        raise ClashError(
            f"the cut has changed since it was looked at: {made(all_cuts(book)[-1])}: do it again, on that"
        )
    # Remarks are of this change only.
    cut = asked.change(replace(before.cut, remarks=()))
    number = keep_cut(book, cut, asked.words, author, after=seen)
    return CutMade(number, asked.words, tuple(f"{one.place}: {one.text}" for one in cut.remarks))


def made(cut: CutNote) -> str:
    return f"cut {cut.number} ({cut.what}) by {cut.author} at {cut.added}"


def cuts_since(book: Book, seen: int) -> list[dict[str, object]]:
    """The cuts that came after one, as plain values."""
    later = (one for one in all_cuts(book) if one.number > seen)
    return [{"number": one.number, "words": one.what, "by": one.author, "time": one.added} for one in later]


def asked_by_hand(book: Book, asked: Asked, author: str) -> ByHand:
    """The change that is asked for. Raises CutError for one that is none, BookError for a line or take that is none."""
    match asked:
        case {"do": "place", "what": str(what), "shot": str(shot), "at": int(at)}:
            return placed(book, clip_of(book, what), (shot, at), author)
        case {"do": "take away", "what": str(what), "shot": str(shot), "at": int(at)}:
            return taken_away(book, clip_of(book, what), (shot, at))
        case {"do": "add", "shot": str(shot), "length": str(length)}:
            name, frames = typed(shot, "the shot"), length_of(length, book.production.rate)
            return ByHand(f"shot {name} added", lambda cut: with_shot(cut, name, frames, by_hand(author)))
        case {"do": "trim", "shot": str(shot), "head": int(head), "tail": int(tail)} if head or tail:
            words = f"{shot} trimmed by {head} at its head and {tail} at its end"
            return ByHand(words, lambda cut: trimmed(cut, shot, head, tail))
        case {"do": "remove", "shot": str(shot)}:
            return ByHand(f"{shot} taken out", lambda cut: without_shot(cut, shot))
        case _:
            raise CutError(
                "say what to do: place or take away (what, shot, at), add (shot, length), "
                f"trim (shot, head, tail: one of them not 0) or remove (shot); not {dict(asked)!r:.200}"
            )


def placed(book: Book, clip: str, where: tuple[str, int], author: str) -> ByHand:
    """A line or take placed, its first sample on the frame that the sheet numbers so."""
    name, at = where
    frame = at - book.production.first_frame

    def change(cut: Cut) -> Cut:
        shot = find_shot(cut, name)
        if not 0 <= frame < shot.length:
            first = book.production.first_frame
            raise CutError(f"{name} has no frame {at}: it has frames {first} to {first + shot.length - 1}")
        return with_placement(cut, name, frame, placement_of(book, clip, shot.length - frame, author))

    return ByHand(f"{clip} placed in {name} at {at}", change)


def taken_away(book: Book, clip: str, where: tuple[str, int]) -> ByHand:
    """What was placed by hand on a frame taken out again."""
    name, at = where

    def change(cut: Cut) -> Cut:
        first = find_shot(cut, name).first - book.production.first_frame

        def is_meant(one: Placement) -> bool:
            return one.source.clip == clip and one.at - first == at

        return without_placement(cut, name, is_meant)

    return ByHand(f"{clip} taken out of {name}", change)
