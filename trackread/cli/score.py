"""`trackread score`: how far the reading lies from what people marked."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from trackread.workflow.score import Row, Score

# Milliseconds, and percent within so many of them, on the same frame at 24, and within a frame's length of it.
FIGURES = ("n", "bias", "median", "90th", "≤10", "≤20", "≤25", "same", "±1 fr")


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--against", type=click.Path(path_type=Path), help="Score the labels in this folder, not the reading.")
@click.option("--json", "json_path", type=click.Path(path_type=Path), help="Write the figures to this file as well.")
def score(folder: Path, against: Path | None, json_path: Path | None) -> None:
    """Compare readings with boundaries that people marked.

    FOLDER holds recordings, each with a TextGrid of the same name and its words in a .txt file; folders
    in it are sets of their own.
    """
    from trackread.cli.progress import progress_bar
    from trackread.reading.take import Reader
    from trackread.workflow.score import score_labels, score_reading
    from trackread.workflow.writing import write_json

    if against:
        result = score_labels(folder, against)
    else:
        with progress_bar("reading") as progress:
            result = score_reading(folder, Reader(), progress)
    print_score(result)
    if json_path:
        write_json(json_path, dataclasses.asdict(result))


def print_score(result: Score) -> None:
    """The table of a score, its refusals, and what the trees had seen before."""
    from rich.console import Console

    console = Console()
    console.print(table_of(result.rows))
    console.print("bias, median, 90th: ms; the rest: percent, within so many ms or on the frame at 24", style="dim")
    for refusal in result.refused:
        console.print(f"refused: {refusal}", style="bold", markup=False)
    if result.fitted:
        console.print(
            f"The trees in use were fitted on the sets {', '.join(result.fitted)}: figures on these say little.",
            markup=False,
        )


def table_of(rows: tuple[Row, ...]) -> object:
    from rich.table import Table

    table = Table(box=None, header_style="bold", pad_edge=False)
    for heading in ("set", "starts of"):
        table.add_column(heading, no_wrap=True)
    for heading in FIGURES:
        table.add_column(heading, justify="right", no_wrap=True)
    for row in rows:
        f = row.figures
        shares = (*f.within, f.same_frame, f.within_frame)
        spread = (f"{f.bias:+.1f}", f"{f.median:.1f}", f"{f.p90:.1f}")
        table.add_row(row.set_name, row.boundary, str(f.n), *spread, *(f"{100 * share:.1f}" for share in shares))
    return table
