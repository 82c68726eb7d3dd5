"""`trackread check`: whether a production is whole."""

from pathlib import Path

import click

from trackread.cli.production import production_option


@click.command()
@production_option
def check(*, production: Path | None) -> None:
    """Read the whole production through and tell each problem.

    The status is 1 if there is any.
    """
    from trackread.cli.progress import progress_bar
    from trackread.workflow.keeping import check as problems_of

    with progress_bar("checking") as progress:
        problems = problems_of(production, progress)
    for problem in problems:
        click.echo(problem)
    if problems:
        raise click.exceptions.Exit(1)
    click.echo("All is whole.")
