"""Shots and placements that a person makes, changes and takes out without a cut list.

What is made by hand has a place without a file. A shot made by hand stands behind all that the lists have, and its
picture counts from 0, so that a trim of its head can be told. A shot of a list is its list's: what a person placed in
it can be changed here, and nothing else.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from difflib import get_close_matches
from fractions import Fraction

from trackread.core.cut import Cut, Place, Placement, Remark, Shot, Source
from trackread.core.timebase import Frame
from trackread.cutting.fitting import fitted, in_order, is_placed_in
from trackread.cutting.heard import are_of_one_recording
from trackread.cutting.spelling import counted
from trackread.cutting.words import sound_name
from trackread.errors import CutError


def find_shot(cut: Cut, text: str) -> Shot:
    """The shot that a person names: `SH010`, or `SH010/2` for its part 2, whatever its capitals.

    Raises CutError if there is none, or more than one.
    """
    typed = text.strip()
    found = [shot for shot in cut.shots if typed in spellings(shot)]
    found = found or [shot for shot in cut.shots if typed.casefold() in map(str.casefold, spellings(shot))]
    if not found:
        raise CutError(f"the shot {text!r} is not in the cut: {instead_of(typed, cut)}")
    if len(found) > 1:
        raise CutError(f"{text!r} may be {' or '.join(shot.name for shot in found)}: write it with its capitals")
    return found[0]


def spellings(shot: Shot) -> tuple[str, str]:
    return shot.name, f"{shot.code}/{shot.part}"


def instead_of(typed: str, cut: Cut) -> str:
    """What there is instead of a shot that is not."""
    short = (shot.code if shot.part == 1 else f"{shot.code}/{shot.part}" for shot in cut.shots)
    names = {name.casefold(): name for name in short}
    if close := get_close_matches(typed.casefold(), names):
        return f"is {' or '.join(names[one] for one in close)} meant?"
    count = len(cut.shots)
    return f"it has {count or 'no'} shot{'s' * (count != 1)}, and none of a name like it"


def made_by_hand(cut: Cut, name: str) -> Shot:
    """The shot of a name. Raises CutError if it is a list's."""
    shot = find_shot(cut, name)
    if not shot.place.by_hand:
        raise CutError(f"{shot.name} is the list's, at {shot.place}: only shots made by hand can be changed by hand")
    return shot


def with_shot(cut: Cut, code: str, length: int, place: Place) -> Cut:
    """The cut with one more shot, behind all that is seen or heard.

    Raises CutError for a code that the cut has already, and for a shot without a code or a frame.
    """
    if not place.by_hand:
        raise ValueError(f"{code} is made by hand, so it has no file, {place.file}")
    code = code.strip()
    if not code or length <= 0:
        raise CutError(f"a shot has a code and one frame at least, not {code!r} and {counted(length)}")
    for shot in cut.shots:
        if code.casefold() in map(str.casefold, (shot.code, *spellings(shot))):
            raise CutError(f"{shot.name} is in the cut already ({shot.place}): give the new shot another code")
    source = Source(start=Fraction(0), clip=code)
    return replace(cut, shots=(*cut.shots, Shot(code, behind_all(cut), Frame(length), place, source=source)))


def behind_all(cut: Cut) -> Frame:
    """The frame from which nothing is seen or heard: what outlasts the picture of the lists plays in no shot."""
    seen = (shot.first + shot.seen for shot in cut.shots)
    return Frame(max([0, *seen, *(one.heard_stop for one in cut.placements)]))


