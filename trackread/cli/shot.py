"""`trackread shot`: shots made by hand, and what is told of any shot."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from trackread.cli.production import PLACE, author_option, json_option, print_json, production_option

if TYPE_CHECKING:
    from trackread.workflow.placing import Changed

CAUTION = (
    "A position on a sheet is a plan and moves nothing: no motion-control program is made of it. "
    "Keep clear of moving rigs; the rules of the stage hold."
)


@click.group()
def shot() -> None:
    """List shots; make some by hand; tell what happens in one."""


@shot.command()
@click.argument("code")
@click.option("--length", required=True, metavar="LENGTH", help="Frames (84), 3.5s, timecode, or feet of 35 mm (5+04).")
@production_option
@author_option
def add(*, code: str, length: str, production: Path | None, author: str) -> None:
    """Make a shot without a list; it stands behind all others."""
    from trackread.workflow.placing import add_shot
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        show(add_shot(book, code, length, author=author))


@shot.command()
@click.argument("code")
@click.option("--head", type=int, default=0, metavar="FRAMES", help="Frames cut off its head; below 0, added to it.")
@click.option("--tail", type=int, default=0, metavar="FRAMES", help="Frames cut off its end; below 0, added to it.")
@production_option
@author_option
def trim(*, code: str, head: int, tail: int, production: Path | None, author: str) -> None:
    """Trim a shot that was made by hand; what is placed in it stays with its picture."""
    from trackread.workflow.placing import trim_shot
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        show(trim_shot(book, code, head=head, tail=tail, author=author))


@shot.command()
@click.argument("code")
@production_option
@author_option
def remove(*, code: str, production: Path | None, author: str) -> None:
    """Take a shot that was made by hand out of the cut."""
    from trackread.workflow.placing import remove_shot
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        show(remove_shot(book, code, author=author))


def show(changed: Changed) -> None:
    """The cut that was made, and the shot as it is now."""
    from trackread.cli.columns import printable
    from trackread.workflow.counted import counted

    shot = f": {changed.shot} has {counted(changed.length, 'frame')}" if changed.shot else ""
    click.echo(printable(f"Cut {changed.number}{shot}."))
    for one in changed.remarks:
        click.echo(printable(f"  {one.place}: {one.text}"))


@shot.command()
@click.argument("code")
@click.option("--about", metavar="WORDS", help="What happens in it.")
@click.option("--scene", metavar="SCENE", help="The scene it belongs to.")
@click.option("--present", multiple=True, metavar="NAME", help="Who is in it, speaking or not; once for each.")
@click.option("--nobody", is_flag=True, help="Nobody but who speaks is in it, as far as is told.")
@click.option("--board", type=PLACE, metavar="FILE", help="Its picture: PNG or JPEG.")
@click.option("--action", type=PLACE, metavar="FILE", help="A table with the columns frame, text.")
@click.option("--camera", type=PLACE, metavar="FILE", help="A table with the columns frame, axis, value.")
@click.option("--positions", is_flag=True, help="Print the camera's position on every frame of a move.")
@production_option
@author_option
def tell(
    *,
    code: str,
    about: str | None,
    scene: str | None,
    present: tuple[str, ...],
    nobody: bool,
    board: Path | None,
    action: Path | None,
    camera: Path | None,
    positions: bool,
    production: Path | None,
    author: str,
) -> None:
    """Tell what happens in a shot: its sheet shows it.

    Frames in tables are numbered as on the sheet. What is told again takes the place of what was told before.
    """
    from trackread.workflow.production import open_production
    from trackread.workflow.telling import Telling, tell

    if positions and not camera:
        raise click.UsageError("--positions goes with --camera")
    if nobody and present:
        raise click.UsageError("say either --present or --nobody")
    names = present or (() if nobody else None)
    with open_production(production) as book:
        name = tell(book, code, Telling(scene, about, board, names, action, camera, positions), author)
    click.echo(f"{name}: noted.")
    if positions:
        click.echo(click.wrap_text(CAUTION, 80))


@shot.command()
@click.argument("code")
@click.option("--done", type=int, required=True, metavar="FRAMES", help="How many of its frames are shot.")
@production_option
@author_option
def progress(*, code: str, done: int, production: Path | None, author: str) -> None:
    """Say how many frames of a shot are shot already."""
    from trackread.workflow.counted import counted
    from trackread.workflow.production import open_production
    from trackread.workflow.telling import tell_done

    with open_production(production) as book:
        found, left = tell_done(book, code, done, author)
    click.echo(f"{found.name}: {counted(done, 'frame')} shot, {left} left.")


@shot.command("list")
@click.option("--scene", metavar="SCENE", help="Only the shots of this scene.")
@production_option
@json_option
def list_shots(*, scene: str | None, production: Path | None, as_json: bool) -> None:
    """List the shots of the current cut: lines, issue, unit, and what is shot."""
    from trackread.cli.columns import print_columns
    from trackread.workflow.production import open_production
    from trackread.workflow.shot_list import shot_list

    with open_production(production) as book:
        found = shot_list(book, scene)
    if as_json:
        print_json({"shots": [asdict(one) for one in found]})
        return
    columns = ("shot", "scene", "frames", "lines", "issue", "unit", "shot so far", "to look at")
    rows = (
        (
            one.name,
            one.scene,
            str(one.frames),
            ", ".join(one.lines) or "-",
            str(one.issue or "-"),
            one.unit or "-",
            "-" if one.done is None else str(one.done),
            "; ".join((*one.warnings, *one.remarks)),
        )
        for one in found
    )
    print_columns(columns, rows, right=("frames", "issue", "shot so far"))
