"""`trackread session`: recordings of voice sessions come in, their takes are found and read."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.session_work import Outcome
    from trackread.workflow.workers import Workers

processes_option = click.option(
    "--processes", type=click.IntRange(1), metavar="N", help="How many processes of this machine listen and read."
)
cluster_option = click.option(
    "--cluster",
    metavar="ADDRESS",
    help="The dask scheduler whose workers do it instead; they must see the same folders.",
)


@click.group()
def session() -> None:
    """Bring in what was recorded."""


@session.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=PLACE)
@click.option("--character", "characters", multiple=True, metavar="NAME", help="Who may speak in it; once for each.")
@click.option("--stand-in", is_flag=True, help="It is a stand-in's voice, until the actor's comes.")
@click.option("--channel", type=click.IntRange(1), metavar="N", help="Which channel of the recording to hear, from 1.")
@click.option("--in-place", is_flag=True, help="Leave the recording where it lies instead of keeping a copy.")
@processes_option
@cluster_option
@author_option
@production_option
def add(
    *,
    files: tuple[Path, ...],
    characters: tuple[str, ...],
    stand_in: bool,
    channel: int | None,
    in_place: bool,
    processes: int | None,
    cluster: str | None,
    author: str,
    production: Path | None,
) -> None:
    """Find the takes in recordings and read them.

    FILE is a recording of a session, of any length. What is done is kept: if this is stopped, the same again goes on.
    """
    from trackread.cli.progress import progress_bar
    from trackread.workflow.production import open_production
    from trackread.workflow.session_work import Arrival, bring_in

    with open_production(production) as book, workers_at(processes, cluster) as workers:
        for file in files:
            arrival = Arrival(file, channel, characters, stand_in, in_place)
            show(bring_in(book, arrival, author, workers, progress_bar))


@session.command()
@processes_option
@cluster_option
@production_option
def read(*, processes: int | None, cluster: str | None, production: Path | None) -> None:
    """Read every take that wants it: newly assigned ones, and those whose words have changed."""
    from trackread.cli.progress import progress_bar
    from trackread.workflow.counted import counted
    from trackread.workflow.production import open_production
    from trackread.workflow.session_work import read_waiting

    with open_production(production) as book, workers_at(processes, cluster) as workers:
        count, failures = read_waiting(book, workers, progress_bar)
    click.echo(f"{counted(count, 'take')} read." if count or failures else "No take wants to be read.")
    for failure in failures:
        click.echo(f"trackread: beware: {failure}", err=True)


@session.command("list")
@json_option
@production_option
def list_sessions(*, as_json: bool, production: Path | None) -> None:
    """Show the sessions, and what was found in each."""
    from trackread.cli.session_table import print_sessions
    from trackread.workflow.production import open_production
    from trackread.workflow.session_status import sessions_of

    with open_production(production) as book:
        found = sessions_of(book)
    if as_json:
        print_json({"sessions": [asdict(one) for one in found]})
    elif found:
        print_sessions(found)
    else:
        click.echo("No session yet: bring one in with `trackread session add FILE`.")


@contextmanager
def workers_at(processes: int | None, cluster: str | None) -> Iterator[Workers]:
    """The workers that are asked for."""
    from trackread.workflow.workers import cluster_workers, local_workers

    if cluster and processes:
        raise click.UsageError("say either --processes or --cluster: a cluster has its own workers")
    chosen: AbstractContextManager[Workers] = cluster_workers(cluster) if cluster else local_workers(processes)
    with chosen as workers:
        yield workers


def show(outcome: Outcome) -> None:
    """What was found, and what a person has to do."""
    from trackread.cli.columns import printable
    from trackread.workflow.session_summary import summary

    for row in summary(outcome):
        click.echo(printable(row))
    for remark in outcome.remarks:
        click.echo(printable(f"trackread: beware: {outcome.session.name}: {remark}"), err=True)
