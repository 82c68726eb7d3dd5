"""`trackread new`: a production's folder, its settings and its empty book."""

from pathlib import Path

import click

from trackread.cli.production import PLACE


@click.command()
@click.argument("folder", metavar="DIR", type=PLACE)
@click.option("--title", required=True, metavar="WORDS", help="What the production is called, on every sheet.")
@click.option("--rate", required=True, metavar="FPS", help="Frames a second, as 24, 25, 23.976 or 29.97df.")
@click.option(
    "--first-frame", type=int, default=1, metavar="N", show_default=True, help="The number of a shot's first frame."
)
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="a4, letter, a3 or tabloid.")
@click.option("--rows", type=int, default=48, metavar="N", show_default=True, help="Frames on a page, 48 or 24.")
@click.option("--database", default="", metavar="URL", help="A PostgreSQL database to hold the book, not a file.")
@click.option("--character", "characters", multiple=True, metavar="NAME", help="Who speaks in it; once for each.")
def new(
    *,
    folder: Path,
    title: str,
    rate: str,
    first_frame: int,
    paper: str,
    rows: int,
    database: str,
    characters: tuple[str, ...],
) -> None:
    """Make a new production in the folder DIR."""
    from trackread.workflow.production import Wish, make_production

    wish = Wish(title, rate, first_frame, paper, rows, database, characters)
    warning = make_production(folder, wish)
    click.echo(f"{title} is in {folder}. What holds for all its sheets is in {folder / 'production.toml'}.")
    click.echo("Next: go there, and add the script with `trackread script add FILE`.")
    if warning:
        click.echo(f"trackread: beware: {warning}.", err=True)
