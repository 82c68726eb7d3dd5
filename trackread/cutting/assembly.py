"""Lists to one cut: all of them counted from its first picture, their events made shots and placements."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePath

from trackread.core.cut import Cut, Remark
from trackread.core.timebase import Frame
from trackread.cutting.events import Event, Listed, Terms, check, in_order
from trackread.cutting.pictures import pictures_of
from trackread.cutting.tracks import sounds_of

EMPTY = "holds no event of picture or sound: is it a cut list?"
NO_START = (
    "has timecode and no picture, while the pictures of the other lists are counted from the first: "
    "say the timecode at which the cut starts"
)
COUNTS_OTHERWISE = "counts {rate}, and {file} counts {other}: export both with one count"


def cut_of(lists: Sequence[Listed], terms: Terms) -> Cut:
    """The cut that the lists are of.

    Raises CutError with every problem of every list.
    """
    problems = [problem for one in lists for problem in (*one.problems, *whole_problems(one, lists))]
    start = start_of(lists, terms, problems)
    events = [shifted(event, start if one.clocked else 0) for one in lists for event in one.events]
    rate = lists[0].rate
    pictures = pictures_of([event for event in events if event.picture], terms, rate)
    sounds = sounds_of([event for event in events if event.tracks], pictures.shots)
    files = [one.file for one in lists]
    check([*problems, *pictures.problems, *sounds.problems], files)
    remarks = [*(one for each in lists for one in each.remarks), *pictures.remarks, *sounds.remarks]
    return Cut(
        title=next((one.title for one in lists if one.title), PurePath(lists[0].file).stem),
        rate=rate,
        start=Frame(start),
        shots=pictures.shots,
        placements=tuple(sounds.placements),
        remarks=tuple(in_order(remarks, files)),
    )


def whole_problems(one: Listed, lists: Sequence[Listed]) -> list[Remark]:
    """What is wrong with a list as a whole."""
    first = lists[0]
    if not one.events and not one.problems:
        return [Remark(one.at(1), EMPTY)]
    if one.rate != first.rate:
        return [Remark(one.at(1), f"counts {one.rate}, and {first.file} counts {first.rate}: export both with one")]
    return []


def start_of(lists: Sequence[Listed], terms: Terms, problems: list[Remark]) -> int:
    """The frame of timecode with which the cut starts: that of its first picture, unless it is said.

    Without any picture it is that of the first sound. Adds a problem where the lists have no count in common.
    """
    if terms.start is not None:
        return terms.start
    clocked = [event for one in lists if one.clocked for event in one.events]
    pictures = [event.start for event in clocked if event.picture]
    if pictures:
        return min(pictures)
    if any(event.picture or event.shot for one in lists if not one.clocked for event in one.events):
        problems += [Remark(one.at(1), NO_START) for one in lists if one.clocked and one.events]
    return min((event.start for event in clocked), default=0)


def shifted(event: Event, start: int) -> Event:
    """The event counted from the cut's first frame; one that counts from a shot does so already."""
    if event.shot and not event.picture:
        return event
    return replace(event, start=event.start - start, stop=event.stop - start)
