"""`trackread backup`: a production as one file, made while others go on working."""

from pathlib import Path

import click

from trackread.cli.production import PLACE, production_option


@click.command()
@click.argument("file", type=PLACE)
@click.option("--without-sound", is_flag=True, help="Leave the recordings out: a small file, for every evening.")
@production_option
def backup(*, file: Path, without_sound: bool, production: Path | None) -> None:
    """Write the whole production into FILE, a zip."""
    from trackread.workflow.counted import counted
    from trackread.workflow.keeping import backup as back_up

    notes = back_up(production, file, with_sounds=not without_sound)
    click.echo(f"{notes.file} has the script, the takes, the readings and {counted(notes.sounds, 'recording')}.")
    for words in notes.left_out:
        click.echo(f"left out: {words}")
