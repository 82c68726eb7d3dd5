"""`trackread work`: how much work shots are, and how many copies of each puppet are wanted at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.choice import choice_of, choice_options
from trackread.cli.production import json_option, production_option

if TYPE_CHECKING:
    from trackread.core.work import Tally
    from trackread.workflow.shot_work import Work

COLUMNS = ("shots", "frames", "words", "beats", "days")
CAUTION = "Plans of hours defer to your local rules on working time, and to those who know them."


@click.command()
@choice_options
@click.option("--units", type=click.IntRange(1), metavar="N", help="Units that shoot at once, if not the production's.")
@click.option("--left", is_flag=True, help="Only what is not shot yet.")
@click.option("--by-shot", is_flag=True, help="List every shot too.")
@production_option
@json_option
def work(
    *,
    shots: tuple[str, ...],
    scene: str | None,
    every: bool,
    units: int | None,
    left: bool,
    by_shot: bool,
    production: Path | None,
    as_json: bool,
) -> None:
    """Sum up the work by scene, character and unit.

    All shots are meant unless some are named. A day is seconds_a_day of production.toml for a shot with one character;
    each further character in it takes each_further_character of that time more.
    """
    from trackread.cli.production import print_json
    from trackread.workflow.production import open_production
    from trackread.workflow.shot_work import WorkWish, plain_work, work_of

    choice = choice_of(shots, scene, every=every or not (shots or scene))
    with open_production(production) as book:
        found = work_of(book, WorkWish(choice, units or book.production.units, left))
    if as_json:
        print_json(plain_work(found))
        return
    print_work(found, by_shot=by_shot)


def print_work(found: Work, *, by_shot: bool) -> None:
    """The sums, the copies that are wanted, and the caution."""
    from trackread.cli.columns import print_columns
    from trackread.workflow.counted import counted
    from trackread.workflow.shot_work import days_told

    if by_shot:
        columns = ("shot", "scene", "unit", "frames", "words", "beats", "characters", "days")
        rows = (
            (
                one.name,
                one.scene,
                one.unit or "-",
                *map(str, (one.frames, one.words, one.beats)),
                ", ".join(one.characters) or "-",
                days_told(one.days),
            )
            for one in found.shots
        )
        print_columns(columns, rows, right=("frames", "words", "beats", "days"))
        click.echo()
    for name, tallies in (("scene", found.scenes), ("character", found.characters), ("unit", found.by_unit)):
        print_tallies(name, tallies)
    shots, frames = counted(len(found.shots), "shot"), counted(found.frames, "frame")
    click.echo(f"Together: {shots}, {frames}, {days_told(found.days)} animator-days.")
    units = counted(found.units, "unit")
    click.echo(f"\nOn {units} at once: {days_told(found.together)} days. Copies of puppets wanted at once:")
    print_columns(
        ("character", "copies"), ((name, str(count)) for name, count in found.copies.items()), right=("copies",)
    )
    click.echo(f"\n{CAUTION}")


def print_tallies(name: str, tallies: Sequence[Tally]) -> None:
    from trackread.cli.columns import print_columns
    from trackread.workflow.shot_work import days_told

    rows = (
        (one.name or "-", str(one.shots), str(one.frames), str(one.words), str(one.beats), days_told(one.days))
        for one in tallies
    )
    print_columns((name, *COLUMNS), rows, right=COLUMNS)
    click.echo()
