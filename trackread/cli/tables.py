"""Tables for the screen; what stands in them is shown as it is written, brackets and all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console
from rich.table import Table
from rich.text import Text

from trackread.core.reading import Reading
from trackread.workflow.sheet_of_take import Terms
from trackread.workflow.words_of_take import word_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from trackread.workflow.doubts import Place


def print_table(table: Table) -> None:
    """Prints to the output stream, as wide as the terminal is."""
    Console(highlight=False, emoji=False).print(table)


def words_table(reading: Reading, terms: Terms) -> Table:
    """The words and events of a take: the frame each starts on, its stress, its sounds, and how unsure its start is."""
    rows = (
        (
            str(row.number),
            row.text,
            row.stress,
            row.sounds + " (guessed)" * row.guessed,
            "" if row.doubt is None else f"{row.doubt:.2f}",
        )
        for row in word_rows(reading, terms)
    )
    return table_of(("frame", "word", "stress", "sounds", "doubt"), rows, right=("frame", "doubt"))


def doubts_table(places: Iterable[Place]) -> Table:
    """Places to listen to: where, what is there, how likely it is wrong, and why."""
    rows = (
        (place.reading, str(place.number), place.text, f"{place.doubt:.2f}", "; ".join(place.reasons))
        for place in places
    )
    return table_of(("reading", "frame", "word", "doubt", "why"), rows, right=("frame", "doubt"))


def table_of(headings: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[str]) -> Table:
    """A table of texts, the columns named in `right` set to the right."""
    table = Table(box=None, header_style="bold", pad_edge=False)
    for heading in headings:
        table.add_column(heading, justify="right" if heading in right else "left")
    for row in rows:
        table.add_row(*map(Text, row))
    return table
