"""`trackread pull`: the mouths to bring to shots, and of which there are too few."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.choice import choice_of, choice_options
from trackread.cli.production import json_option, production_option

if TYPE_CHECKING:
    from trackread.workflow.pulling import Pull

FEW_NAMES = 6  # shots that are told by name
RIGHT = ("no.", "frames", "changes", "made", "at once", "missing")


@click.command()
@choice_options
@click.option("--unit", metavar="NAME", help="Only shots whose sheet is out for this unit.")
@click.option("--day", type=click.IntRange(1), metavar="N", help="Only what is shot on the N-th day from now.")
@click.option("--units", type=click.IntRange(1), metavar="N", help="Units that shoot at once, if not the production's.")
@production_option
@json_option
def pull(
    *,
    shots: tuple[str, ...],
    scene: str | None,
    every: bool,
    unit: str | None,
    day: int | None,
    units: int | None,
    production: Path | None,
    as_json: bool,
) -> None:
    """List the mouths to bring to shots: which, for how many frames, where each is wanted first.

    All shots that are not shot yet are meant unless some are named. It also says whether as many of each mouth were
    made as are worn at once, with a set for every puppet that is in front of a camera.
    """
    from trackread.cli.production import print_json
    from trackread.workflow.production import open_production
    from trackread.workflow.pulling import PullWish, plain_pull
    from trackread.workflow.pulling import pull as pull_for

    choice = choice_of(shots, scene, every=every or not (shots or scene))
    with open_production(production) as book:
        found = pull_for(book, PullWish(choice, units or book.production.units, unit, day))
    if as_json:
        print_json(plain_pull(found))
        return
    print_pull(found)


def print_pull(found: Pull) -> None:
    """A table for each kit, then what is missing."""
    from trackread.cli.columns import print_columns, printable
    from trackread.workflow.counted import counted

    if not found.kits:
        click.echo("Nothing is to be brought: no puppet with mouths to swap is in these shots.")
        return
    named = ", ".join(found.shots[:FEW_NAMES])
    more = f" and {len(found.shots) - FEW_NAMES} more" if len(found.shots) > FEW_NAMES else ""
    click.echo(
        printable(f"{counted(len(found.shots), 'shot')}: {named}{more}; {counted(found.units, 'unit')} at once.")
    )
    click.echo()
    wanted = {(one.kit, one.mouth): one for one in found.wanted}
    for kit in found.kits:
        click.echo(printable(f"{kit.character}, kit {kit.kit}:"))
        rows = []
        for mouth in kit.mouths:
            need = wanted[kit.kit, mouth.mouth]
            rows.append(
                (
                    mouth.mouth,
                    *map(str, (mouth.frames, mouth.changes)),
                    f"{mouth.shot}, frame {mouth.first}",
                    *map(str, (need.copies, len(need.shots), need.short or "-")),
                )
            )
        headings = ("mouth", "frames", "changes", "first in", "made", "at once", "missing")
        print_columns(headings, rows, right=[name for name in headings if name in RIGHT])
        click.echo()
    for one in found.short:
        copies = counted(one.short, "copy", "copies")
        click.echo(printable(f"{one.kit}: {copies} more of {one.mouth!r}: {', '.join(one.shots)} run at once"))
    if not found.short:
        click.echo("There are copies enough of every mouth.")
