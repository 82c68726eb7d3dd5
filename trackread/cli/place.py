"""`trackread place`: a line or a take put in a shot by hand."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import author_option, production_option


@click.command()
@click.argument("what", metavar="LINE|TAKE")
@click.option("--shot", "code", required=True, metavar="CODE", help="The shot it is heard in.")
@click.option("--at", type=int, metavar="FRAME", help="The frame it begins on, as the sheet numbers it.")
@click.option("--remove", is_flag=True, help="Take it out of the shot again.")
@production_option
@author_option
def place(*, what: str, code: str, at: int | None, remove: bool, production: Path | None, author: str) -> None:
    """Put a line in a shot, where there is no cut list.

    Of a line (L0107) the circled take is heard, and another as soon as another is circled. A take (L0107-2) stays
    itself.
    """
    from trackread.cli.shot import show
    from trackread.workflow.placing import place as place_by_hand
    from trackread.workflow.placing import take_away
    from trackread.workflow.production import open_production

    if at is None and not remove:
        raise click.UsageError("say with --at on which frame it begins")
    with open_production(production) as book:
        if remove:
            show(take_away(book, what, code, at, author=author))
        elif at is not None:
            show(place_by_hand(book, what, code, at, author=author))
