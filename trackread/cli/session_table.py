"""The sessions as a table for the terminal."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from trackread.cli.tables import table_of
from trackread.core.timebase import Sample

if TYPE_CHECKING:
    from rich.table import Table

    from trackread.workflow.session_list import SessionRow

HEADINGS = ("session", "file", "who", "length", "takes", "lines", "cut", "slates", "talk", "unsure")


def sessions_table(rows: Iterable[SessionRow]) -> Table:
    """A row a session; lengths in minutes and seconds; `cut` are takes that are cut off, `talk` what is no line."""
    return table_of(HEADINGS, map(cells, rows), right=HEADINGS[3:])


def cells(row: SessionRow) -> tuple[str, ...]:
    session = row.session
    who = ", ".join(session.characters) or "anybody"
    return (
        f"S{session.id}",
        session.name,
        f"{who} (stand-in)" if session.stand_in else who,
        length_of(row),
        *(str(count) for count in (row.takes, row.lines, row.cut_off, row.slates, row.chatter, row.unsure)),
    )


def length_of(row: SessionRow) -> str:
    """How long it is, and how much of that has been listened to, if not all."""
    whole = clock(row.session.sound.length, row.session.sound.sample_rate)
    if row.heard == row.session.sound.length:
        return whole
    return f"{clock(Sample(row.heard), row.session.sound.sample_rate)} of {whole}"


def clock(length: Sample, sample_rate: int) -> str:
    """A length as minutes and seconds.

    >>> clock(Sample(48000 * 61), 48000)
    '1:01'
    """
    seconds = length // sample_rate
    return f"{seconds // 60}:{seconds % 60:02}"
