"""`trackread conform`: what has changed from the stand-in's take of a line to the actor's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.conform_line import ConformedLine, ConformedWord


@click.command()
@click.argument("line")
@click.option("--from", "before", metavar="TAKE", help="The take before; the stand-in's circled or last whole one.")
@click.option("--to", "after", metavar="TAKE", help="The take after; the actor's circled or last whole one.")
@click.option("--frame", "frames", type=int, multiple=True, metavar="N", help="Say where this frame has gone.")
@production_option
@json_option
def conform(
    *,
    line: str,
    before: str | None,
    after: str | None,
    frames: tuple[int, ...],
    production: Path | None,
    as_json: bool,
) -> None:
    """Lay two takes of a line beside one another, word by word."""
    from trackread.workflow.conform_line import conform_line
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = conform_line(book, line, before, after, frames=frames)
    if as_json:
        print_json(asdict(found))
    else:
        print_conformed(found)


def print_conformed(found: ConformedLine) -> None:
    """What has changed, the words of both, and the frames that were asked for."""
    from trackread.cli.columns import print_columns, printable

    click.echo(f"{found.before} to {found.after}")
    for remark in found.remarks or ("nothing has changed",):
        click.echo(printable(f"  {remark}"))
    click.echo()
    columns = ("word", found.before, found.after, "length")
    print_columns(columns, map(cells_of, found.words), right=columns[1:3])
    for moved in found.frames:
        click.echo(f"frame {moved.before} is now frame {moved.after}")


def cells_of(word: ConformedWord) -> Sequence[str]:
    """A row: the word, the frames it starts on, and how its length has changed."""
    if word.before is None or word.after is None:
        length = "new" if word.before is None else "gone"
    else:
        length = f"{abs(word.longer)} {'longer' if word.longer > 0 else 'shorter'}" if word.longer else ""
    return (word.text, *("" if frame is None else str(frame) for frame in (word.before, word.after)), length)
