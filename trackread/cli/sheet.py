"""`trackread sheet`: the sheets of shots as they are now, printed without being issued."""

from __future__ import annotations

from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.choice import choice_of, choice_options
from trackread.cli.production import PLACE, production_option

if TYPE_CHECKING:
    from collections.abc import Sequence
    from contextlib import AbstractContextManager

    from trackread.workflow.shot_brief import ShotBrief
    from trackread.workflow.workers import Workers

FEW = 12  # sheets that one process has printed before a second one has started
FEW_NAMES = 3  # shots that are told by name
FOLDER = Path("sheets")


@click.command()
@choice_options
@click.option("--to", type=PLACE, default=FOLDER, metavar="FOLDER", show_default=True, help="Where the PDFs go.")
@click.option("--paper", metavar="NAME", help="a4, letter, a3 or tabloid, if not the production's.")
@click.option("--rows", type=int, metavar="N", help="Frames on a page, 48 or 24, if not as the production has it.")
@click.option("--processes", type=click.IntRange(1), metavar="N", help="How many processes print.")
@production_option
def sheet(
    *,
    shots: tuple[str, ...],
    scene: str | None,
    every: bool,
    to: Path,
    paper: str | None,
    rows: int | None,
    processes: int | None,
    production: Path | None,
) -> None:
    """Print the sheets of shots: a PDF for each.

    SHOT is a shot's code, SH010/2 for its second part. A sheet that goes to a stage is issued: `trackread issue`.
    """
    from trackread.cli.progress import progress_bar
    from trackread.workflow.counted import counted
    from trackread.workflow.material import gather
    from trackread.workflow.printed_sheets import paper_wish, write_sheets
    from trackread.workflow.production import open_production
    from trackread.workflow.shots import chosen_briefs, sheet_wish

    with open_production(production) as book:
        briefs = chosen_briefs(gather(book), choice_of(shots, scene, every=every))
        settings = book.production
        wanted = replace(paper_wish(settings), paper=paper or settings.paper, rows=rows or settings.rows)
        with workers_for(len(briefs), processes) as workers, progress_bar("printing sheets") as progress:
            files = write_sheets(
                book, briefs, to, wish=sheet_wish(settings), paper=wanted, workers=workers, progress=progress
            )
    click.echo(f"{counted(len(files), 'sheet')}: {files[0] if len(files) == 1 else to}")
    tell_troubles(briefs)


def workers_for(count: int, processes: int | None) -> AbstractContextManager[Workers | None]:
    """Workers where there is enough to print for more than one process."""
    from trackread.workflow.workers import local_workers

    return nullcontext() if count <= FEW or processes == 1 else local_workers(processes)


def tell_troubles(briefs: Sequence[ShotBrief]) -> None:
    """What is to be looked at before anybody shoots by these sheets, on the stream for errors.

    A sound of no known recording is told once, however many shots it runs through.
    """
    from trackread.cli.columns import printable

    for brief in briefs:
        for text in (*brief.warnings, *brief.remarks):
            click.echo(printable(f"trackread: beware: {brief.shot.name}: {text}"), err=True)
    heard: dict[str, list[str]] = {}
    for brief in briefs:
        for sound in brief.unknown:
            heard.setdefault(sound, []).append(brief.shot.name)
    for sound, names in heard.items():
        more = f" and {len(names) - FEW_NAMES} more" if len(names) > FEW_NAMES else ""
        told = f"{sound} is of no known recording: heard in {', '.join(names[:FEW_NAMES])}{more}"
        click.echo(printable(f"trackread: beware: {told}"), err=True)
