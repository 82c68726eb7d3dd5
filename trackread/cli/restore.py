"""`trackread restore`: a production out of its backup."""

from pathlib import Path

import click

from trackread.cli.production import PLACE


@click.command()
@click.argument("file", type=PLACE)
@click.argument("folder", metavar="DIR", type=PLACE)
@click.option("--database", default="", metavar="URL", help="An empty PostgreSQL database to hold the book.")
def restore(*, file: Path, folder: Path, database: str) -> None:
    """Unpack the backup FILE into the new folder DIR."""
    from trackread.workflow.keeping import restore as unpack

    warning = unpack(file, folder, database)
    click.echo(f"The production is in {folder}. `trackread check --production {folder}` tells whether it is whole.")
    if warning:
        click.echo(f"trackread: beware: {warning}.", err=True)
