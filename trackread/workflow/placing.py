"""Shots and placements made by hand, where there is no list of the editor's."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from trackread.book.book import Book
from trackread.book.drafts import line_texts
from trackread.book.sessions import session
from trackread.book.takes import take_named
from trackread.core.cut import Cut, Place, Placement, Remark, Source
from trackread.core.footage import Gauge, frame_of_footage
from trackread.core.session import StretchKind
from trackread.core.timebase import Frame, FrameRate, frames_covering
from trackread.core.timecode import frame_of
from trackread.cutting.by_hand import find_shot, trimmed, with_placement, with_shot, without_placement, without_shot
from trackread.errors import CutError
from trackread.workflow.current_cut import change_cut, cut_with_shots
from trackread.workflow.typed import LINE, typed

TRACK = ("voice",)
SECONDS = re.compile(r"([0-9]{1,6}(?:[.][0-9]{1,9})?) ?s")
FRAMES = re.compile("-?[0-9]{1,7}")


@dataclass(frozen=True, slots=True)
class Changed:
    """A cut that was changed by hand: its number, the shot in question, and what there is to remark."""

    number: int
    shot: str
    length: int
    remarks: tuple[Remark, ...]


def by_hand(author: str) -> Place:
    return Place("", item=f"by hand, by {author}")


def add_shot(book: Book, code: str, length: str, *, author: str) -> Changed:
    """Adds a shot behind all others. Raises CutError for a code that is taken or a length that is none."""
    name, frames = typed(code, "the shot"), length_of(length, book.production.rate)
    return changed(
        book, name, f"shot {name} added", lambda cut: with_shot(cut, name, frames, by_hand(author)), author=author
    )


def trim_shot(book: Book, code: str, *, head: int, tail: int, author: str) -> Changed:
    """Cuts frames off the head and the end of a shot made by hand; below 0 it gains some."""
    if not head and not tail:
        raise CutError("say how many frames are cut off with --head or --tail; fewer than none are added")
    name = find_shot(cut_with_shots(book).cut, code).name
    what = f"{name} trimmed by {head} at its head and {tail} at its end"
    return changed(book, name, what, lambda cut: trimmed(cut, name, head, tail), author=author)


def remove_shot(book: Book, code: str, *, author: str) -> Changed:
    """Takes a shot made by hand out of the cut, with what is placed in it by hand."""
    name = find_shot(cut_with_shots(book).cut, code).name
    return changed(book, "", f"{name} taken out", lambda cut: without_shot(cut, name), author=author)


def place(book: Book, what: str, code: str, at: int, *, author: str) -> Changed:
    """Places a line or a take in a shot, its first sample on the frame that the sheet numbers `at`.

    A line is heard by whichever of its takes is chosen at the time. Raises BookError for a line or take that there is
    none of, CutError for a frame that the shot does not have.
    """
    name = find_shot(cut_with_shots(book).cut, code).name
    frame = at - book.production.first_frame

    def change(cut: Cut) -> Cut:
        shot = find_shot(cut, name)
        if not 0 <= frame < shot.length:
            first = book.production.first_frame
            raise CutError(f"{name} has no frame {at}: it has frames {first} to {first + shot.length - 1}")
        return with_placement(cut, name, frame, placement_of(book, what, shot.length - frame, author))

    return changed(book, name, f"{what.strip().upper()} placed in {name} at {at}", change, author=author)


def take_away(book: Book, what: str, code: str, at: int | None, *, author: str) -> Changed:
    """Takes what was placed by hand in a shot out again; `at` says which, if it is there more than once."""
    name, clip = find_shot(cut_with_shots(book).cut, code).name, clip_of(book, what)
    first = book.production.first_frame

    def change(cut: Cut) -> Cut:
        shot = find_shot(cut, name)

        def is_meant(one: Placement) -> bool:
            return one.source.clip == clip and (at is None or one.at - shot.first + first == at)

        return without_placement(cut, name, is_meant)

    return changed(book, name, f"{clip} taken out of {name}", change, author=author)


def changed(book: Book, name: str, what: str, change: Callable[[Cut], Cut], *, author: str) -> Changed:
    """The cut changed, with the remarks of this change only."""
    found = change_cut(book, what, author, lambda cut: change(replace(cut, remarks=())))
    length = find_shot(found.cut, name).length if name else 0
    return Changed(found.number, name, length, found.cut.remarks)


def clip_of(book: Book, what: str) -> str:
    """The name under which a line or take is placed. Raises BookError if there is none such."""
    if LINE.fullmatch(what.strip()):
        line = what.strip().upper()
        line_texts(book, line)
        return line
    return take_named(book, what).name


def placement_of(book: Book, what: str, room: int, author: str) -> Placement:
    """The placement of a line, for as long as there is room, or of a take from its beginning to its end."""
    clip = clip_of(book, what)
    source = Source(start=Fraction(0), clip=clip)
    one = Placement(source, Frame(0), Frame(room), TRACK, by_hand(author))
    if LINE.fullmatch(clip):
        return one
    take = take_named(book, clip)
    if take.kind is not StretchKind.TAKE:
        raise CutError(f"{take.name} is {take.kind.value}, no take: assign it to a line first")
    sound, stretch = session(book, take.session).sound, take.stretch
    length = frames_covering(stretch.stop - stretch.start, sound.sample_rate, book.production.rate)
    return replace(one, length=length, sound=sound, start=Fraction(stretch.start))


def length_of(text: str, rate: FrameRate) -> int:
    """A length as a person writes it: `84`, `3.5s`, `00:00:03:12`, `5+04` (feet of 35 mm and frames).

    Seconds are rounded up to whole frames. Raises CutError, TimecodeError or FootageError if it is none.
    """
    wanted = text.strip()
    if FRAMES.fullmatch(wanted):
        return int(wanted)
    if found := SECONDS.fullmatch(wanted):
        seconds = Fraction(found[1])
        return frames_covering(seconds.numerator, seconds.denominator, rate)
    if "+" in wanted:
        return frame_of_footage(wanted, Gauge.FOUR_PERFORATION_35)
    if ":" in wanted or ";" in wanted:
        return frame_of(wanted, rate)
    raise CutError(
        f"{text!r} is no length: write frames (84), seconds (3.5s), timecode (00:00:03:12) or footage (5+04)"
    )
