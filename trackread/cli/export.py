"""`trackread export`: sheets of shots for other programs."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.choice import choice_of, choice_options
from trackread.cli.production import PLACE, production_option


@click.command()
@choice_options
@click.option("--to", type=PLACE, required=True, metavar="FILE", help="Where to; a folder for TextGrids.")
@click.option("--as", "form", metavar="FORM", help="The form, if the name of the file does not say it.")
@production_option
def export(
    *, shots: tuple[str, ...], scene: str | None, every: bool, to: Path, form: str | None, production: Path | None
) -> None:
    """Write shots for the boards, the edit and other programs.

    The ending of FILE says the form: csv, json, xlsx, ods (a row for each frame), vtt (captions), otio (a timeline with
    markers). With --as textgrid each shot has a TextGrid in a folder.
    """
    from trackread.workflow.counted import counted
    from trackread.workflow.exporting import NAMES
    from trackread.workflow.exporting import export as export_shots
    from trackread.workflow.material import gather
    from trackread.workflow.production import open_production
    from trackread.workflow.shots import chosen_briefs

    name = (form or to.suffix.removeprefix(".")).lower()
    if name not in NAMES:
        raise click.UsageError(f"{name or to} is none of the forms {', '.join(NAMES)}: say one with --as")
    with open_production(production) as book:
        material = gather(book)
        briefs = chosen_briefs(material, choice_of(shots, scene, every=every))
        written = export_shots(book, material, briefs, form=name, to=to)
    click.echo(f"{counted(written.shots, 'shot')}: {to}")
