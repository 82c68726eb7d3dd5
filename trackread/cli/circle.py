"""`trackread circle`: takes that are liked, as the script supervisor circles them."""

from pathlib import Path

import click

from trackread.cli.production import author_option, production_option


@click.command()
@click.argument("takes", metavar="TAKE...", nargs=-1, required=True)
@click.option("--off", is_flag=True, help="Take the circles away.")
@production_option
@author_option
def circle(*, takes: tuple[str, ...], off: bool, production: Path | None, author: str) -> None:
    """Circle takes, as L0107-3; all of them, or none if one is no take."""
    from trackread.cli.to_read import tell_to_read
    from trackread.workflow.decisions import circle as circle_takes
    from trackread.workflow.decisions import wanting_reading
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = circle_takes(book, takes, author, on=not off)
        for take in found:
            click.echo(f"{take.name} is {'no longer circled' if off else 'circled'}.")
        if not off:
            tell_to_read(wanting_reading(book, found))
