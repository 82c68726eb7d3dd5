"""`trackread score`: how far the reading lies from what people marked."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.engines import OpenReader

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from trackread.workflow.score import Row, Score

FOLDER = click.Path(path_type=Path)


@click.command()
@click.argument("folder", type=FOLDER)
@click.option("--against", metavar="DIR", type=FOLDER, help="Score the labels in this folder, not the reading.")
@click.option("--json", "json_path", metavar="FILE", type=FOLDER, help="Write the figures to this file as well.")
@click.pass_obj
def score(reader: OpenReader, *, folder: Path, against: Path | None, json_path: Path | None) -> None:
    """Compare readings with boundaries that people marked.

    FOLDER holds recordings, each with a TextGrid of the same name and its words in a .txt file; folders
    in it are sets of their own.
    """
    from trackread.cli.progress import progress_bar
    from trackread.workflow.score import score_labels, score_reading
    from trackread.workflow.writing import check_places, write_json

    check_places([json_path] if json_path else [])
    if against:
        result = score_labels(folder, against)
    else:
        with progress_bar("reading") as progress:
            result = score_reading(folder, reader(None), progress)
    print_score(result)
    if json_path:
        write_json(json_path, dataclasses.asdict(result))


def print_score(result: Score) -> None:
    """The table of a score, its refusals, and what the trees had seen before."""
    from trackread.cli.tables import print_table

    print_table(score_table(result))
    click.echo("bias, median, 90th: ms; the rest: percent within so many ms, or on the frame at 24")
    for refusal in result.refused:
        click.echo(f"refused: {refusal}")
    if result.fitted:
        sets = ", ".join(result.fitted)
        click.echo(f"The trees in use were fitted on the sets {sets}: figures on these say little.")


def score_table(result: Score) -> Table:
    """Errors in milliseconds, and percent: within limits, on the same frame, and within a frame's length of it."""
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, header_style="bold", pad_edge=False, padding=(0, 1, 0, 0))
    table.add_column("set", overflow="fold")
    table.add_column("starts of", no_wrap=True)
    limits = (f"≤{limit}" for limit in result.limits_ms)
    for heading in ("n", "bias", "median", "90th", *limits, "same", "±1 fr"):
        table.add_column(heading, justify="right", no_wrap=True)
    for row in result.rows:
        table.add_row(Text(row.set_name), row.boundary, *figures_of(row))
    return table


def figures_of(row: Row) -> Iterator[str]:
    figures = row.figures
    yield str(figures.n)
    yield f"{figures.bias:+.1f}"
    yield f"{figures.median:.1f}"
    yield f"{figures.p90:.1f}"
    for share in (*figures.within, figures.same_frame, figures.within_frame):
        yield f"{100 * share:.1f}"
