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
    from trackread.workflow.counted import counted
    from trackread.workflow.keeping import restore as unpack

    restored = unpack(file, folder, database)
    click.echo(f"The production is in {folder}. `trackread check --production {folder}` tells whether it is whole.")
    if restored.keys:
        click.echo(
            f"Its server opens with {counted(restored.keys, 'key')}, as it did when the backup was made: one that was "
            "revoked since then opens again. `trackread key list` lists them, `trackread key revoke` ends one."
        )
    if restored.warning:
        click.echo(f"trackread: beware: {restored.warning}.", err=True)
