"""Where the camera is, as keys: a table with the columns frame, axis and value says where an axis is on a frame.

Frames count from 0 at the first frame of the shot; keys before and beyond it are kept, since they steer what is seen.
An axis is whatever the rig moves (pan, tilt, track); its values are decimal numbers in the rig's own unit, exactly.
Between two keys an axis starts slowly and arrives slowly; after the last it stays, before the first it is not known.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from trackread.core.rows import JOINT
from trackread.core.sheet import Cell
from trackread.core.timebase import Frame
from trackread.notes.tables import NoteTable

COLUMNS = ("frame", "axis", "value")
# Digits before the point, and after it: more than any rig counts.
DIGITS = 9
NUMBER = re.compile(f"[+-]?[0-9]{{1,{DIGITS}}}([.][0-9]{{1,{DIGITS}}})?")
NAMELESS = "axis is empty: name what moves, as pan"


@dataclass(frozen=True, slots=True)
class Key:
    """An axis is exactly at a value on a frame."""

    frame: Frame
    axis: str
    value: Fraction

    def __post_init__(self) -> None:
        if not self.axis.strip():
            raise ValueError("a key has an axis")
        if (self.value * 10**DIGITS).denominator != 1 or abs(self.value) >= 10**DIGITS:
            raise ValueError(f"{self.axis} is at a number of {DIGITS} digits before and after the point")


@dataclass(frozen=True, slots=True)
class Stretch:
    """An axis from the frame of a key to that of the next one, `stop` not included: a move, or a hold."""

    axis: str
    first: Frame
    stop: Frame
    start: Fraction
    end: Fraction

    @property
    def moves(self) -> bool:
        return self.start != self.end

    def position_at(self, frame: int) -> Fraction:
        """The cubic Hermite with level ends, 3u^2 - 2u^3 (Foley et al., Computer Graphics, from memory)."""
        share = Fraction(frame - self.first, self.stop - self.first)
        return self.start + (self.end - self.start) * share * share * (3 - 2 * share)


def read_camera(text: str, name: str, first_number: int) -> tuple[Key, ...]:
    """The keys of a table called `name`, in order of frames; an axis is spelt as it is where it is named first.

    Raises NotesError with every problem of the table at once.
    """
    table = NoteTable(name, first_number)
    spelt: dict[str, str] = {}
    found: dict[tuple[Frame, str], tuple[int, Key]] = {}
    for line, row in table.rows(text, COLUMNS):
        frame, axis = table.frame_at(line, row["frame"]), " ".join(row["axis"].split())
        value = number_of(row["value"])
        if not axis:
            table.problem(line, NAMELESS)
        if value is None:
            table.problem(line, number_problem(row["value"]))
        if frame is None or value is None or not axis:
            continue
        key = Key(frame, spelt.setdefault(axis.casefold(), axis), value)
        above, other = found.setdefault((frame, key.axis), (line, key))
        if other != key:
            told = f"{key.axis} is at {decimal_of(value)}, and on the same frame at {decimal_of(other.value)}"
            table.problem(line, f"{told} in line {above}: keep one")
    table.check()
    return tuple(sorted((key for _, key in found.values()), key=lambda key: key.frame))


def number_of(text: str) -> Fraction | None:
    """The number that a text writes with a point, None if it writes none."""
    return Fraction(text) if NUMBER.fullmatch(text) else None


def number_problem(text: str) -> str:
    """What is wrong with the text of a number."""
    pointed = text.replace(",", ".")
    if NUMBER.fullmatch(pointed):
        return f"value is {text!r}: write it with a point, as {pointed}"
    return f"value is {text!r}: write a number, as 12.5 or -3, of {DIGITS} digits at most before and after the point"


def decimal_of(value: Fraction) -> str:
    """The value of a key as it is written: 12.5 for 25/2."""
    return format(Decimal(value.numerator) / value.denominator, "f")


def positions(keys: Sequence[Key], length: int) -> dict[str, tuple[Fraction | None, ...]]:
    """For every axis, where it is on each frame of a shot `length` frames long; None before its first key."""
    found: dict[str, tuple[Fraction | None, ...]] = {}
    for axis, stretches in stretches_by_axis(keys, length).items():
        track: list[Fraction | None] = [None] * length
        for one in stretches:
            for frame in frames_of(one, length):
                track[frame] = one.position_at(frame)
        found[axis] = tuple(track)
    return found


def stretches_by_axis(keys: Sequence[Key], length: int) -> dict[str, list[Stretch]]:
    """The moves and holds of every axis from its first key on, one after another, the last to the end of the shot.

    Axes stand in the order of their first keys. Raises ValueError for two keys of one axis on one frame.
    """
    by_axis: dict[str, list[Key]] = {}
    for key in sorted(keys, key=lambda key: key.frame):
        by_axis.setdefault(key.axis, []).append(key)
    return {axis: list(stretches_of(track, length)) for axis, track in by_axis.items()}


def stretches_of(track: Sequence[Key], length: int) -> Iterator[Stretch]:
    """The moves and holds of one axis; keys at one value are one hold."""
    if any(before.frame == after.frame for before, after in pairwise(track)):
        raise ValueError(f"{track[0].axis} has two keys on one frame")
    hold = track[0]
    for before, after in pairwise(track):
        if after.value != before.value:
            if hold.frame < before.frame:
                yield Stretch(hold.axis, hold.frame, before.frame, hold.value, hold.value)
            yield Stretch(hold.axis, before.frame, after.frame, before.value, after.value)
            hold = after
    if hold.frame < length:
        yield Stretch(hold.axis, hold.frame, Frame(length), hold.value, hold.value)


def frames_of(stretch: Stretch, length: int) -> range:
    """The frames of the shot that a stretch lies on."""
    return range(max(0, stretch.first), min(stretch.stop, length))


def camera_cells(keys: Sequence[Key], length: int) -> tuple[Cell, ...]:
    """The cells of the camera's column in a shot `length` frames long, no two from one frame.

    A move says from where to where over its frames, a hold where it is on its first frame.
    """
    stretches = [one for each in stretches_by_axis(keys, length).values() for one in each if frames_of(one, length)]
    return joined(move_cell(one, length) if one.moves else hold_cell(one) for one in stretches)


def move_cell(move: Stretch, length: int) -> Cell:
    """`pan 0 to 12.5`, on as much of the move as the shot has."""
    frames, text = frames_of(move, length), f"{move.axis} {decimal_of(move.start)} to {decimal_of(move.end)}"
    return Cell(Frame(frames.start), Frame(frames.stop), text, before=move.first < 0, beyond=move.stop > length)


def hold_cell(hold: Stretch) -> Cell:
    """`pan at 12.5`, on the first frame of the shot if the hold is older."""
    first = max(0, hold.first)
    return Cell(Frame(first), Frame(first + 1), f"{hold.axis} at {decimal_of(hold.start)}", before=hold.first < 0)


def position_cells(keys: Sequence[Key], length: int) -> tuple[Cell, ...]:
    """`pan 3.42, tilt -1.00` on every frame on which these axes move, and on the first on which they hold."""
    texts: dict[int, list[str]] = {}
    for stretches in stretches_by_axis(keys, length).values():
        for one in stretches:
            frames = frames_of(one, length)
            for frame in frames if one.moves else frames[:1]:
                texts.setdefault(frame, []).append(f"{one.axis} {hundredths_of(one.position_at(frame))}")
    return tuple(Cell(Frame(frame), Frame(frame + 1), ", ".join(parts)) for frame, parts in sorted(texts.items()))


def hundredths_of(value: Fraction) -> str:
    """A value to two decimals, half up: 3.42; exact, so no float is asked."""
    count = (200 * value.numerator + value.denominator) // (2 * value.denominator)
    whole, rest = divmod(abs(count), 100)
    return f"{'-' if count < 0 else ''}{whole}.{rest:02}"


def joined(cells: Iterable[Cell]) -> tuple[Cell, ...]:
    """One cell for all that begin on a frame, in order of frames; it holds as long as the longest."""
    by_first: dict[Frame, list[Cell]] = {}
    for cell in sorted(cells, key=lambda cell: cell.first):
        by_first.setdefault(cell.first, []).append(cell)
    return tuple(
        Cell(
            first,
            max(cell.stop for cell in each),
            JOINT.join(cell.text for cell in each),
            before=all(cell.before for cell in each),
            beyond=any(cell.beyond for cell in each),
        )
        for first, each in by_first.items()
    )
