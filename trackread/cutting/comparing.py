"""Two cuts compared: what became of each shot, and of the sounds within it.

A shot is itself under its code and part. Its own frames are counted by its picture, so that a shot whose head is cut
off has lost those frames, and no sound in it has moved. Frames are those of the shot before.
"""

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from fractions import Fraction

from trackread.core.cut import Cut, Shot, Source, pieces_by_shot
from trackread.core.cut_change import Difference, DifferenceKind, ShotChange
from trackread.core.timebase import Frame, FrameRate
from trackread.cutting.heard import Window, names_of, sound_differences
from trackread.errors import CutError


def compare(before: Cut, after: Cut) -> tuple[ShotChange, ...]:
    """What became of every shot, in the order of the cut after; then the shots that are gone.

    Every shot of both cuts is in one change. Raises CutError for cuts that run at two rates.
    """
    check_rates(before, after)
    former = {shot.name: shot for shot in before.shots}
    in_order = kept_in_order(list(former), [shot.name for shot in after.shots])
    heard_before, heard_after = pieces_by_shot(before), pieces_by_shot(after)
    changes: list[ShotChange] = []
    for shot in after.shots:
        was = former.pop(shot.name, None)
        if was is None:
            changes.append(ShotChange(None, shot))
            continue
        lost = lost_at_head(was, shot, before.rate)
        told = picture_differences(was, shot, lost, moved=shot.name not in in_order)
        window = Window(shot, lost or Frame(0), heard_after[shot.name], after.rate)
        sounds = sound_differences(Window(was, Frame(0), heard_before[was.name], before.rate), window)
        changes.append(ShotChange(was, shot, (*told, *sounds)))
    return (*changes, *(ShotChange(shot, None) for shot in former.values()))


def check_rates(before: Cut, after: Cut) -> None:
    """Raises CutError for cuts that run at two rates."""
    if before.rate.per_second != after.rate.per_second:
        rates = f"{before.title!r} runs at {before.rate} and {after.title!r} at {after.rate}"
        raise CutError(f"{rates}: only cuts of one rate can be compared")


def kept_in_order(before: Sequence[str], after: Sequence[str]) -> set[str]:
    """Shots of both cuts that stand in the same order in both."""
    blocks = SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks()
    return {before[block.a + place] for block in blocks for place in range(block.size)}


def picture_differences(was: Shot, shot: Shot, lost: Frame | None, *, moved: bool) -> Iterator[Difference]:
    """How a shot that both cuts have differs, `lost` frames being cut off its head."""
    head = lost or Frame(0)
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


def lost_at_head(was: Shot, shot: Shot, rate: FrameRate) -> Frame | None:
    """How many frames of a shot's picture are cut off its head, below 0 if there are more of them now.

    None where that cannot be told: it has another source, or none of the frames that it had, or was made by hand and is
    a list's now, whose picture need not begin with the same frame.
    """
    if was.place.by_hand != shot.place.by_hand:
        return None
    if was.source is None or shot.source is None:
        return Frame(0) if was.source is shot.source else None
    if names_of(was.source) != names_of(shot.source) or was.speed != shot.speed or was.speed <= 0:
        return Frame(0) if was.source == shot.source else None
    seconds = since_file_start(shot.source) - since_file_start(was.source)
    lost = seconds * rate.per_second / was.speed
    if lost.denominator != 1 or not -shot.seen < lost < was.seen:
        return None
    return Frame(lost.numerator)


def since_file_start(source: Source) -> Fraction:
    return source.start - (source.file_start or 0)
