"""`trackread film`: a shot's plan of mouths as a movie to look at and listen to."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import PLACE, production_option

CAUTION = (
    "Headphones: begin with the level low, and listen no louder and no longer than you need to; "
    "the rules of your workplace on noise hold."
)


@click.command()
@click.argument("shot")
@click.option(
    "-o", "--output", type=PLACE, required=True, metavar="FILE", help="A movie (.mp4), .gif, or all frames on a .png."
)
@click.option("--with", "how", default="", metavar="HOW", help='Mouths worn otherwise: "on=ones lead=0", "kit=NAME".')
@production_option
def film(*, shot: str, output: Path, how: str, production: Path | None) -> None:
    """Make a movie of a shot's mouths, to check how they talk before it is shot.

    It has the mouths as pictures, the sound, and on every frame its number, the word and the beat.
    """
    from trackread.workflow.counted import counted
    from trackread.workflow.production import open_production
    from trackread.workflow.shot_film import MOVIE, shot_film
    from trackread.workflow.writing import write_all

    with open_production(production) as book:
        made = shot_film(book, shot, output, how)
    write_all(made.files)
    click.echo(f"{counted(made.frames, 'frame')}: {', '.join(map(str, made.files))}")
    if output.suffix.lower() == MOVIE:
        click.echo(click.wrap_text(CAUTION, 80))
