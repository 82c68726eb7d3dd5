"""`trackread demo`: our own scene, from its voices to its sheets."""

from pathlib import Path

import click

from trackread.cli.engines import OpenReader


@click.command()
@click.argument("folder", metavar="[DIR]", type=click.Path(path_type=Path), default=Path("late-tram"))
@click.pass_obj
def demo(reader: OpenReader, *, folder: Path) -> None:
    """Read our own scene, The Late Tram, and print its sheets.

    DIR takes a sheet, a TextGrid and a reading in JSON of each of its lines; ./late-tram unless you name another.
    """
    from trackread.cli.progress import progress_bar
    from trackread.cli.tables import demo_table, print_table
    from trackread.core.timebase import parse_rate
    from trackread.workflow.demo import demo_pronunciations, read_demo
    from trackread.workflow.printing import form_for
    from trackread.workflow.sheet_of_take import Terms

    form = form_for(Terms(parse_rate("24")))
    with progress_bar("reading The Late Tram") as progress:
        told = read_demo(folder, form, reader(demo_pronunciations()), progress=progress)
    print_table(demo_table(told, form.terms))
    click.echo(f"\nSheets, TextGrids and readings are in {folder}. Open this one first:\n{told[0].outputs.sheet}")
