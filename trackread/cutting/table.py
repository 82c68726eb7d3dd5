"""Cuts as tables (RFC 4180, or with semicolons or tabs), with the names of their columns in the first row.

Shots have the columns shot, first and length; what is heard has shot, at, in and out, and recording or take. Other
columns are left alone. `first` and `length` are frames, timecode or footage; `at` is frames or footage of the shot;
`in` and `out` are timecode of the recording, or frames or footage from its beginning, `out` not included.
"""

import re
from collections.abc import Mapping
from fractions import Fraction

from trackread.core.csv_rows import CsvTable, table_of
from trackread.core.cut import Source
from trackread.core.footage import frame_of_footage
from trackread.core.timecode import frame_of
from trackread.cutting.events import Event, Listed, Terms
from trackread.errors import CutError, FootageError, TimecodeError

SHOTS = ("shot", "first", "length")
SOUNDS = ("shot", "at", "in", "out")
NAMES = ("recording", "take")
FRAMES = re.compile("[0-9]{1,9}")
TRACK = "track"

NO_COLUMNS = (
    "has the columns of no cut: name them shot, first and length, or shot, at, in, out and recording, in the first row"
)


def read_table(text: str, file: str, terms: Terms) -> Listed:
    """The events of a table, with every problem of it."""
    listed = Listed(file, terms.rate, clocked=False)
    table = table_of(text)
    if table.broken:
        listed.problem(table.broken.line, table.broken.text)
    columns = SHOTS if not table.missing(SHOTS) else SOUNDS
    if table.missing(columns) or (columns is SOUNDS and not set(NAMES) & set(table.names)):
        listed.problem(table.start, NO_COLUMNS)
        return listed
    twice = table.twice((*columns, *NAMES, TRACK))
    for told in twice:
        listed.problem(table.start, told)
    take = take_shot if columns is SHOTS else take_sound
    for row in table.rows if not twice else ():
        if told := table.uneven(row):
            listed.problem(row.line, told)
            continue
        try:
            listed.events.append(take(table.named(row), row.line, listed, terms))
        except (CutError, TimecodeError, FootageError) as error:
            listed.problem(row.line, str(error))
    if columns is SHOTS:
        tell_clock(table, listed)
    return listed


def take_shot(row: Mapping[str, str], line: int, listed: Listed, terms: Terms) -> Event:
    """The shot of a row."""
    if not row["shot"]:
        raise CutError("this row names no shot")
    first = number_of(row["first"], "first", terms)
    length = number_of(row["length"], "length", terms)
    if not length:
        raise CutError("a shot has one frame at least: write its length")
    start = first if ":" in row["first"] else first - first_number(row["first"], terms)
    if start < 0:
        raise CutError(f"first is {row['first']}, and the first frame of the cut is {terms.first_frame}")
    return Event(listed.at(line), start, start + length, source=None, picture=True, shot=row["shot"])


def take_sound(row: Mapping[str, str], line: int, listed: Listed, terms: Terms) -> Event:
    """What is heard by a row, counted from the first frame of its shot."""
    recording, take = row.get("recording", ""), row.get("take", "")
    if not row["shot"] or not (recording or take):
        raise CutError(f"this row names no {'recording and no take' if row['shot'] else 'shot'}")
    if ":" in row["at"]:
        raise CutError(f"at is {row['at']!r}: count it in frames or footage from the first of the shot")
    if (":" in row["in"]) != (":" in row["out"]):
        raise CutError(f"in is {row['in']!r} and out is {row['out']!r}: write both as timecode, or both counted")
    at = number_of(row["at"], "at", terms) - first_number(row["at"], terms)
    start, stop = number_of(row["in"], "in", terms), number_of(row["out"], "out", terms)
    if stop <= start:
        raise CutError(f"ends at {row['out']}, which is not after its beginning at {row['in']}")
    source = Source(
        start=start / terms.rate.per_second,
        clip=take,
        file=recording,
        file_start=None if ":" in row["in"] else Fraction(0),
    )
    track = row.get(TRACK) or f"line {line}"
    return Event(listed.at(line), at, at + stop - start, source, tracks=(track,), shot=row["shot"])


def number_of(text: str, name: str, terms: Terms) -> int:
    """Frames, as a number, a timecode or a footage."""
    if ":" in text:
        return frame_of(text, terms.rate)
    if "+" in text:
        return frame_of_footage(text, terms.gauge)
    if not FRAMES.fullmatch(text):
        raise CutError(f"{name} is {text!r}: write frames (48), timecode (01:00:02:00) or footage (3+00)")
    return int(text)


def first_number(text: str, terms: Terms) -> int:
    """The number of the first frame: footage counts from 0 always."""
    return 0 if "+" in text else terms.first_frame


def tell_clock(table: CsvTable, listed: Listed) -> None:
    """Whether the shots have timecode: all of them, or none."""
    column = table.names.index("first")
    clocked = {row.line: ":" in row.cells[column] for row in table.rows if len(row.cells) > column}
    listed.clocked = any(clocked.values())
    if listed.clocked and not all(clocked.values()):
        line = next(line for line, clock in clocked.items() if not clock)
        listed.problem(line, "first is no timecode, as it is in other rows: write all in one way")
