"""`trackread doubts`: the places that an ear should check."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import click

FILE = click.Path(path_type=Path)


@click.command()
@click.argument("readings", metavar="READING...", nargs=-1, required=True, type=FILE)
@click.option("--most", metavar="N", type=click.IntRange(1), default=20, show_default=True, help="Show so many places.")
@click.option(
    "--from", "least", metavar="SHARE", type=click.FloatRange(0, 1), default=0.0, help="Only doubts from this."
)
@click.option(
    "--first-frame", metavar="N", type=int, default=1, show_default=True, help="Number of a take's first frame."
)
@click.option("--json", "json_path", metavar="FILE", type=FILE, help="Write them to this file as well.")
def doubts(*, readings: tuple[Path, ...], most: int, least: float, first_frame: int, json_path: Path | None) -> None:
    """List the places to listen to, worst first.

    Each READING is a file that `read --json` or `demo` wrote. A word's doubt is the probability that it starts
    more than a film frame (1/24 s) from where a person would put it.
    """
    from trackread.cli.tables import doubts_table, print_table
    from trackread.workflow.doubts import places_to_check
    from trackread.workflow.writing import check_places, write_json

    check_places([json_path] if json_path else [], kept=readings)
    found = places_to_check(readings, first_frame)
    shown = tuple(place for place in found.places if place.doubt >= least)[:most]
    print_table(doubts_table(shown))
    wrong = sum(place.doubt for place in shown)
    click.echo(
        f"{len(shown)} of {len(found.places)} places, in {found.words} words. Of {found.expected:.1f} that are likely "
        f"wrong in all, {wrong:.1f} are among these."
    )
    if json_path:
        write_json(json_path, {"places": [dataclasses.asdict(place) for place in shown]})
