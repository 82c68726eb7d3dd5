"""Tables of plain text in columns: narrow enough for paper, and quick for a whole film's takes.

The library that draws the other tables needs 6 s for 12,000 rows of nine columns; this needs 0.1 s.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import click
from rich.cells import cell_len, set_cell_size

from trackread.workflow.typed import OBEYED

GAP = "  "
PAPER = 80  # letters to a row, as printers and mails have it


def print_columns(
    headings: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[str] = (), paper: bool = False
) -> None:
    """Prints rows of texts under their headings, the columns named in `right` set to the right.

    For `paper` the first column is shortened so that the rows are no wider than that.
    """
    table = [list(headings), *([printable(cell) for cell in row] for row in rows)]
    if paper:
        room = PAPER - sum(len(GAP) + max(map(cell_len, column)) for column in list(zip(*table, strict=True))[1:])
        table = [[shortened(first, max(room, len(headings[0]))), *rest] for first, *rest in table]
    widths = [max(map(cell_len, column)) for column in zip(*table, strict=True)]
    places = [to_right if heading in right else to_left for heading in headings]
    lines = [
        GAP.join(place(cell, width) for place, cell, width in zip(places, row, widths, strict=True)).rstrip()
        for row in table
    ]
    click.secho(lines[0], bold=True)
    if lines[1:]:
        click.echo("\n".join(lines[1:]))


def to_left(text: str, width: int) -> str:
    """A text with spaces after it to a width, as a terminal counts it."""
    return text + " " * (width - cell_len(text))


def to_right(text: str, width: int) -> str:
    """A text with spaces before it to a width."""
    return " " * (width - cell_len(text)) + text


def shortened(text: str, width: int) -> str:
    """A text that is no wider than so many letters, with dots where the rest was."""
    return text if cell_len(text) <= width else set_cell_size(text, width - 1).rstrip() + "…"


def printable(text: str) -> str:
    """A text without what a terminal would obey."""
    return OBEYED.sub("?", text)
