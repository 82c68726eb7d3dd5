"""Two cuts compared: what became of each shot, and of the sounds within it.

A shot is itself under its code and part. Its own frames are counted by its picture, so that a shot whose head is cut
off has lost those frames, and no sound in it has moved. Frames are those of the shot before.
"""

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from fractions import Fraction

from trackread.core.cut import Cut, Shot, Source
from trackread.core.cut_change import Difference, DifferenceKind, ShotChange
from trackread.core.timebase import Frame, FrameRate
from trackread.cutting.heard import Window, sound_differences
from trackread.errors import CutError

Name = tuple[str, int]


def compare(before: Cut, after: Cut) -> tuple[ShotChange, ...]:
    """What became of every shot, in the order of the cut after; then the shots that are gone.

    Every shot of both cuts is in one change. Raises CutError for cuts that run at two rates.
    """
    if before.rate.per_second != after.rate.per_second:
        rates = f"{before.title!r} runs at {before.rate} and {after.title!r} at {after.rate}"
        raise CutError(f"{rates}: only cuts of one rate can be compared")
    former = {name_of(shot): shot for shot in before.shots}
    in_order = kept_in_order(list(former), [name_of(shot) for shot in after.shots])
    changes: list[ShotChange] = []
    for shot in after.shots:
        was = former.pop(name_of(shot), None)
        told = differences(before, was, after, shot, moved=name_of(shot) not in in_order) if was else ()
        changes.append(ShotChange(was, shot, tuple(told)))
    return (*changes, *(ShotChange(shot, None) for shot in former.values()))


def name_of(shot: Shot) -> Name:
    return shot.code, shot.part


def kept_in_order(before: Sequence[Name], after: Sequence[Name]) -> set[Name]:
    """Shots of both cuts that stand in the same order in both."""
    blocks = SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks()
    return {before[block.a + place] for block in blocks for place in range(block.size)}


def differences(before: Cut, was: Shot, after: Cut, shot: Shot, *, moved: bool) -> Iterator[Difference]:
    """How a shot that both cuts have differs."""
    lost = lost_at_head(was, shot, before.rate)
    head = Frame(0) if lost is None else lost
    if moved or was.first != shot.first:
        kind = DifferenceKind.MOVED if moved else DifferenceKind.SHIFTED
        yield Difference(kind, Fraction(shot.first - was.first), None)
    if lost is None:
        yield Difference(DifferenceKind.REPLACED, Fraction(0), None)
    if head:
        yield Difference(DifferenceKind.HEAD, Fraction(-head), Frame(0))
    if was.speed != shot.speed:
        yield Difference(DifferenceKind.RETIMED, Fraction(0), Frame(0))
    if was.fade_in != shot.fade_in:
        yield Difference(DifferenceKind.FADED, Fraction(shot.fade_in - was.fade_in), Frame(0))
    if tail := head + shot.seen - was.seen:
        yield Difference(DifferenceKind.TAIL, Fraction(tail), Frame(max(0, min(was.seen, head + shot.seen))))
    yield from sound_differences(Window(before, was, Frame(0)), Window(after, shot, head))


def lost_at_head(was: Shot, shot: Shot, rate: FrameRate) -> Frame | None:
    """How many frames of a shot's picture are cut off its head, below 0 if there are more of them now.

    None where that cannot be told: it has another source, or none of the frames that it had.
    """
    if was.source is None or shot.source is None:
        return Frame(0) if was.source is shot.source else None
    if names_of(was.source) != names_of(shot.source) or was.speed != shot.speed or was.speed <= 0:
        return Frame(0) if was.source == shot.source else None
    seconds = since_file_start(shot.source) - since_file_start(was.source)
    lost = seconds * rate.per_second / was.speed
    if lost.denominator != 1 or not -shot.seen < lost < was.seen:
        return None
    return Frame(lost.numerator)


def names_of(source: Source) -> tuple[str, str, str, bool]:
    return source.reel, source.clip, source.file, source.file_start is None


def since_file_start(source: Source) -> Fraction:
    return source.start - (source.file_start or 0)
