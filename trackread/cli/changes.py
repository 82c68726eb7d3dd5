"""`trackread changes`: which sheets that are out are stale, from which frame, and what that costs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.stale import Stale, StaleSheet

MOST = 12  # sentences that are told of a sheet


@click.command()
@click.option("--since", default="", metavar="DAY|CUT", help="Only by what came on this day or later, or after cut N.")
@click.option("--every-row", is_flag=True, help=f"Tell all that has changed on a sheet, and not the first {MOST}.")
@production_option
@json_option
def changes(*, since: str, every_row: bool, production: Path | None, as_json: bool) -> None:
    """Name the sheets that are out and stale, and the cost.

    A new cut, draft, take, reading or correction may make a sheet stale. Frames are those that are printed on the sheet
    that is out.
    """
    from trackread.cli.columns import printable
    from trackread.workflow.production import open_production
    from trackread.workflow.stale import plain_stale, since_time, stale_sheets

    with open_production(production) as book:
        found = stale_sheets(book, since=since_time(book, since))
    if as_json:
        print_json(plain_stale(found))
        return
    for text in stale_texts(found, None if every_row else MOST):
        click.echo(printable(text))


def stale_texts(found: Stale, most: int | None) -> Iterator[str]:
    """What is to be said of all stale sheets, and what they cost together."""
    from trackread.workflow.counted import counted
    from trackread.workflow.stale_words import cost_text

    for one in found.sheets:
        yield from sheet_texts(one, most)
        yield ""
    out = counted(found.current + len(found.sheets), "sheet")
    yield f"{out} out: {found.current} current, {len(found.sheets)} stale."
    if found.sheets:
        yield f"Together: {cost_text(found.cost)}."


def sheet_texts(one: StaleSheet, most: int | None) -> Iterator[str]:
    """One sheet: what it is, from where it is stale, what has changed, why, and what that costs."""
    from trackread.workflow.stale_words import cost_text, done_text

    issue = one.issue
    state = "GONE" if one.gone else f"stale from frame {one.first}"
    yield f"{issue.shot}, issue {issue.number}, unit {issue.unit}: {state}"
    yield f"  {done_text(one)}"
    for text in one.told[:most]:
        yield f"  {text}"
    if most is not None and len(one.told) > most:
        yield f"  and {len(one.told) - most} more: --every-row tells them all"
    for cause in one.causes:
        yield f"  by {cause.told}{f', {cause.time}' if cause.time else ''}"
    yield f"  cost: {cost_text(one.cost)}"