def trimmed(cut: Cut, name: str, head: int, tail: int) -> Cut:
    """The cut with so many frames off the head and the end of a shot made by hand; below 0, so many more.

    What is placed in it by hand stays with its picture; a remark tells what of it is cut off.
    Raises CutError for a shot of a list, and where nothing would be left.
    """
    shot = made_by_hand(cut, name)
    length = shot.length - head - tail
    if length <= 0:
        told = f"with {head} off its head and {tail} off its end nothing would be left"
        raise CutError(f"{shot.name} has {counted(shot.length)}: {told}")
    source = shot.source
    if source:
        source = replace(source, start=source.start + shot.speed * head / cut.rate.per_second)
    new = replace(shot, length=Frame(length), source=source, fade_in=Frame(min(shot.fade_in, length)))
    remarks = list(cut.remarks)
    inside = (replace(one, at=Frame(one.at - head)) for one in cut.placements if is_placed_in(one, shot))
    kept = [part for one in inside if (part := fitted(one, new, cut.rate, remarks))]
    return with_instead(replace(cut, remarks=tuple(remarks)), shot, [new], kept)


def without_shot(cut: Cut, name: str) -> Cut:
    """The cut without a shot made by hand and what is placed in it by hand. Raises CutError for a shot of a list."""
    shot = made_by_hand(cut, name)
    told = f"was placed by hand in {shot.name}, which is taken out: left out"
    remarks = [Remark(one.place, f"{sound_name(one)} {told}") for one in cut.placements if is_placed_in(one, shot)]
    return with_instead(replace(cut, remarks=(*cut.remarks, *remarks)), shot, [], [])


def with_instead(cut: Cut, shot: Shot, shots: Sequence[Shot], placed: Sequence[Placement]) -> Cut:
    """The cut with others instead of a shot and of what is placed in it by hand; what is behind it is pushed along."""
    later = sum(one.length for one in shots) - shot.length
    place = cut.shots.index(shot)
    behind = [replace(one, first=Frame(one.first + later)) for one in cut.shots[place + 1 :]]
    others = [one for one in cut.placements if not is_placed_in(one, shot)]
    pushed = [replace(one, at=Frame(one.at + later)) if one.at >= shot.stop else one for one in others]
    return replace(cut, shots=(*cut.shots[:place], *shots, *behind), placements=in_order([*pushed, *placed]))


def with_placement(cut: Cut, shot_name: str, at_in_shot: int, placement: Placement) -> Cut:
    """The cut with a placement made by hand that begins on a frame of a shot, counted from 0, and ends with the shot.

    Raises CutError for a frame that the shot does not have, and where that recording is placed on it already.
    """
    if not placement.place.by_hand:
        raise ValueError(f"{placement.place}: what is placed by hand has no file")
    shot = find_shot(cut, shot_name)
    if not 0 <= at_in_shot < shot.length:
        wanted = f"{sound_name(placement)} cannot begin {at_in_shot} frames into it"
        raise CutError(f"{shot.name} has {counted(shot.length)}: {wanted}")
    placed = replace(placement, at=Frame(shot.first + at_in_shot))
    for one in cut.placements:
        if one.at == placed.at and is_placed_in(one, shot) and are_of_one_recording(one, placed):
            told = f"{sound_name(one)} begins {counted(at_in_shot)} into {shot.name} already ({one.place})"
            raise CutError(f"{told}: take it out first")
    remarks = list(cut.remarks)
    kept = [part] if (part := fitted(placed, shot, cut.rate, remarks)) else []
    return replace(cut, placements=in_order([*cut.placements, *kept]), remarks=tuple(remarks))


def without_placement(cut: Cut, shot_name: str, matches: Callable[[Placement], bool]) -> Cut:
    """The cut without the one placement that a person made in a shot and that `matches`.

    Raises CutError if there is none, or more than one.
    """
    shot = find_shot(cut, shot_name)
    placed = [one for one in cut.placements if is_placed_in(one, shot)]
    found = [one for one in placed if matches(one)]
    if len(found) != 1:
        where = f"placed by hand in {shot.name}"
        # Sheets number their frames from what the production says: here they are counted, not numbered.
        there = " and ".join(f"{sound_name(one)} {counted(one.at - shot.first)} into it" for one in found or placed)
        if not placed:
            raise CutError(f"nothing is {where}")
        told = f"{len(found)} of what is {where} are meant" if found else f"none of what is {where} is meant"
        raise CutError(f"{told}: there is {there}")
    return replace(cut, placements=tuple(one for one in cut.placements if one is not found[0]))
