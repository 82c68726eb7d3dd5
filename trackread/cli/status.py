"""`trackread status`: how far a production is, as a table that the office can print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import json_option, print_json, production_option
from trackread.cli.session_table import print_sessions

if TYPE_CHECKING:
    from trackread.workflow.status import Status, Tally

COLUMNS = ("lines", "whole", "circled", "stand-in", "cut off", "missing", "unsure", "read")
KEY = """
whole: lines with a take that says all of it; circled: with a circled take;
stand-in: whole, but only by a stand-in; cut off: lines all of whose takes
break off; missing: lines without a take; unsure: stretches that may be
takes of them; read: takes that have been read, of how many.
"""


@click.command()
@click.option(
    "--by",
    type=click.Choice(["scene", "character"]),
    default="scene",
    show_default=True,
    help="What the lines are gathered by first.",
)
@production_option
@json_option
def status(*, by: str, production: Path | None, as_json: bool) -> None:
    """Tell what is recorded, what is missing, and what to do next."""
    from trackread.cli.columns import PAPER, printable
    from trackread.workflow.production import open_production
    from trackread.workflow.status import By
    from trackread.workflow.status import status as status_of

    with open_production(production) as book:
        title, found = book.production.title, status_of(book, By(by))
    if as_json:
        print_json(asdict(found))
        return
    click.echo(f"{printable(title)}\n")
    print_lines(found)
    if found.sessions:
        click.echo()
        print_sessions(found.sessions)
    if found.next:
        click.echo("\nNext")
    for step in found.next:
        click.echo(click.wrap_text(step, PAPER, initial_indent="  ", subsequent_indent="    "))


def print_lines(found: Status) -> None:
    """The table of lines, and what its columns mean."""
    from trackread.cli.columns import print_columns

    rows = list(line_rows(found))
    if rows:
        print_columns((found.by.value, *COLUMNS), rows, right=COLUMNS, paper=True)
        click.echo(KEY, nl=False)


def line_rows(found: Status) -> Iterator[tuple[str, ...]]:
    """A row for each scene or character, one for each part of it under that, and one for all."""
    for section in found.sections:
        yield cells_of(section.tally, section.tally.name)
        for part in section.parts:
            yield cells_of(part, f"  {part.name}")
    if found.sections:
        yield cells_of(found.total, found.total.name)


def cells_of(tally: Tally, name: str) -> tuple[str, ...]:
    """A row of counts; a dash is none."""
    counts = (tally.whole, tally.circled, tally.stand_in, tally.cut_off, tally.missing, tally.unsure)
    read = f"{tally.read}/{tally.takes}" if tally.takes else "-"
    return (name, str(tally.lines), *(str(count) if count else "-" for count in counts), read)
