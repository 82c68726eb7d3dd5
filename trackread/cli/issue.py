"""`trackread issue`: sheets given out to the stages, frozen, numbered and coded."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.choice import choice_of, choice_options
from trackread.cli.production import PLACE, author_option, production_option

if TYPE_CHECKING:
    from trackread.workflow.issuing import Given

FOLDER = Path("issued")


@click.command()
@choice_options
@click.option("--unit", default="", metavar="NAME", help="The unit that shoots it; the one before, if it was issued.")
@click.option("--reason", default="", metavar="WORDS", help="Why it is given out.")
@click.option("--date", "day", type=click.DateTime(["%Y-%m-%d"]), metavar="DAY", help="The day on it, if not today.")
@click.option("--changed-pages", is_flag=True, help="Write only the pages that differ from the issue before.")
@click.option("--to", type=PLACE, default=FOLDER, metavar="FOLDER", show_default=True, help="Where the PDFs go.")
@click.option("--processes", type=click.IntRange(1), metavar="N", help="How many processes print.")
@production_option
@author_option
def issue(
    *,
    shots: tuple[str, ...],
    scene: str | None,
    every: bool,
    unit: str,
    reason: str,
    day: datetime | None,
    changed_pages: bool,
    to: Path,
    processes: int | None,
    production: Path | None,
    author: str,
) -> None:
    """Give sheets out: frozen, numbered and coded.

    The sheet is kept for ever as it is. Where nothing has changed since the issue before, that one is printed again,
    byte for byte.
    """
    from trackread.cli.progress import progress_bar
    from trackread.cli.sheet import tell_troubles, workers_for
    from trackread.workflow.issuing import IssueWish, give_out
    from trackread.workflow.material import gather
    from trackread.workflow.printed_sheets import issue_files
    from trackread.workflow.production import open_production
    from trackread.workflow.shots import chosen_briefs
    from trackread.workflow.writing import make_folder, write_all

    make_folder(to)
    wish = IssueWish(unit, reason, day.date() if day else date.today())
    with open_production(production) as book:
        material = gather(book)
        briefs = chosen_briefs(material, choice_of(shots, scene, every=every))
        names = issue_files([brief.shot for brief in briefs])
        with workers_for(len(briefs), processes) as workers, progress_bar("issuing sheets") as progress:
            for count, one in enumerate(give_out(book, material, briefs, wish, author=author, workers=workers), 1):
                content = one.changed if changed_pages and one.changed else one.pdf
                file = to / names(one.issue)
                write_all({file: content})
                tell_given(one, file)
                progress(count / len(briefs))
    tell_troubles(briefs)


def tell_given(one: Given, file: Path) -> None:
    """A line for each sheet that is given out."""
    from trackread.cli.columns import printable

    issue = one.issue
    again = ", again: nothing has changed since" if one.again else ""
    told = f"{issue.shot}: issue {issue.number} for unit {issue.unit}, {issue.date}, {issue.code}{again}: {file}"
    click.echo(printable(told))
