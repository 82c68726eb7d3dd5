"""`trackread which`: the sheet that somebody holds in his hand, and whether it is the current one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.which_sheet import Which


@click.command()
@click.argument("code", metavar="CODE|PICTURE")
@click.option("--to", type=PLACE, metavar="FILE", help="Write the PDF, byte for byte as it was issued.")
@production_option
@json_option
def which(*, code: str, to: Path | None, production: Path | None, as_json: bool) -> None:
    """Say which sheet this is, and whether it still holds.

    CODE stands in the head of the sheet, beside the square one; PICTURE is a photograph or scan of it (PNG or JPEG).
    """
    from trackread.cli.columns import printable
    from trackread.workflow.production import open_production
    from trackread.workflow.which_sheet import pdf_as_issued, plain_which
    from trackread.workflow.which_sheet import which as which_sheets
    from trackread.workflow.writing import write_all

    with open_production(production) as book:
        found = which_sheets(book, code)
        if to is not None:
            write_all({to: pdf_as_issued(book, found[0].issue)})
    if as_json:
        print_json({"sheets": [plain_which(one) for one in found]})
        return
    for one in found:
        for text in which_texts(one):
            click.echo(printable(text))


def which_texts(one: Which) -> Iterator[str]:
    """What is to be said of a sheet."""
    issue = one.issue
    yield f"{issue.code}: {issue.shot}, issue {issue.number} for unit {issue.unit}, {issue.date}, by {issue.author}"
    if one.by:
        yield f"REPLACED by issue {one.by.number} ({one.by.date}, {one.by.code}) for unit {one.by.unit}"
        yield from (f"  {text}" for text in one.told or ("nothing on it differs",))
    if one.stale:
        yield f"{'that' if one.by else 'it'} is STALE from frame {one.stale.first}: `trackread changes` says more"
        yield from (f"  {text}" for text in one.stale.told)
    elif not one.by:
        yield "it is the current one"
